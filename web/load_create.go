package web

import (
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/web/form"
)

type loadFormPage struct {
	page
	question
	R     orders.LoadRequest
	Order orders.Order
	Due   measure.Quantity
	// Bodies are those that hold wood as it was ordered.
	Bodies []orders.Body
	// InStock are the batches that wood as it was ordered can be drawn from.
	InStock []orders.Batch
	// Read is what was last read of the order's own wood, nil when nothing was.
	Read *orders.Moisture
	// Spelled asks for a name and address that the receipt's font can print.
	Spelled bool
	// NoFirm tells that the shop's name or address is missing.
	NoFirm bool
}

func (s *Server) loadForm(c *fiber.Ctx, h orders.History) (loadFormPage, error) {
	p := s.page(c, measure.Say("Hand over order %d", int(h.Order.Number)), "/")
	p.Edit = "/orders/" + h.Order.ID + "/edit"
	left := due(h)
	bodies, err := s.service.Bodies(c.UserContext(), s.actor(c))
	if err != nil {
		return loadFormPage{}, err
	}
	batches, err := s.service.Batches(c.UserContext(), s.actor(c))
	return loadFormPage{
		page: p, R: form.Load(h.Order, p.Spell(left), s.today(p.Shop.Zone)), Order: h.Order, Due: left,
		Spelled: h.Order.Customer.PrintName != "" || h.Order.Customer.PrintAddress != "",
		NoFirm:  p.Shop.Name == "" || p.Shop.Address == "",
		Bodies:  fitting(bodies, h.Order),
		InStock: drawable(batches, h.Order),
		Read:    h.LatestMoisture(),
	}, err
}

// today is the day in the shop's zone, as a date field takes it.
func (s *Server) today(zone string) string {
	where, err := time.LoadLocation(zone)
	if err != nil {
		where = time.UTC
	}
	return s.clock().In(where).Format(time.DateOnly)
}

func (s *Server) loadNew(c *fiber.Ctx) error {
	history, err := s.history(c)
	if err != nil {
		return err
	}
	p, err := s.loadForm(c, history)
	if err != nil {
		return err
	}
	return s.render(c, "load_form", p)
}

func (s *Server) loadCreate(c *fiber.Ctx) error {
	id, err := orderID(c)
	if err != nil {
		return err
	}
	r, issued, err := s.deliver(c, id)
	if err == nil {
		return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	history, broken := s.service.History(c.UserContext(), s.actor(c), id)
	if broken != nil {
		return broken
	}
	p, broken := s.loadForm(c, history)
	if broken != nil {
		return broken
	}
	p.R = r
	p.question, err = asked(p.Print, err)
	s.refuse(c, &p.page, err)
	p.Spelled = p.Spelled || p.At("print_name") != "" || p.At("print_address") != ""
	return s.render(c, "load_form", p)
}

func (s *Server) deliver(c *fiber.Ctx, id string) (orders.LoadRequest, orders.Issued, error) {
	r, err := decode[orders.LoadRequest](c)
	if err != nil {
		return r, orders.Issued{}, err
	}
	act, err := s.act(c)
	if err != nil {
		return r, orders.Issued{}, err
	}
	issued, err := s.service.Deliver(c.UserContext(), act, id, r)
	return r, issued, err
}
