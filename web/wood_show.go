package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/web/form"
)

// A woodPage asks for a load and shows what it weighs and the heat in it.
type woodPage struct {
	page
	R       wood.Ask
	Answer  *wood.Estimate // nil where nothing was asked yet
	Air     wood.AskAir
	InAir   *wood.Moisture // what wood comes to in that air, nil where it was not asked
	Species []wood.Species // all that can be named
}

// woodShow answers what the address asks; nothing is saved.
func (s *Server) woodShow(c *fiber.Ctx) error {
	all, err := wood.All()
	if err != nil {
		return err
	}
	p := woodPage{page: s.page(c, measure.Say("What wood weighs"), "/storage"), Species: all}
	p.R, _ = form.Read[wood.Ask](query(c)) // each of its fields is a text
	p.Air, _ = form.Read[wood.AskAir](query(c))
	asked := p.R != wood.Ask{}
	if (p.Air != wood.AskAir{}) {
		return s.woodInAir(c, p)
	}
	if wantsJSON(c) {
		return s.woodJSON(c, p, asked)
	}
	if !asked {
		p.R = p.example()
		return s.render(c, "wood_show", p)
	}
	e, err := p.R.EstimateUnder(p.Set.ParseQuantity)
	if err != nil {
		s.refuse(c, &p.page, err)
		return s.render(c, "wood_show", p)
	}
	p.Answer = &e
	return s.render(c, "wood_show", p)
}

// example is what the form is filled in with before anything is asked.
func (p woodPage) example() wood.Ask {
	return wood.Ask{Quantity: p.Spell(measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}), Moisture: "20", Basis: string(wood.Dry)}
}

// woodInAir says what wood comes to in air of a temperature and a humidity.
func (s *Server) woodInAir(c *fiber.Ctx, p woodPage) error {
	scale := wood.FahrenheitScale
	if p.Shop.Units == act.Metric {
		scale = wood.CelsiusScale
	}
	m, err := p.Air.Equilibrium(scale)
	p.R = p.example()
	if err == nil {
		p.InAir = &m
	}
	return s.answered(c, "wood_show", &p.page, &p, func() any { return p.Print.AirAnswer(m) }, err)
}

// woodJSON gives a program the answer, or where it asks nothing the table.
func (s *Server) woodJSON(c *fiber.Ctx, p woodPage, asked bool) error {
	if !asked {
		return c.JSON(fiber.Map{"species": p.Species, "sources": wood.Sources()})
	}
	e, err := p.R.EstimateUnder(p.Set.ParseQuantity)
	if err != nil {
		return err
	}
	return c.JSON(p.Print.WoodAnswer(e))
}

// DryingPicture is how the wood dries, the zero Drawing where there is nothing to
// dry.
func (p woodPage) DryingPicture() draw.Drawing {
	if p.Answer.Drying == nil {
		return draw.Drawing{}
	}
	return draw.Drying(*p.Answer.Drying, pictureWidth)
}

// bases are what moisture may be measured against.
func (p page) bases(now string) []choice {
	return []choice{
		{string(wood.Dry), p.T("Dry basis, as pin meters read"), now == string(wood.Dry)},
		{string(wood.Wet), p.T("Wet basis, as fuel is sold"), now == string(wood.Wet)},
	}
}

// Bases are what moisture is measured against.
func (p woodPage) Bases() []choice { return p.bases(p.R.Basis) }

// Weight is the first thing asked.
func (p woodPage) Weight() string { return p.Print.MassRange(p.Answer.Weight) }

// Heat is the heat in it before the water has left.
func (p woodPage) Heat() string { return p.Print.HeatRange(p.Answer.Gross) }

// A woodRow is a species in the table of all.
type woodRow struct{ Name, Also, Green, Dry, Heat string }

// Table gives every species: weight green and at 20 % moisture, and the heat in 128 ft³
// of it, stacked.
func (p woodPage) Table() ([]woodRow, error) {
	stacked := measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}
	var rows []woodRow
	for _, s := range p.Species {
		dry, err := wood.Weigh(wood.Mix{{Species: s, Share: 1}}, stacked, wood.DefaultLimit())
		if err != nil {
			return nil, err
		}
		rows = append(rows, woodRow{s.Name, strings.Join(s.Aliases, ", "), p.Print.DensityFigure(s.Density(s.Green)), p.Print.DensityFigure(dry.Density), p.Print.HeatFigures(dry.Gross)})
	}
	return rows, nil
}

// WeightUnit and HeatUnit are those of the table.
func (p woodPage) WeightUnit() string {
	if p.Shop.Units == act.Metric {
		return "kg/m³"
	}
	return "lb/ft³"
}

// HeatUnit is of 128 ft³ stacked.
func (p woodPage) HeatUnit() string {
	if p.Shop.Units == act.Metric {
		return p.T("GJ in 3.62 m³ stacked")
	}
	return p.T("million Btu in 128 ft³ stacked")
}

// AirHint says what a bare number of degrees is.
func (p woodPage) AirHint() string {
	if p.Shop.Units == act.Metric {
		return p.T("In °C, or 70 F.")
	}
	return p.T("In °F, or 21 C.")
}
