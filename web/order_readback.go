package web

import (
	"github.com/gofiber/fiber/v2"

	"wellstowed/orders"
	"wellstowed/web/form"
)

// A readBackPage is an order in sentences to say to the customer, with one button that
// takes it as it was said.
type readBackPage struct {
	page
	Action string
	Draft  string // key of the form's local draft
	Lines  []string
	Yard   []string // whether it can be promised by the batches; empty where none is kept
	Odd    []string // what is far from the shop's other orders
	Total  string
	Button string
	Asks   bool // whether less than a full load is charged for, before it is read back
	Anew   bool // something else was confirmed before
	Sent   []form.Sent
}

// askHalfLoad asks the one thing that is left to ask of an order: its charge for less
// than a full load. Either answer leads to what is read back.
func (s *Server) askHalfLoad(c *fiber.Ctx, p orderFormPage, f fault) error {
	b := readBackPage{page: p.page, Action: p.Action, Draft: p.DraftKey(), Asks: true}
	b.Title = p.T("Less than a full load")
	b.Lines = []string{sentence(p.Print.Say(f.fields[0].Reason))}
	p.R.HalfLoad, p.R.Confirmed = "", ""
	b.Sent = form.Filled(newOrder{p.R, p.W})
	c.Status(f.status)
	return s.render(c, "order_readback", b)
}

// readBack shows what an order says, to be read to the customer. Everything that was
// typed goes with the button, and so does what is confirmed by it.
func (s *Server) readBack(c *fiber.Ctx, p orderFormPage, back orders.ReadBack) error {
	b := readBackPage{page: p.page, Action: p.Action, Draft: p.DraftKey(), Button: p.takes(back.Order), Anew: p.R.Confirmed != ""}
	b.Title = p.T("Read this back")
	b.Lines, b.Total = p.Print.ReadBack(back)
	for _, odd := range back.Unusual {
		b.Odd = append(b.Odd, sentence(p.Print.Say(odd)))
	}
	if back.Promise != nil {
		b.Yard = p.Print.Promise(*back.Promise)
	}
	p.R.Confirmed = back.Confirm
	b.Sent = form.Filled(newOrder{p.R, p.W})
	return s.render(c, "order_readback", b)
}

// takes says what the button does that takes an order as it was read back.
func (p orderFormPage) takes(o orders.Order) string {
	switch {
	case p.Action == "/waiting":
		return p.T("Put it on the waiting list")
	case p.Order != nil:
		return p.T("Save the change, %s", p.Print.Money(o.Price.Total()))
	}
	return p.T("Take the order, %s", p.Print.Money(o.Price.Total()))
}
