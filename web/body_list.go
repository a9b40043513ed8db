package web

import (
	"fmt"
	"strconv"

	"github.com/gofiber/fiber/v2"
	"github.com/google/uuid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
	"wellstowed/web/api"
)

// A bodyListPage shows the bodies that were taped, and takes another.
type bodyListPage struct {
	page
	R      yard.BodyRequest
	Bodies []yard.Body
}

func (s *Server) bodyForm(c *fiber.Ctx) (bodyListPage, error) {
	p := bodyListPage{page: s.page(c, measure.Say("Truck and trailer beds"), "/shop")}
	p.names = map[string]string{"name": p.T("Truck or trailer"), "width": p.T("Width inside"), "height": p.T("Floor to the line"), "on": p.T("Taped on")}
	p.R = yard.BodyRequest{On: s.today(p.Shop.Zone)}
	var err error
	p.Bodies, err = s.service.Bodies(c.UserContext(), s.actor(c))
	return p, err
}

func (s *Server) bodyList(c *fiber.Ctx) error {
	p, err := s.bodyForm(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(p.Bodies)
	}
	return s.render(c, "body_list", p)
}

func (s *Server) bodyCreate(c *fiber.Ctx) error {
	r, body, err := doWith(s, c, s.service.AddBody)
	if err == nil {
		return made(c, fiber.StatusCreated, "/bodies", body)
	}
	return showAgain(s, c, "body_list", err, s.bodyForm, func(p *bodyListPage) { p.R = r })
}

// bodyRetire takes a body out of use.
func (s *Server) bodyRetire(c *fiber.Ctx) error {
	id, err := uuid.Parse(c.Params("id"))
	if err != nil {
		return &act.Error{Kind: act.NotFound}
	}
	act, err := s.act(c)
	if err != nil {
		return err
	}
	if err := s.service.RetireBody(c.UserContext(), act, id.String()); err != nil {
		return err
	}
	return made(c, fiber.StatusOK, "/bodies", api.Retired{Retired: id.String()})
}

// Arrangements tell how the wood lies in a body; none is chosen beforehand.
func (p bodyListPage) Arrangements() []choice {
	return []choice{
		{"thrown", p.T("Thrown in"), p.R.Arrangement == "thrown"},
		{"ranked", p.T("Ranked, as in a stack"), p.R.Arrangement == "ranked"},
	}
}

// fitting are the bodies that hold wood as it was ordered, each with what it holds of
// pieces of the order's length.
func fitting(bodies []yard.Body, o orders.Order) []yard.Body {
	var fit []yard.Body
	for _, b := range bodies {
		holds, err := b.Holding(o.PieceLength)
		if err == nil && holds.Basis == o.Quantity.Basis {
			b.Quantity = holds
			fit = append(fit, b)
		}
	}
	return fit
}

// fillBody offers the bodies that were taped on the page of a load, and puts in the
// readings of the one that the address names.
func (s *Server) fillBody(c *fiber.Ctx, p *measurePage) error {
	if p.Kind != "load" {
		return nil
	}
	var err error
	p.Bodies, err = s.service.Bodies(c.UserContext(), s.actor(c))
	for _, b := range p.Bodies {
		if b.ID == c.Query("body") {
			p.K.Fill(bodyReadings(b))
			p.Fresh = false
		}
	}
	return err
}

// bodyReadings are the fields of a load that is filled to the line of a body.
func bodyReadings(b yard.Body) map[string]string {
	const box = "stack.calibrated.box."
	c := b.Stack.Calibrated
	readings := map[string]string{
		"way.fill": "line of a taped box", "stack.arrangement": string(b.Stack.Arrangement),
		"stack.calibrated.on": string(c.On), "stack.calibrated.by": string(c.By), "stack.calibrated.line": string(c.Line),
		box + "length": string(c.Box.Length), box + "width": string(c.Box.Width), box + "heights[0]": string(c.Box.Heights[0]),
	}
	for i, w := range c.Box.Wells {
		at := fmt.Sprintf("%swells[%d].", box, i)
		readings[at+"length"], readings[at+"width"], readings[at+"height"] = string(w.Length), string(w.Width), string(w.Height)
		readings[at+"count"] = strconv.Itoa(w.Count)
	}
	return readings
}

// BodyPath is the page with the readings of a body put in.
func (p measurePage) BodyPath(b yard.Body) string { return p.Action + "&body=" + b.ID }
