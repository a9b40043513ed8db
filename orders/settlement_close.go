package orders

import (
	"context"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// Bring records wood brought against what is owed and issues its receipt, which
// closes the settlement where nothing more is owed, or where the buyer says that it
// is enough. It costs nothing. It is Conflict where no settlement in wood is open.
func (s *Service) Bring(ctx context.Context, by act.Act, orderID string, r BringRequest) (Issued, error) {
	return s.closing(ctx, by, WoodBrought, orderID, r, SettleWood, func(c *closing) {
		fact := c.facts.Settles
		out := c.brought(r)
		fact.Brought, fact.Left = out.Brought.Volume, out.Left.Volume
		fact.Closes = c.Ticked("enough", r.Enough) || fact.Left == 0
		fact.On = deliveredOn(&c.Fields, r.On, c.today)
	})
}

// Give records money given for what is owed, which closes the settlement, and issues
// its receipt. Money taken off the balance lowers what the customer owes; any other
// is written down as a payment back to him as well. It is Conflict where no
// settlement in money is open.
func (s *Service) Give(ctx context.Context, by act.Act, orderID string, r GiveRequest) (Issued, error) {
	return s.closing(ctx, by, MoneyGiven, orderID, r, SettleMoney, func(c *closing) {
		fact := c.facts.Settles
		fact.Closes, fact.Method, fact.Given = true, r.Method, c.settlement.Worth
		if r.Given != "" {
			fact.Given = c.amount("given", r.Given)
		}
		if fact.Given.Minor == 0 && len(c.Faults) == 0 {
			c.Add("given", "nothing", r.Given, measure.Say("nothing is given"), money.Accepted(c.currency))
		}
		fact.On = c.ReadOn(r.On, c.today)
		if r.Method == OffBalance {
			if r.Reference != "" {
				c.Add("reference", "contradicts", "", measure.Say("nothing is paid out when it is taken off what is owed"), measure.Say("nothing here, or how it is paid out"))
			}
			return
		}
		back := Payment{OrderID: c.desk.order.ID, Amount: money.Money{Minor: -fact.Given.Minor, Currency: fact.Given.Currency}, Method: PaymentMethod(r.Method), On: fact.On, Created: c.facts.Issued}
		method(&c.Fields, &back, PaymentRequest{Method: r.Method, Reference: r.Reference})
		for _, f := range c.Faults {
			if f.Field == "paid_by" {
				f.Field = "given_by"
				f.Accepts = measure.Say("cash, cheque, card, transfer, voucher, or off the balance")
			}
		}
		c.back = &back
	})
}

// A closing makes the receipt of one step of a settlement.
type closing struct {
	orderReader
	desk       desk
	settlement Settlement
	facts      Facts
	today      act.Date
	back       *Payment // money paid back with it
}

// closing issues the receipt of a step of the open settlement in a choice; fill says
// what was done.
func (s *Service) closing(ctx context.Context, by act.Act, verb act.Verb, orderID string, sent any, choice SettleBy, fill func(*closing)) (Issued, error) {
	e := issuing{Write: act.Write{Verb: verb, Subject: orderID, May: act.ToDeliver, Content: sent}, order: orderID}
	return issue(ctx, s, by, e, func(d desk) (paper, error) { return s.prepareStep(d, by, choice, fill) }, (*Service).receipt)
}

func (s *Service) prepareStep(d desk, by act.Act, choice SettleBy, fill func(*closing)) (paper, error) {
	set, err := s.setOf(d.shop)
	if err != nil {
		return paper{}, err
	}
	zone, err := time.LoadLocation(d.shop.Zone)
	if err != nil {
		return paper{}, err
	}
	c := &closing{orderReader: orderReader{service: s, shop: d.shop, set: set, currency: d.shop.Currency}, desk: d}
	if c.settlement, err = d.openSettlement(choice); err != nil {
		return paper{}, err
	}
	now := s.now()
	c.today = act.DateOf(now.In(zone))
	unplaced(&c.Fields, d.shop)
	c.facts = s.settling(d, c.settlement, set, now)
	fill(c)
	c.Hush(set)
	receipt := Receipt{Facts: c.facts, Purchaser: d.order.Customer.printed()}
	checkReceipt(&c.Fields, set, receipt)
	s.checkPrintable(&c.Fields, c.facts)
	if err := c.Err(); err != nil {
		return paper{}, err
	}
	return s.stepPaper(d, by, c, receipt)
}

// settling are the facts of a receipt that settles, before what was done is said.
func (s *Service) settling(d desk, of Settlement, set rules.Set, now time.Time) Facts {
	f := s.factsOf(d, set, now)
	f.Kind, f.Of, f.Reason, f.Moisture = SettlementReceipt, of.Receipt, of.Reason, nil
	nothing := money.Money{Currency: d.order.Price.Wood.Currency}
	f.Price, f.Deposit = Price{Wood: nothing}, nothing
	f.Settles = &SettlesFact{Owed: of.Owed, Before: of.Owed.Volume - of.Left().Volume,
		Choice: of.Choice, AgreedOn: of.AgreedOn, AgreedHow: of.AgreedHow}
	return f
}

// stepPaper paints the receipt, and writes it with the step and what was paid back.
func (s *Service) stepPaper(d desk, by act.Act, c *closing, r Receipt) (paper, error) {
	p, err := s.paintReceipt(d, d.order.Customer, r)
	if err != nil {
		return paper{}, err
	}
	fact, receipt := r.Facts.Settles, p.Write
	step := SettlementStep{Receipt: p.Number, Brought: fact.Brought, Given: fact.Given, Closes: fact.Closes, On: fact.On,
		By: by.Actor.Person, Created: r.Facts.Issued}
	p.Write = func(tx Tx) error {
		if err := receipt(tx); err != nil {
			return err
		}
		if err := tx.AddSettlementStep(c.settlement.ID, step); err != nil || c.back == nil {
			return err
		}
		_, err := addSigned(tx, *c.back, by)
		return err
	}
	return p, nil
}

// openSettlement is the open settlement in a choice.
func (d desk) openSettlement(choice SettleBy) (Settlement, error) {
	n := len(d.settlements)
	if n == 0 || !d.settlements[n-1].Open() {
		return Settlement{}, act.NewConflict("nothing is owed on order %d: no settlement is open", int(d.order.Number))
	}
	last := d.settlements[n-1]
	if last.Choice != choice {
		return Settlement{}, act.NewConflict("it was agreed to settle order %d in %s; record a new settlement if that does not hold", int(d.order.Number), measure.Say(string(last.Choice)))
	}
	return last, nil
}

// brought reads how much came, by a tally of it, by a body filled to its line, or a
// quantity, and what is owed after it.
func (c *closing) brought(r BringRequest) Outcome {
	var out Outcome
	if r.Tally != "" {
		out = c.tallied(r.Tally)
		if r.Brought != "" || r.Body != "" {
			c.Add("brought", "contradicts", r.Brought, measure.Say("the load was measured, and how much it is, is said besides"), measure.Say("one of the two"))
		}
	} else {
		out.Brought = c.stated(r)
		out.Left = c.settlement.Left()
		out.Left.Volume = max(out.Left.Volume-out.Brought.Volume, 0)
	}
	q := out.Brought
	if owed := c.settlement.Owed; q.Volume > 0 && q.Basis != owed.Basis {
		c.Add("brought", "other-basis", "", measure.Say("it is %s wood, and what is owed is %s", measure.Say(string(q.Basis)), measure.Say(string(owed.Basis))),
			measure.Say("a quantity of %s wood", measure.Say(string(owed.Basis))))
	}
	return out
}

// stated is how much came by a body filled to its line, or as typed.
func (c *closing) stated(r BringRequest) (q measure.Quantity) {
	switch {
	case r.Body != "":
		q, c.facts.Settles.Body = toTheLine(&c.Fields, r.Body, c.desk)
		if r.Brought != "" && c.settlement.Owed.Basis == q.Basis {
			besideLine(&c.Fields, "brought", r.Brought, c.asTyped(r), q, c.set, c.shop.Units)
		}
	case r.Brought == "":
		c.Missing("brought", act.AcceptedQuantities())
	default:
		q = c.asTyped(r)
	}
	return q
}

// asTyped is how much came as it was typed.
func (c *closing) asTyped(r BringRequest) measure.Quantity {
	said := c.SaidUnder(c.set, c.shop.Units, "brought", r.Brought, c.desk.order.PieceLength)
	if said.Barred != "" {
		c.Add("brought", "barred", "", measure.Say("those words aren’t a lawful quantity; they mean %s", said.Quantity),
			measure.Say("%s", act.Spell(c.set, c.shop.Units, said.Quantity)))
	}
	return said.Quantity
}
