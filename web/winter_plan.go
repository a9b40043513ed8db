package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/storage"
	"wellstowed/web/form"
)

// A winterPage asks what kept a house warm, and says how much wood that is.
type winterPage struct {
	page
	F      storage.TypedWinter
	Answer *storage.Need // nil where nothing was asked yet
}

func (s *Server) winterForm(c *fiber.Ctx) winterPage {
	return winterPage{page: s.page(c, measure.Say("How much wood a winter takes"), "/storage")}
}

// winterNew shows the form, filled in from the address where it says something.
func (s *Server) winterNew(c *fiber.Ctx) error {
	p := s.winterForm(c)
	p.F, _ = form.Read[storage.TypedWinter](query(c)) // each of its fields is a text
	if p.F.Climate == "" {
		p.F.Climate = string(storage.Moderate)
	}
	return s.render(c, "winter", p)
}

func (s *Server) winterTry(c *fiber.Ctx) (err error) {
	p := s.winterForm(c)
	p.Answer, err = ask(c, &p.F, func(t storage.TypedWinter) (storage.Need, error) {
		w, err := t.Read(s.typedUnits(p.Shop, p.Set))
		if err != nil {
			return storage.Need{}, err
		}
		return w.Plan()
	})
	return s.answered(c, "winter", &p.page, &p, func() any { return p.Print.NeedData(*p.Answer) }, err)
}

// Fuels are the ways to say how much heat a house takes.
func (p winterPage) Fuels() []choice { return named(p.page, storage.Fuels(), p.F.Fuel) }

// Climates are how cold winters are.
func (p winterPage) Climates() []choice { return named(p.page, storage.Climates(), p.F.Climate) }

// Appliances are what burns the wood.
func (p winterPage) Appliances() []choice {
	return named(p.page, storage.Appliances(), p.F.Appliance)
}

// DryingPicture is how the wood dries, the zero Drawing where there is nothing to dry.
func (p winterPage) DryingPicture() draw.Drawing {
	return draw.Drying(p.Answer.Burns.Forecast, pictureWidth)
}

// Woods are the kinds of wood to choose from.
func (p winterPage) Woods() []choice { return p.woods(p.F.Wood) }

// Heat is the heat that the house takes, empty where it is not reckoned with.
func (p winterPage) Heat() string {
	if p.Answer.Heat.High == 0 {
		return ""
	}
	return p.Print.Heats(p.Answer.Heat)
}

// StoragePath leads to where the most it may be can stand, in whole quarters of a cord.
func (p winterPage) StoragePath() string {
	const quarter = measure.Cord / 4
	most := min((p.Answer.Wood.High+quarter-1)/quarter*quarter, measure.MaxQuantity)
	return p.planning("/storage", measure.Quantity{Volume: most, Basis: measure.Ranked}, 0, p.F.Species)
}
