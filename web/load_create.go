package web

import (
	"slices"
	"strings"
	"time"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/customers"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
	"wellstowed/web/form"
)

type loadFormPage struct {
	page
	question
	filling
	R      orders.LoadRequest
	Action string
	Order  orders.Order
	Known  customers.Record // of who ordered
	Due    measure.Quantity
	Fresh  bool            // nothing has been sent yet: a local draft may be put back
	Short  *orders.Tally   // that found the wood short before any of it was delivered
	Will   *orders.Receipt // the receipt that would be made; nil where what was typed can't be read
	ToPay  money.Money     // what would be paid with it, of the whole order
	// InStock are the batches that wood as it was ordered can be drawn from.
	InStock []yard.Batch
	// Read is what was last read of the order's own wood, nil when nothing was.
	Read *yard.Moisture
	// Spelled asks for a name and address that the receipt's font can print.
	Spelled bool
	// Minute tells that it can be taken back for a minute.
	Minute bool
	// NoFirm tells that the shop's name or address is missing.
	NoFirm bool
}

func (s *Server) loadForm(c *fiber.Ctx, h orders.History) (loadFormPage, error) {
	p := s.page(c, measure.Say("Deliver order %d", int(h.Order.Number)), "/")
	p.Edit = "/orders/" + h.Order.ID + "/edit"
	p.Finder, p.Sheet = s.assets.path("deliver.js"), s.assets.path("deliver.css")
	p.names = map[string]string{"paid_by": p.T("Paid")}
	left := h.Proposed(p.Shop.Units)
	bodies, err := s.service.Bodies(c.UserContext(), s.actor(c))
	if err != nil {
		return loadFormPage{}, err
	}
	batches, err := s.service.Batches(c.UserContext(), s.actor(c))
	return loadFormPage{
		page: p, R: form.Load(h.Order, p.Spell(left), s.today(p.Shop.Zone)), Action: "/orders/" + h.Order.ID + "/deliver", Order: h.Order, Known: h.Known, Due: left,
		Short:   h.ShortBefore(),
		Spelled: h.Order.Customer.PrintName != "" || h.Order.Customer.PrintAddress != "",
		NoFirm:  p.Shop.Name == "" || p.Shop.Address == "",
		filling: filling{Bodies: fitting(bodies, h.Order)},
		InStock: drawable(batches, h.Order),
		Read:    h.LatestMoisture(),
		Minute:  s.minute != nil,
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
	if s.minute != nil {
		if _, err := s.minute.Waiting(c.UserContext(), s.actor(c), history.Order.ID); err == nil {
			return c.Redirect(deliveredPath(history.Order.ID), fiber.StatusSeeOther)
		}
	}
	p, err := s.loadForm(c, history)
	if err != nil {
		return err
	}
	p.Fresh = true
	p.R.Batch = asideOf(history.Order, p.InStock, p.Due)
	if err := s.tryLoad(c, history.Order.ID, &p); err != nil {
		p.Will = nil
	}
	return s.render(c, "load_form", p)
}

func (s *Server) loadCreate(c *fiber.Ctx) error {
	id, err := orderID(c)
	if err != nil {
		return err
	}
	do := ""
	if !sentJSON(c) {
		do = formValue(c)("do")
	}
	if do != "" {
		return s.loadTry(c, id, do)
	}
	if s.minute != nil && !sentJSON(c) && formValue(c)(minuteField) != "" {
		return s.minutePut(c, id)
	}
	r, issued, err := doOn(s, c, orderID, s.service.Deliver)
	if err == nil {
		return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
	}
	if wantsJSON(c) || !mendable(err) {
		return err
	}
	return s.loadAgain(c, id, r, err)
}

// loadTry shows the form again with what its receipt would say, and with a body that was
// picked put in.
func (s *Server) loadTry(c *fiber.Ctx, id, do string) error {
	r, err := decode[orders.LoadRequest](c)
	if picked, found := strings.CutPrefix(do, "body "); found && err == nil {
		r.Body, r.Delivered = picked, ""
	}
	if err == nil {
		_, err = s.service.TryDeliver(c.UserContext(), s.actor(c), id, r)
	}
	if err != nil && !mendable(err) {
		return err
	}
	return s.loadAgain(c, id, r, err)
}

// loadAgain shows the form again as typed, with what was wrong if anything was.
func (s *Server) loadAgain(c *fiber.Ctx, id string, r orders.LoadRequest, wrong error) error {
	history, err := s.service.History(c.UserContext(), s.actor(c), id)
	if err != nil {
		return err
	}
	p, err := s.loadForm(c, history)
	if err != nil {
		return err
	}
	p.R = r
	if line := p.fill(r.Body); line != nil && r.Delivered == "" {
		p.R.Delivered = p.Spell(line.Quantity)
	}
	p.page.again(c)
	if wrong != nil {
		p.question, wrong = asked(p.Print, wrong)
		s.refuse(c, &p.page, wrong)
	}
	if _ = s.tryLoad(c, id, &p); p.Will != nil && p.Will.Facts.Delivered.Volume <= 0 {
		p.Will = nil
	}
	p.Spelled = p.Spelled || p.At("print_name") != "" || p.At("print_address") != ""
	if c.Get(partHeader) != "" {
		return s.renderPart(c, "load_form", "part", p)
	}
	return s.render(c, "load_form", p)
}

// tryLoad puts on the page what its receipt would say as far as it can be read, and what
// would be paid with it.
func (s *Server) tryLoad(c *fiber.Ctx, id string, p *loadFormPage) error {
	unpaid := p.R
	unpaid.PaidBy, unpaid.Paid, unpaid.Reference = "", "", ""
	will, err := s.service.TryDeliver(c.UserContext(), s.actor(c), id, unpaid)
	p.ToPay = will.Facts.Balance()
	if will.Facts.Owed.Minor > p.ToPay.Minor {
		p.ToPay = will.Facts.Owed
	}
	if p.R.PaidBy != "" {
		will, err = s.service.TryDeliver(c.UserContext(), s.actor(c), id, p.R)
	}
	p.Will = &will
	return err
}

// Unfolded tells that something is to be seen of what can be changed: what was wrong, or asked
// about.
func (p loadFormPage) Unfolded() bool {
	return slices.ContainsFunc([]string{"delivered", "body", "on"}, func(field string) bool { return p.At(field) != "" }) ||
		p.R.Body != "" || p.Will == nil
}

// Paid are the ways of paying at the door.
func (p loadFormPage) Paid() []choice {
	given := orders.PaymentMethod(p.R.PaidBy)
	return []choice{
		{string(orders.Cash), p.T("Cash"), given == orders.Cash},
		{string(orders.Cheque), p.T("Cheque"), given == orders.Cheque},
		{string(orders.Card), p.T("Card"), given == orders.Card},
		{string(orders.NotYetPay), p.T("Later"), given == "" || given == orders.NotYetPay},
	}
}

// Says is what the button does when it was paid so.
func (p loadFormPage) Says(by string) string {
	comes := p.ToPay
	if part, err := money.Parse(p.R.Paid, comes.Currency); err == nil {
		comes = part
	}
	switch orders.PaymentMethod(by) {
	case orders.Cash:
		return p.T("Delivered, %s in cash", p.Print.Money(comes))
	case orders.Cheque:
		return p.T("Delivered, %s by cheque", p.Print.Money(comes))
	case orders.Card:
		return p.T("Delivered, %s by card", p.Print.Money(comes))
	}
	return p.T("Make the receipt")
}

// A filling offers the trucks and trailers that may be filled to a line.
type filling struct {
	Bodies []yard.Body // that hold wood as it was ordered
	Filled *yard.Body  // the one that was picked, nil for none
}

// fill picks a body by its id and gives it, nil for none of those offered.
func (f *filling) fill(id string) *yard.Body {
	for i := range f.Bodies {
		if f.Bodies[i].ID == id {
			f.Filled = &f.Bodies[i]
		}
	}
	return f.Filled
}

// IsFilled tells whether a body is the one that was picked.
func (f filling) IsFilled(b yard.Body) bool { return f.Filled != nil && f.Filled.ID == b.ID }
