package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders"
)

// A moisturePage shows what readings of an order's wood came to, and takes more.
type moisturePage struct {
	page
	R     orders.MoistureRequest
	Order orders.Order
	Sets  []orders.Moisture // oldest first
}

func (s *Server) moistureForm(c *fiber.Ctx, h orders.History) moisturePage {
	p := s.page(c, measure.Say("Moisture of order %d", int(h.Order.Number)), "/")
	return moisturePage{page: p, R: orders.MoistureRequest{On: s.today(p.Shop.Zone)}, Order: h.Order, Sets: h.Moistures}
}

func (s *Server) moistureNew(c *fiber.Ctx) error {
	history, err := s.history(c)
	if err != nil {
		return err
	}
	if wantsJSON(c) {
		return c.JSON(history.Moistures)
	}
	return s.render(c, "moisture_form", s.moistureForm(c, history))
}

func (s *Server) moistureCreate(c *fiber.Ctx) error {
	id, err := orderID(c)
	if err != nil {
		return err
	}
	r, m, err := s.addMoisture(c, id)
	if err == nil {
		return made(c, fiber.StatusCreated, "/orders/"+id+"/moisture", m)
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	history, broken := s.service.History(c.UserContext(), s.actor(c), id)
	if broken != nil {
		return broken
	}
	p := s.moistureForm(c, history)
	p.R = r
	s.refuse(c, &p.page, err)
	return s.render(c, "moisture_form", p)
}

func (s *Server) addMoisture(c *fiber.Ctx, id string) (orders.MoistureRequest, orders.Moisture, error) {
	r, err := decode[orders.MoistureRequest](c)
	if err != nil {
		return r, orders.Moisture{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return r, orders.Moisture{}, err
	}
	m, err := s.service.AddMoisture(c.UserContext(), act, id, r)
	return r, m, err
}

// Latest is the last set, which receipts print; nil without one.
func (p moisturePage) Latest() *orders.Moisture {
	if len(p.Sets) == 0 {
		return nil
	}
	return &p.Sets[len(p.Sets)-1]
}

// Earlier are the sets before it.
func (p moisturePage) Earlier() []orders.Moisture {
	return p.Sets[:max(len(p.Sets)-1, 0)]
}

// Bases, Methods and Faces are to choose from; none is chosen beforehand.
func (p moisturePage) Bases() []choice { return p.bases(p.R.Basis) }

// Methods are the ways of reading.
func (p moisturePage) Methods() []choice {
	var list []choice
	for _, m := range wood.Methods() {
		list = append(list, choice{string(m), p.Upper(p.Print.Method(m)), p.R.Method == string(m)})
	}
	return list
}

// Faces tell where the pieces were read.
func (p moisturePage) Faces() []choice {
	return []choice{
		{"yes", p.T("On freshly split faces, in the middle"), p.R.FreshFace == "yes"},
		{"no", p.T("On the outside or on ends"), p.R.FreshFace == "no"},
	}
}

// How says how a set was read.
func (p moisturePage) How(m orders.Moisture) string {
	r := m.Readings[0]
	face := p.T("not on freshly split faces")
	if r.FreshFace {
		face = p.T("on freshly split faces")
	}
	if r.Method == wood.OvenDrying {
		return p.T("%s, %s basis", p.Print.Method(r.Method), string(r.Moisture.Basis()))
	}
	if r.Temperature == nil {
		return p.T("%s, %s, %s basis", p.Print.Method(r.Method), face, string(r.Moisture.Basis()))
	}
	return p.T("%s, %s, %s basis, wood at %s", p.Print.Method(r.Method), face, string(r.Moisture.Basis()), p.Print.Temperature(*r.Temperature))
}

// OpenTo tells whether readings may be added.
func (p moisturePage) OpenTo() bool { return p.Order.State != orders.Cancelled }
