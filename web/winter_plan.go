package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/storage"
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

func (s *Server) winterNew(c *fiber.Ctx) error {
	p := s.winterForm(c)
	p.F.Climate = string(storage.Moderate)
	return s.render(c, "winter", p)
}

func (s *Server) winterTry(c *fiber.Ctx) error {
	typed, err := decode[storage.TypedWinter](c)
	p := s.winterForm(c)
	p.F = typed
	var n storage.Need
	if err == nil {
		var w storage.Winter
		if w, err = typed.Read(typedUnits(p.Shop.Units)); err == nil {
			n, err = w.Plan()
		}
	}
	switch {
	case err != nil && (wantsJSON(c) || !mendable(err)):
		return err
	case err != nil:
		s.refuse(c, &p.page, err)
		return s.render(c, "winter", p)
	case wantsJSON(c):
		return c.JSON(p.Print.NeedData(n))
	}
	p.Answer = &n
	return s.render(c, "winter", p)
}

// Fuels are the ways to say how much heat a house takes.
func (p winterPage) Fuels() []choice {
	var list []choice
	for _, f := range storage.Fuels() {
		list = append(list, choice{string(f), p.Upper(p.Print.Say(f.Name())), string(f) == p.F.Fuel})
	}
	return list
}

// Climates are how cold winters are.
func (p winterPage) Climates() []choice {
	var list []choice
	for _, c := range storage.Climates() {
		list = append(list, choice{string(c), p.Upper(p.Print.Say(c.Name())), string(c) == p.F.Climate})
	}
	return list
}

// Appliances are what burns the wood.
func (p winterPage) Appliances() []choice {
	var list []choice
	for _, a := range storage.Appliances() {
		list = append(list, choice{string(a), p.Upper(p.Print.Say(a.Name())), string(a) == p.F.Appliance})
	}
	return list
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
