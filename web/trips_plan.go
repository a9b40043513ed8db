package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/storage"
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

func (s *Server) tripsNew(c *fiber.Ctx) error {
	p := s.tripsForm(c)
	p.F = storage.TypedHaul{PieceLength: (16 * measure.Inch).String(), Loaded: "ranked"}
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
		f := s.faultOf(c, err)
		p.page.again(c)
		p.set(f)
		c.Status(f.status)
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
