package orders

import (
	"context"
	"fmt"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
)

// Deliver records a load and issues its receipt in one act. It is Invalid with
// every field of the receipt that is missing and where to fill it in, and asks for
// print_name or print_address where the paper's font lacks characters. What is known
// against the receipt is asked back under the field "confirmed", Code "read-back":
// Accepts then says what Confirmed must hold. Where the wood was measured short before,
// more than was found needs Differs, Code "measured-short". It is Conflict for a
// cancelled order.
func (s *Service) Deliver(ctx context.Context, by Act, orderID string, r LoadRequest) (Issued, error) {
	e := errand{Write: act.Write{Verb: LoadDelivered, Subject: orderID, May: toDeliver, Content: r}, order: orderID, batch: r.Batch}
	return issue(ctx, s, by, e, func(d desk) (paper, error) {
		receipt, customer, err := s.readLoad(d, r)
		if err != nil {
			return paper{}, err
		}
		return s.paintReceipt(d, customer, receipt)
	}, (*Service).receipt)
}

// TryDeliver reads a load as Deliver would and saves nothing. Beside an error it gives
// the receipt as far as it was read.
func (s *Service) TryDeliver(ctx context.Context, who Actor, orderID string, r LoadRequest) (receipt Receipt, err error) {
	if err := allow(who, toDeliver); err != nil {
		return Receipt{}, err
	}
	var d desk
	err = s.store.Read(ctx, func(tx Tx) error {
		d, err = errand{order: orderID, batch: r.Batch}.desk(tx)
		return err
	})
	if err == nil {
		receipt, _, err = s.readLoad(d, r)
	}
	return receipt, fail(err)
}

// readLoad makes the receipt of a load of what was read, and the customer as he is to be
// kept.
func (s *Service) readLoad(d desk, r LoadRequest) (Receipt, Customer, error) {
	customer := d.order.Customer
	if d.order.State == Cancelled {
		return Receipt{}, customer, conflict("order %d is cancelled; nothing can be delivered on it", int(d.order.Number))
	}
	set, err := s.setOf(d.shop)
	if err != nil {
		return Receipt{}, customer, err
	}
	zone, err := time.LoadLocation(d.shop.Zone)
	if err != nil {
		return Receipt{}, customer, fmt.Errorf("the shop's zone: %w", err)
	}
	now := s.now()
	var f fields
	f.unplaced(d.shop)
	f.addressHere(&customer, set, r.CustomerAddress)
	s.spell(&f, &customer, spellings{r.PrintName, r.PrintAddress})
	facts := s.factsOf(d, set, now)
	facts.DeliveredOn = f.deliveredOn(r.On, DateOf(now.In(zone)))
	f.howMuch(&facts, d, set, r)
	f.fromBatch(&facts, d, set, r.Batch)
	in := orderReader{service: s, set: set}
	f.measured(&facts, d, set, in.printedLine("differs", r.Differs))
	f.Faults = append(f.Faults, in.Faults...)
	facts.Answered = f.ask(d.doubts(facts, zone), r.Confirmed)
	facts.derive(d)
	receipt := Receipt{Facts: facts, Purchaser: customer.printed()}
	receipt.Facts.Ticket, receipt.Measurer = s.ticket(&f, set, r.TicketRequest)
	receipt.Facts.Says = saysWith(set, facts)
	f.checkReceipt(set, receipt)
	s.checkPrintable(&f, facts)
	for _, fault := range f.Faults {
		if fault.Field == "order.customer_address" {
			fault.Field, fault.Accepts = "customer_address", measure.Say("where it is delivered")
		}
	}
	f.hush(set)
	return receipt, customer, f.err()
}

// howMuch reads how much is delivered, as typed or by a body filled to its line.
func (f *fields) howMuch(facts *Facts, d desk, set rules.Set, r LoadRequest) {
	fault := set.Refuse(d.order.Quantity, d.order.PieceLength)
	switch {
	case fault != nil:
		f.notAsTaken(d, fault)
	case r.Body == "":
		facts.Delivered = f.delivered(r.Delivered, d, set)
	default:
		facts.Delivered, facts.Body = f.toTheLine(r.Body, d)
		if r.Delivered != "" && facts.Delivered.Basis == d.order.Quantity.Basis {
			f.besideLine("delivered", r.Delivered, f.deliveredAs(r.Delivered, d, set, d.order.PieceLength), facts.Delivered, set, d.shop.Units)
		}
	}
}

