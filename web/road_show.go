package web

import (
	"context"
	"maps"
	"slices"
	"strconv"
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/strict"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/road"
)

// A roadPage is what goes out on a day.
type roadPage struct {
	page
	road.Day
	Asked string // the day as it was asked for, where that wasn't understood
	R     road.ArrangeRequest
}

// roadDay is the day that the address names.
func roadDay(c *fiber.Ctx) (act.Date, error) {
	on, err := act.ParseDate(c.Params("day"))
	if err != nil {
		return act.Date{}, &act.Error{Kind: act.NotFound}
	}
	return on, nil
}

func (s *Server) roadPage(c *fiber.Ctx, on act.Date) (p roadPage, err error) {
	p.page = s.page(c, measure.Say("The road"), "/")
	p.Sheet = s.assets.path("board.css")
	p.names = map[string]string{"day": p.T("Day"), "vehicles": p.T("Vehicles that go"), "along": p.T("Orders"), "confirmed": p.T("Is this as you mean it?")}
	if p.Day, err = s.road.Day(c.UserContext(), s.actor(c), on); err != nil {
		return p, err
	}
	p.R.Version = p.Version
	for _, v := range p.Vehicles {
		p.R.Vehicles = append(p.R.Vehicles, v.ID)
	}
	return p, nil
}

// roadShow shows the day that is asked for, as people say it.
func (s *Server) roadShow(c *fiber.Ctx) error {
	today, err := s.road.Today(c.UserContext())
	if err != nil {
		return err
	}
	on, unread := road.ReadDay(strings.TrimSpace(c.Query("day")), today)
	if unread != nil {
		if on = today; wantsJSON(c) || !mendable(unread) {
			return unread
		}
	}
	p, err := s.roadPage(c, on)
	switch {
	case err != nil:
		return err
	case unread != nil:
		s.refuse(c, &p.page, unread)
		p.Asked = c.Query("day")
	case wantsJSON(c):
		return c.JSON(p.Day)
	}
	return s.render(c, "road_show", p)
}

// roadPrint sends the run sheets of a day.
func (s *Server) roadPrint(c *fiber.Ctx) error {
	on, err := roadDay(c)
	if err != nil {
		return err
	}
	day, err := s.road.Day(c.UserContext(), s.actor(c), on)
	if err != nil {
		return err
	}
	pdf, err := s.blank.RunSheets(day, s.page(c, measure.Say("The road"), "/").Shop)
	if err != nil {
		return err
	}
	return sendPDF(c, "run-sheets-"+on.String()+".pdf", pdf)
}

// doRoad reads what was sent about a day, a form by its own reader, and does it.
func doRoad[R any](s *Server, c *fiber.Ctx, on act.Date, read func(*fiber.Ctx) (R, error), do func(context.Context, act.Act, act.Date, R) (road.Day, error)) (r R, d road.Day, err error) {
	if sentJSON(c) {
		err = strict.Decode(c.Request().Body(), &r)
	} else {
		r, err = read(c)
	}
	if err != nil {
		return r, d, err
	}
	by, err := s.act(c)
	if err == nil {
		d, err = do(c.UserContext(), by, on, r)
	}
	return r, d, err
}

// roadFields are the fields of a form by name; each must be of the names or of an element of one of the
// lists ("vehicles[0]", "stops[1].trip").
func roadFields(c *fiber.Ctx, names ...string) (fields map[string]string, err error) {
	fields = map[string]string{}
	faults := unknown(c, func(name string) bool {
		list, _, _ := strings.Cut(name, "[")
		return slices.Contains(names, list)
	})
	sentFields(c)(func(name, value string) { fields[name] = value })
	return fields, refused(slices.Concat(unreadable(c), faults))
}

// whole reads a number that the page wrote; what isn't one is 0, which nothing is.
func whole(text string) int64 {
	n, _ := strconv.ParseInt(text, 10, 64)
	return n
}

// arranged reads the form that a day is arranged by.
func arranged(c *fiber.Ctx) (road.ArrangeRequest, error) {
	fields, err := roadFields(c, "vehicles", "along", "version")
	r := road.ArrangeRequest{Version: whole(fields["version"])}
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		if strings.HasPrefix(name, "vehicles[") {
			r.Vehicles = append(r.Vehicles, fields[name])
		} else if strings.HasPrefix(name, "along[") {
			r.Along = append(r.Along, fields[name])
		}
	}
	return r, err
}

// roadArrange puts the orders of a day onto vehicles.
func (s *Server) roadArrange(c *fiber.Ctx) error {
	on, err := roadDay(c)
	if err != nil {
		return err
	}
	r, day, err := doRoad(s, c, on, arranged, s.road.Arrange)
	if err == nil {
		return made(c, fiber.StatusOK, roadPath(on), day)
	}
	return showAgain(s, c, "road_show", err, func(c *fiber.Ctx) (roadPage, error) { return s.roadPage(c, on) }, func(p *roadPage) {
		r.Version = p.Version // sent again, it is meant
		p.R = r
	})
}

// roadPath is the page of a day.
func roadPath(on act.Date) string { return "/road?day=" + on.String() }

// Earlier is the day before.
func (p roadPage) Earlier() act.Date { return p.On.AddDays(-1) }

// Later is the next day.
func (p roadPage) Later() act.Date { return p.On.AddDays(1) }

// Goes tells whether a vehicle is picked.
func (p roadPage) Goes(id string) bool { return slices.Contains(p.R.Vehicles, id) }

// Comes tells whether an order is picked to go along.
func (p roadPage) Comes(id string) bool { return slices.Contains(p.R.Along, id) }

// Much is how much wood comes off at a stop, in the few words that a margin has room for.
func (p roadPage) Much(q measure.Quantity) string {
	const room = 16
	if said := p.Brief(q); len(said) <= room {
		return said
	}
	return p.Print.Quantity(q)
}

// DropName is who gets the wood and where, in a line.
func (p page) DropName(o orders.Order) string {
	if street := p.Street(o.Customer.Address); street != "" {
		return o.Customer.Name + ", " + street
	}
	return o.Customer.Name
}
