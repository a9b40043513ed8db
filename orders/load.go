package orders

import (
	"context"
	"fmt"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// Deliver records a load and issues its receipt in one act. It is Invalid with
// every field of the receipt that is missing and where to fill it in, and asks for
// print_name or print_address where the paper's font lacks characters. What is known
// against the receipt is asked back under the field "confirmed", Code "read-back":
// Accepts then says what Confirmed must hold. Where the wood was measured short before,
// more than was found needs Differs, Code "measured-short". It is Conflict for a
// cancelled order.
func (s *Service) Deliver(ctx context.Context, by act.Act, orderID string, r LoadRequest) (Issued, error) {
	return s.DeliverSigned(ctx, by, orderID, r, s.now(), func(Receipt) error { return nil })
}

// DeliverSigned is Deliver of a load that was signed for before; what agreed answers of its
// receipt refuses it.
func (s *Service) DeliverSigned(ctx context.Context, by act.Act, orderID string, r LoadRequest, signed time.Time, agreed func(Receipt) error) (Issued, error) {
	e := issuing{Write: act.Write{Verb: LoadDelivered, Subject: orderID, May: act.ToDeliver, Content: r}, order: orderID, batch: r.Batch}
	return issue(ctx, s, by, e, func(d desk) (paper, error) {
		read, err := s.readLoad(d, r, signed)
		if err == nil {
			err = agreed(read.receipt)
		}
		if err != nil {
			return paper{}, err
		}
		p, err := s.paintReceipt(d, read.customer, read.receipt)
		return paidWith(p, read.paid, by), err
	}, (*Service).receipt)
}

// TryDeliver reads a load as Deliver would and saves nothing. Beside an error it gives
// the receipt as far as it was read.
func (s *Service) TryDeliver(ctx context.Context, who act.Actor, orderID string, r LoadRequest) (receipt Receipt, err error) {
	if err := act.Allow(who, act.ToDeliver); err != nil {
		return Receipt{}, err
	}
	var d desk
	err = s.store.Read(ctx, func(tx Tx) error {
		d, err = issuing{order: orderID, batch: r.Batch}.desk(tx)
		return err
	})
	if err == nil {
		var read loadRead
		read, err = s.readLoad(d, r, s.now())
		receipt = read.receipt
	}
	return receipt, act.Fail(err)
}

// A loadRead is what was read of a load: its receipt, the customer as he is to be kept, and
// the payment that came with it, nil where none did.
type loadRead struct {
	receipt  Receipt
	customer Customer
	paid     *Payment
}

// paidWith adds to a paper's writing the payment that came with it.
func paidWith(p paper, paid *Payment, by act.Act) paper {
	if paid == nil {
		return p
	}
	write := p.Write
	p.Write = func(tx Tx) error {
		if err := write(tx); err != nil {
			return err
		}
		_, err := addSigned(tx, *paid, by)
		return err
	}
	return p
}

// readLoad makes the receipt of a load of what was read; where no day is said, it came on the
// day it was signed for.
func (s *Service) readLoad(d desk, r LoadRequest, signed time.Time) (loadRead, error) {
	customer := d.order.Customer
	if d.order.State == Cancelled {
		return loadRead{}, act.NewConflict("order %d is cancelled; nothing can be delivered on it", int(d.order.Number))
	}
	set, err := s.setOf(d.shop)
	if err != nil {
		return loadRead{}, err
	}
	zone, err := time.LoadLocation(d.shop.Zone)
	if err != nil {
		return loadRead{}, fmt.Errorf("the shop's zone: %w", err)
	}
	now := s.now()
	var f act.Fields
	unplaced(&f, d.shop)
	addressHere(&f, &customer, set, r.CustomerAddress)
	s.spell(&f, &customer, spellings{r.PrintName, r.PrintAddress})
	facts := s.factsOf(d, set, now)
	facts.DeliveredOn = deliveredOn(&f, r.On, act.DateOf(signed.In(zone)))
	howMuch(&f, &facts, d, set, r)
	fromBatch(&f, &facts, d, set, r.Batch)
	in := orderReader{service: s, set: set}
	measured(&f, &facts, d, set, in.printedLine("differs", r.Differs))
	f.Faults = append(f.Faults, in.Faults...)
	facts.Answered = ask(&f, d.doubts(facts, zone), r.Confirmed)
	facts.derive(d)
	paid := s.paidHere(&f, &facts, &d, r)
	if paid != nil {
		paid.OrderID = d.order.ID
	}
	receipt := Receipt{Facts: facts, Purchaser: customer.printed(), Signature: s.signature(&f, r, signed)}
	receipt.Facts.Ticket, receipt.Measurer = s.ticket(&f, set, r.TicketRequest)
	receipt.Facts.Says = saysWith(set, facts)
	checkReceipt(&f, set, receipt)
	s.checkPrintable(&f, facts)
	for _, fault := range f.Faults {
		if fault.Field == "order.customer_address" {
			fault.Field, fault.Accepts = "customer_address", measure.Say("where it is delivered")
		}
	}
	f.Hush(set)
	return loadRead{receipt, customer, paid}, f.Err()
}

// howMuch reads how much is delivered, as typed or by a body filled to its line.
func howMuch(f *act.Fields, facts *Facts, d desk, set rules.Set, r LoadRequest) {
	fault := set.Refuse(d.order.Quantity, d.order.PieceLength)
	switch {
	case fault != nil:
		notAsTaken(f, d, fault)
	case r.Body == "":
		facts.Delivered = delivered(f, r.Delivered, d, set)
	default:
		facts.Delivered, facts.Body = toTheLine(f, r.Body, d)
		if r.Delivered != "" && facts.Delivered.Basis == d.order.Quantity.Basis {
			besideLine(f, "delivered", r.Delivered, deliveredAs(f, r.Delivered, d, set, d.order.PieceLength), facts.Delivered, set, d.shop.Units)
		}
	}
}

// addressHere takes an address that is typed where the wood is delivered: the customer's,
// where none is known yet.
func addressHere(f *act.Fields, c *Customer, set rules.Set, text string) {
	address := f.Lines("customer_address", text)
	f.BarredInName(set, "customer_address", address)
	switch {
	case address == "" || address == c.Address:
	case c.Address == "":
		c.Address = address
	default:
		f.Add("customer_address", "contradicts", text, measure.Say("the order has another address"), measure.Say("nothing here; or that address, in the order"))
	}
}

// delivered reads how much came with the load; empty is all that is still due.
func delivered(f *act.Fields, text string, d desk, set rules.Set) measure.Quantity {
	due := d.order.Quantity
	for _, l := range d.loads {
		due.Volume -= l.Delivered.Volume
	}
	if text == "" {
		if due.Volume <= 0 {
			f.Add("delivered", "nothing-due", "", measure.Say("all that was ordered has been delivered"),
				measure.Say("how much more came, such as 32 cu ft"))
		}
		return due
	}
	return deliveredAs(f, text, d, set, d.order.PieceLength)
}

// deliveredAs reads a quantity as it was ordered: stacked or loose.
func deliveredAs(f *act.Fields, text string, d desk, set rules.Set, piece measure.Length) measure.Quantity {
	due := d.order.Quantity
	said := f.SaidUnder(set, d.shop.Units, "delivered", text, piece)
	switch {
	case said.Quantity.Volume == 0:
	case said.Barred != "":
		f.Add("delivered", "barred", "", measure.Say("those words aren’t a lawful quantity; they mean %s", said.Quantity),
			measure.Say("%s", act.Spell(set, d.shop.Units, said.Quantity)))
	case said.Quantity.Basis != due.Basis && set.Refuse(said.Quantity, piece) != nil:
		f.Refused("delivered", text, set.Refuse(said.Quantity, piece))
	case said.Quantity.Basis != due.Basis:
		f.Add("delivered", "other-basis", text, measure.Say("it is %s wood, and what was ordered is %s", measure.Say(string(said.Quantity.Basis)), measure.Say(string(due.Basis))),
			measure.Say("a quantity of %s wood; an order for wood that is otherwise is another order", measure.Say(string(due.Basis))))
	}
	return said.Quantity
}

// notAsTaken refuses to deliver an order that was taken under other rules, in wood
// that the shop's rules now let nobody sell so, and says what can be done.
func notAsTaken(f *act.Fields, d desk, fault *measure.InputError) {
	field, accepts := "order.quantity", measure.Say("the order changed to a stacked quantity; or, in the shop’s settings, the rules it was taken under")
	if len(d.refs) > 0 || len(d.tallies) > 0 {
		field, accepts = "shop.rule_set", measure.Say("a new order for what is still due; or, in the shop’s settings, the rules it was taken under")
	}
	f.Add(field, fault.Code, "", measure.Say("the order is for %s: %s", d.order.Quantity, fault.Reason), accepts)
}

// toTheLine is what a body filled to its line holds.
func toTheLine(f *act.Fields, id string, d desk) (measure.Quantity, *yard.BodyFact) {
	i := slices.IndexFunc(d.bodies, func(b yard.Body) bool { return b.ID == id })
	if i < 0 {
		f.Add("body", "unknown", "", measure.Say("no such bed is in use"), measure.Say("a bed from the list, or a quantity"))
		return measure.Quantity{}, nil
	}
	b := d.bodies[i]
	if b.Quantity.Basis != d.order.Quantity.Basis {
		f.Add("body", "other-basis", "", measure.Say("it holds %s wood, and what was ordered is %s", measure.Say(string(b.Quantity.Basis)), measure.Say(string(d.order.Quantity.Basis))),
			measure.Say("a bed with %s wood; an order for wood that is otherwise is another order", measure.Say(string(d.order.Quantity.Basis))))
	}
	return b.Quantity, &yard.BodyFact{Name: b.Name, Line: b.Line, On: b.On, By: b.By}
}

// besideLine refuses a quantity that was typed beside a body filled to its line where that
// holds another.
func besideLine(f *act.Fields, field, text string, typed, line measure.Quantity, set rules.Set, units act.Units) {
	if spelled := act.Spell(set, units, line); typed.Volume > 0 && act.Spell(set, units, typed) != spelled {
		f.Add(field, "contradicts", text, measure.Say("it is %s, and the truck or trailer filled to its line holds %s", typed, line), measure.Say("%s, or no truck or trailer", spelled))
	}
}

// deliveredOn reads the day; empty is today. Tomorrow is taken, for a load made
// ready the evening before.
func deliveredOn(f *act.Fields, text string, today act.Date) act.Date {
	if text == "" {
		return today
	}
	on, err := act.ParseDate(text)
	if f.Parsed("on", err) && on.After(today.AddDays(1)) {
		f.Add("on", "future", text, measure.Say("it is later than tomorrow"), measure.Say("a day up to %s", today.AddDays(1).String()))
	}
	return on
}
