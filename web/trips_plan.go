package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/web/form"
)

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
	p.F, _ = form.Read[storage.TypedHaul](query(c)) // each of its fields is a text
	if p.F.PieceLength == "" {
		p.F.PieceLength = (16 * measure.Inch).String()
	}
	return s.render(c, "trips", p)
}

func (s *Server) tripsTry(c *fiber.Ctx) (err error) {
	p := s.tripsForm(c)
	p.Answer, err = ask(c, &p.F, func(t storage.TypedHaul) (storage.Trips, error) {
		h, err := t.Read(s.typedUnits(p.Shop, p.Set))
		if err != nil {
			return storage.Trips{}, err
		}
		return h.Plan()
	})
	return s.answered(c, "trips", &p.page, &p, func() any { return p.Print.TripsData(*p.Answer) }, err)
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

// TripsPath leads from what is to be delivered to how often the truck goes.
func (p loadFormPage) TripsPath() string {
	return p.planning("/trips", p.Due, p.Order.PieceLength, p.Order.Species)
}
