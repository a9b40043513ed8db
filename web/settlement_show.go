package web

import (
	"strings"

	"github.com/gofiber/fiber/v2"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/web/api"
)

// A settlementPage shows what is owed on an order and what is done about it.
type settlementPage struct {
	page
	orders.History
	Offered orders.Settlement // by the latest finding; nobody has agreed to it
	R       orders.SettleRequest
	B       orders.BringRequest
	G       orders.GiveRequest
	Action  string // of the form that brings wood
	filling
	Tallied map[int64]stepTally // loads that were measured, by the receipts that brought them
	Anew    bool                // a settlement is to stand in the place of another
}

func (s *Server) settlementForm(c *fiber.Ctx) (settlementPage, error) {
	history, err := s.history(c)
	if err != nil {
		return settlementPage{}, err
	}
	p := settlementPage{page: s.page(c, measure.Say("Settle the shortage of order %d", int(history.Order.Number)), "/"), History: history, Offered: history.Offer()}
	today := s.today(p.Shop.Zone)
	p.R, p.B, p.G = orders.SettleRequest{AgreedOn: today}, orders.BringRequest{On: today}, orders.GiveRequest{On: today}
	owed := p.Offered.Owed
	if last := history.Settlement(); last != nil {
		p.R.Replaces, owed = last.ID, last.Left()
		p.G.Given = last.Worth.Amount()
		if len(last.Steps) == 0 { // what is left of a measured load isn't a number to read out
			p.B.Brought = p.Spell(last.Left())
		}
	}
	if owed.Volume > 0 {
		p.R.Owed = p.Spell(owed)
	}
	if p.Tallied, err = s.stepTallies(c, history); err != nil {
		return p, err
	}
	bodies, err := s.service.Bodies(c.UserContext(), s.actor(c))
	p.Bodies, p.Action = fitting(bodies, history.Order), "/orders/"+history.Order.ID+"/settlement/bring"
	return p, err
}

func (s *Server) settlementShow(c *fiber.Ctx) error {
	p, err := s.settlementForm(c)
	switch {
	case err != nil:
		return err
	case wantsJSON(c):
		return c.JSON(api.Settlements{Offer: p.Offered, Settlements: p.Settlements})
	}
	return s.render(c, "settlement", p)
}

func (s *Server) settlementCreate(c *fiber.Ctx) error {
	r, settled, err := doOn(s, c, orderID, s.service.Settle)
	if err == nil {
		return made(c, fiber.StatusCreated, "/orders/"+settled.OrderID+"/settlement", settled)
	}
	return s.settlementAgain(c, err, func(p *settlementPage) { p.R, p.Anew = r, true })
}

func (s *Server) settlementBring(c *fiber.Ctx) error {
	if picked, found := strings.CutPrefix(formValue(c)("do"), "body "); found && !sentJSON(c) {
		r, err := decode[orders.BringRequest](c)
		return s.settlementAgain(c, err, func(p *settlementPage) {
			p.B = r
			if line := p.fill(picked); line != nil {
				p.B.Brought = p.Spell(line.Quantity)
			}
		})
	}
	r, issued, err := doOn(s, c, orderID, s.service.Bring)
	if err == nil {
		return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
	}
	return s.settlementAgain(c, err, func(p *settlementPage) { p.B = r; p.fill(r.Body) })
}

func (s *Server) settlementGive(c *fiber.Ctx) error {
	r, issued, err := doOn(s, c, orderID, s.service.Give)
	if err == nil {
		return made(c, fiber.StatusCreated, receiptPath(issued), receiptJSON(issued))
	}
	return s.settlementAgain(c, err, func(p *settlementPage) {
		p.G = r
		if p.At("reference") != "" && (orders.Payment{Method: orders.PaymentMethod(r.Method)}).MayNoteCard() {
			p.G.Reference = "" // what may be a card's number is not shown again
		}
	})
}

// settlementAgain shows the page again as typed with what is wrong.
func (s *Server) settlementAgain(c *fiber.Ctx, err error, typed func(*settlementPage)) error {
	if err != nil && (wantsJSON(c) || !mendable(err)) {
		return err
	}
	p, broken := s.settlementForm(c)
	if broken != nil {
		return broken
	}
	p.page.again(c)
	if err != nil {
		s.refuse(c, &p.page, err)
	}
	typed(&p)
	return s.render(c, "settlement", p)
}

// Current is the settlement that holds, nil before one is agreed.
func (p settlementPage) Current() *orders.Settlement { return p.Settlement() }

// Choosable are what a shortage may be made good with; none is chosen beforehand.
func (p settlementPage) Choosable() []choice {
	return []choice{
		{string(orders.SettleWood), p.T("Wood: a second load"), p.R.Choice == string(orders.SettleWood)},
		{string(orders.SettleMoney), p.T("Money"), p.R.Choice == string(orders.SettleMoney)},
	}
}

// Hows are how the buyer may have agreed.
func (p settlementPage) Hows() []choice {
	return []choice{
		{string(orders.ByWord), p.T("Spoken"), p.R.AgreedHow == string(orders.ByWord)},
		{string(orders.InWriting), p.T("In writing"), p.R.AgreedHow == string(orders.InWriting)},
	}
}

// Gives are how money is given; none is chosen beforehand.
func (p settlementPage) Gives() []choice {
	list := []choice{{orders.OffBalance, p.T("Taken off what is owed for the order"), p.G.Method == orders.OffBalance}}
	for _, m := range []orders.PaymentMethod{orders.Cash, orders.Cheque, orders.Card, orders.Transfer} {
		list = append(list, choice{string(m), p.Upper(p.Print.PaymentMethod(m)), p.G.Method == string(m)})
	}
	return list
}
