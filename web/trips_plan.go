package web

import (
	"net/url"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/web/form"
)

// planning leads to a planning page with wood filled in.
func (p page) planning(path string, q measure.Quantity, piece measure.Length, species string) string {
	v := url.Values{"quantity": {p.Spell(q)}}
	if piece > 0 {
		v.Set("piece_length", piece.String())
	}
	if _, err := wood.ParseMix(species); err == nil {
		v.Set("species", species)
	}
	return path + "?" + v.Encode()
}

// A tripsPage asks for wood and a vehicle, and says how often it goes.
type tripsPage struct {
	page
	F      storage.TypedHaul
	Answer *storage.Trips // nil where nothing was asked yet
}

func (s *Server) tripsForm(c *fiber.Ctx) tripsPage {
	return tripsPage{page: s.page(c, measure.Say("How many trips"), "/storage")}
}

// tripsNew shows the form, filled in from the address where it says something.
func (s *Server) tripsNew(c *fiber.Ctx) error {
	p := s.tripsForm(c)
	p.F, _ = form.Read[storage.TypedHaul](query(c)) // it has no field that is no text
	if p.F.PieceLength == "" {
		p.F.PieceLength = (16 * measure.Inch).String()
	}
	return s.render(c, "trips", p)
}

func (s *Server) tripsTry(c *fiber.Ctx) error {
	typed, err := decode[storage.TypedHaul](c)
	p := s.tripsForm(c)
	p.F = typed
	var t storage.Trips
	if err == nil {
		var h storage.Haul
		if h, err = typed.Read(typedUnits(p.Shop.Units)); err == nil {
			t, err = h.Plan()
		}
	}
	switch {
	case err != nil && (wantsJSON(c) || !mendable(err)):
		return err
	case err != nil:
		s.refuse(c, &p.page, err)
		return s.render(c, "trips", p)
	case wantsJSON(c):
		return c.JSON(p.Print.TripsData(t))
	}
	p.Answer = &t
	return s.render(c, "trips", p)
}

// Woods are the kinds of wood to choose from.
func (p tripsPage) Woods() []choice { return p.woods(p.F.Wood) }

// Ways are how wood is loaded.
func (p tripsPage) Ways() []choice {
	return []choice{
		{"ranked", p.T("Ranked in the bed"), p.F.Loaded != "thrown"},
		{"thrown", p.T("Thrown in, level with the sides"), p.F.Loaded == "thrown"},
	}
}

// TripsPath leads from what is to be handed over to how often the truck goes.
func (p loadFormPage) TripsPath() string {
	return p.planning("/trips", p.Due, p.Order.PieceLength, p.Order.Species)
}