// addressHere takes an address that is typed where the wood is delivered: the customer's,
// where none is known yet.
func (f *fields) addressHere(c *Customer, set rules.Set, text string) {
	address := f.lines("customer_address", text)
	f.barredInName(set, "customer_address", address)
	switch {
	case address == "" || address == c.Address:
	case c.Address == "":
		c.Address = address
	default:
		f.add("customer_address", "contradicts", text, measure.Say("the order has another address"), measure.Say("nothing here; or that address, in the order"))
	}
}

// delivered reads how much came with the load; empty is all that is still due.
func (f *fields) delivered(text string, d desk, set rules.Set) measure.Quantity {
	due := d.order.Quantity
	for _, l := range d.loads {
		due.Volume -= l.Delivered.Volume
	}
	if text == "" {
		if due.Volume <= 0 {
			f.add("delivered", "nothing-due", "", measure.Say("all that was ordered has been delivered"),
				measure.Say("how much more came, such as 32 cu ft"))
		}
		return due
	}
	return f.deliveredAs(text, d, set, d.order.PieceLength)
}

// deliveredAs reads a quantity as it was ordered: stacked or loose.
func (f *fields) deliveredAs(text string, d desk, set rules.Set, piece measure.Length) measure.Quantity {
	due := d.order.Quantity
	said := f.saidUnder(set, d.shop.Units, "delivered", text, piece)
	switch {
	case said.Quantity.Volume == 0:
	case said.Barred != "":
		f.add("delivered", "barred", "", measure.Say("those words name no legal quantity; they come to %s", said.Quantity),
			measure.Say("%s", spell(set, d.shop.Units, said.Quantity)))
	case said.Quantity.Basis != due.Basis && set.Refuse(said.Quantity, piece) != nil:
		f.refused("delivered", text, set.Refuse(said.Quantity, piece))
	case said.Quantity.Basis != due.Basis:
		f.add("delivered", "other-basis", text, measure.Say("it is %s wood, and what was ordered is %s", measure.Say(string(said.Quantity.Basis)), measure.Say(string(due.Basis))),
			measure.Say("a quantity of %s wood; an order for wood that is otherwise is another order", measure.Say(string(due.Basis))))
	}
	return said.Quantity
}

// notAsTaken refuses to hand over an order that was taken under other rules, in wood
// that the shop's rules now let nobody sell so, and says what can be done.
func (f *fields) notAsTaken(d desk, fault *measure.InputError) {
	field, accepts := "order.quantity", measure.Say("the order changed to a stacked quantity; or, in the shop’s settings, the rules it was taken under")
	if len(d.refs) > 0 || len(d.tallies) > 0 {
		field, accepts = "shop.rule_set", measure.Say("a new order for what is still due; or, in the shop’s settings, the rules it was taken under")
	}
	f.add(field, fault.Code, "", measure.Say("the order is for %s: %s", d.order.Quantity, fault.Reason), accepts)
}

// toTheLine is what a body filled to its line holds.
func (f *fields) toTheLine(id string, d desk) (measure.Quantity, *BodyFact) {
	i := slices.IndexFunc(d.bodies, func(b Body) bool { return b.ID == id })
	if i < 0 {
		f.add("body", "unknown", "", measure.Say("no such bed is in use"), measure.Say("a bed from the list, or a quantity"))
		return measure.Quantity{}, nil
	}
	b := d.bodies[i]
	if b.Quantity.Basis != d.order.Quantity.Basis {
		f.add("body", "other-basis", "", measure.Say("it holds %s wood, and what was ordered is %s", measure.Say(string(b.Quantity.Basis)), measure.Say(string(d.order.Quantity.Basis))),
			measure.Say("a bed with %s wood; an order for wood that is otherwise is another order", measure.Say(string(d.order.Quantity.Basis))))
	}
	return b.Quantity, &BodyFact{Name: b.Name, Line: b.Line, On: b.On, By: b.By}
}

// besideLine refuses a quantity that was typed beside a body filled to its line where that
// holds another.
func (f *fields) besideLine(field, text string, typed, line measure.Quantity, set rules.Set, units Units) {
	if spelled := spell(set, units, line); typed.Volume > 0 && spell(set, units, typed) != spelled {
		f.add(field, "contradicts", text, measure.Say("it is %s, and the truck or trailer filled to its line holds %s", typed, line), measure.Say("%s, or no truck or trailer", spelled))
	}
}

// deliveredOn reads the day; empty is today. Tomorrow is taken, for a load made
// ready the evening before.
func (f *fields) deliveredOn(text string, today Date) Date {
	if text == "" {
		return today
	}
	on, err := ParseDate(text)
	if f.parsed("on", err) && on.After(today.AddDays(1)) {
		f.add("on", "future", text, measure.Say("it is later than tomorrow"), measure.Say("a day up to %s", today.AddDays(1).String()))
	}
	return on
}
