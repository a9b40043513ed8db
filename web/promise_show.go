package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/promise"
	"wellstowed/web/api"
	"wellstowed/web/form"
)

// A promisePage tells whether wood can be promised, and what there is by month.
type promisePage struct {
	page
	promise.Yard
	R      orders.PromiseRequest
	Answer *promise.Answer // nil where nothing was asked
}

func (s *Server) promisePage(c *fiber.Ctx) (p promisePage, err error) {
	p.page = s.page(c, measure.Say("What can be promised"), "/")
	p.names = map[string]string{"quantity": p.T("How much of what"), "day": p.T("By when")}
	p.Yard, err = s.service.Promises(c.UserContext(), s.actor(c))
	return p, err
}

func (s *Server) promiseShow(c *fiber.Ctx) error {
	p, err := s.promisePage(c)
	if err != nil {
		return err
	}
	p.R, _ = form.Read[orders.PromiseRequest](query(c)) // all of its fields are texts
	if p.R != (orders.PromiseRequest{}) {
		a, err := s.service.CanPromise(c.UserContext(), s.actor(c), p.R)
		if err != nil {
			return showAgain(s, c, "promise_show", err, s.promisePage, func(again *promisePage) { again.R = p.R })
		}
		p.Answer = &a
	}
	if wantsJSON(c) {
		if p.Answer != nil {
			return c.JSON(p.Answer)
		}
		return c.JSON(api.Promises{Today: p.Today, Batches: p.Woods, Promised: p.Claims, Months: p.months()})
	}
	return s.render(c, "promise_show", p)
}

// promiseMonths is how many months are looked at.
const promiseMonths = 12

func (p promisePage) months() []promise.Month { return p.Yard.Months(promiseMonths, p.Basis()) }

// Months are those that are shown.
func (p promisePage) Months() []promise.Month { return p.months() }

// Basis is the measure that most of the wood is kept on.
func (p promisePage) Basis() measure.Basis {
	sums := map[measure.Basis]measure.Volume{}
	best := measure.Ranked
	for _, w := range p.Woods {
		sums[w.Left.Basis] += w.Left.Volume
		if sums[w.Left.Basis] > sums[best] {
			best = w.Left.Basis
		}
	}
	return best
}

// Much says a volume on the measure of the page.
func (p promisePage) Much(v measure.Volume) string {
	return p.Print.Quantity(measure.Quantity{Volume: v, Basis: p.Basis()})
}

// Chart draws the months.
func (p promisePage) Chart(months []promise.Month) draw.Drawing {
	bars := make([]draw.StockBar, len(months))
	for i, m := range months {
		bars[i] = draw.StockBar{Name: measure.Say(monthNames[m.Month-1]), Promised: m.Promised, Dry: m.Dry, Green: m.Green}
	}
	unit, name := p.chartUnit(p.Basis())
	return draw.Stock(bars, unit, name, pictureWidth)
}

// chartUnit is what wood of a basis is drawn in.
func (p page) chartUnit(basis measure.Basis) (measure.Volume, measure.Text) {
	switch {
	case p.Print.InCords() && basis == measure.Ranked:
		return measure.Cord, measure.Say("cords")
	case p.Shop.Units == act.Imperial:
		return measure.CubicFoot, measure.Say("cubic feet")
	}
	return measure.CubicMetre, measure.Say("cubic metres")
}

// Late tells whether what is promised was due before today.
func (p promisePage) Late(c promise.Claim) bool { return !c.By.IsZero() && p.Today.After(c.By) }
