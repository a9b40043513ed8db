package web

import (
	"errors"
	"fmt"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/minute"
)

// minuteField is what the form of a delivery says where it may be taken back for a minute.
const minuteField = "minute"

// A minutePage is a delivery whose receipt is not numbered yet.
type minutePage struct {
	page
	Put   minute.Delivery
	Order orders.Order
	Will  orders.Receipt // what the receipt would say
	Left  int            // whole seconds, after which it can’t be taken back
	// Stuck says why the receipt can't be numbered, empty where it can.
	Stuck string
}

func deliveredPath(order string) string { return "/orders/" + order + "/delivered" }

// minutePut keeps a delivery for a minute.
func (s *Server) minutePut(c *fiber.Ctx, id string) error {
	r, d, err := doOn(s, c, orderID, s.minute.Put)
	if err == nil {
		return made(c, fiber.StatusCreated, deliveredPath(d.OrderID), d)
	}
	if !mendable(err) {
		return err
	}
	return s.loadAgain(c, id, r, err)
}

// minuteShow shows a delivery that can be taken back; once its minute is over, its receipt.
func (s *Server) minuteShow(c *fiber.Ctx) error {
	h, err := s.history(c)
	if err != nil {
		return err
	}
	d, err := s.waiting(c, h.Order.ID)
	if act.KindOf(err) == act.NotFound {
		return s.numbered(c, h)
	}
	if err != nil {
		return err
	}
	if d.Left(s.clock()) > 0 {
		return s.minuteAgain(c, d, nil)
	}
	return s.minuteDue(c, d)
}

// waiting is the delivery of an order that waits.
func (s *Server) waiting(c *fiber.Ctx, order string) (minute.Delivery, error) {
	if s.minute == nil {
		return minute.Delivery{}, &act.Error{Kind: act.NotFound}
	}
	return s.minute.Waiting(c.UserContext(), s.actor(c), order)
}

// numbered leads to the last receipt of an order, or to the order where it has none.
func (s *Server) numbered(c *fiber.Ctx, h orders.History) error {
	if n := len(h.Receipts); n > 0 {
		return c.Redirect(fmt.Sprintf("/receipts/%d", h.Receipts[n-1].Number), fiber.StatusSeeOther)
	}
	return c.Redirect("/orders/"+h.Order.ID, fiber.StatusSeeOther)
}

// minuteDue numbers a delivery and leads to its receipt, or says why that can't be done.
func (s *Server) minuteDue(c *fiber.Ctx, d minute.Delivery) error {
	issued, err := s.minute.Number(c.UserContext(), d.OrderID)
	if err == nil {
		return c.Redirect(receiptPath(issued), fiber.StatusSeeOther)
	}
	if _, gone := s.waiting(c, d.OrderID); act.KindOf(gone) == act.NotFound { // another numbered it meanwhile
		return c.Redirect(deliveredPath(d.OrderID), fiber.StatusSeeOther)
	}
	var known *act.Error
	if !errors.As(err, &known) || known.Kind == act.Internal || known.Kind == act.Unavailable {
		return err
	}
	return s.minuteAgain(c, d, known)
}

// minuteAgain shows a delivery that waits, with what keeps it from being numbered.
func (s *Server) minuteAgain(c *fiber.Ctx, d minute.Delivery, stuck *act.Error) error {
	h, err := s.service.History(c.UserContext(), s.actor(c), d.OrderID)
	if err != nil {
		return err
	}
	p := minutePage{page: s.page(c, measure.Say("Delivered, order %d", int(h.Order.Number)), "/"), Put: d, Order: h.Order, Left: int(d.Left(s.clock()).Seconds()) + 1}
	p.Sheet, p.Finder = s.assets.path("deliver.css"), s.assets.path("waits.js")
	p.Will, err = s.service.TryDeliver(c.UserContext(), s.actor(c), d.OrderID, d.Request)
	if err != nil && !mendable(err) {
		return err
	}
	if stuck != nil {
		p.Stuck = p.Sentence(orDefault(stuck.Message, stuck.Kind))
		c.Status(fiber.StatusConflict)
	}
	return s.render(c, "delivered", p)
}

// onWaiting does what a button of the page says with the delivery that waits; where none does
// any more, it leads on to its receipt.
func (s *Server) onWaiting(c *fiber.Ctx, do func(*fiber.Ctx, minute.Delivery) error) error {
	id, err := orderID(c)
	if err != nil {
		return err
	}
	d, err := s.waiting(c, id)
	switch {
	case act.KindOf(err) == act.NotFound:
		return c.Redirect(deliveredPath(id), fiber.StatusSeeOther)
	case err != nil:
		return err
	case formValue(c)(enterField) != "":
		return s.minuteAgain(c, d, nil)
	}
	return do(c, d)
}

// minuteNumber numbers it before its minute is over.
func (s *Server) minuteNumber(c *fiber.Ctx) error { return s.onWaiting(c, s.minuteDue) }

// minuteBack takes it back and shows its form as it was filled in.
func (s *Server) minuteBack(c *fiber.Ctx) error { return s.onWaiting(c, s.takeBack) }

func (s *Server) takeBack(c *fiber.Ctx, d minute.Delivery) error {
	by, err := s.act(c)
	if err == nil {
		err = s.minute.TakeBack(c.UserContext(), by, d.OrderID)
	}
	if err != nil {
		return err
	}
	history, err := s.service.History(c.UserContext(), s.actor(c), d.OrderID)
	if err != nil {
		return err
	}
	p, err := s.loadForm(c, history)
	if err != nil {
		return err
	}
	p.R, p.Request = d.Request, newRequest()
	p.fill(d.Request.Body)
	if err := s.tryLoad(c, d.OrderID, &p); err != nil && !mendable(err) {
		return err
	}
	return s.render(c, "load_form", p)
}

// unnumbered are the deliveries that wait, each with what is known of its number, and the way
// to it; none for those who don't deliver.
func (s *Server) unnumbered(c *fiber.Ctx, p page) (list []choice, err error) {
	if s.minute == nil || !p.May("GET /orders/:id/delivered") {
		return nil, nil
	}
	all, err := s.minute.All(c.UserContext(), s.actor(c))
	for _, d := range all {
		said := p.T("Delivered: its receipt is numbered at %s", p.Print.Time(d.Due, p.Shop.Zone))
		if d.Left(s.clock()) == 0 {
			said = p.T("Delivered %s, and not numbered yet: look", p.Print.Time(d.At, p.Shop.Zone))
		}
		list = append(list, choice{Value: deliveredPath(d.OrderID), Label: said})
	}
	return list, err
}
