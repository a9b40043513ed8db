package orders

import (
	"context"
	"slices"
	"time"

	"wellstowed/measure"
)

// AddPayment writes down money that came or went on an order. It is Invalid with all
// faults, Conflict where a customer pays on a cancelled order.
func (s *Service) AddPayment(ctx context.Context, act Act, orderID string, r PaymentRequest) (Posting, error) {
	if err := allow(act.Actor, toDeliver); err != nil {
		return Posting{}, err
	}
	return s.writePayment(ctx, act, PaymentAdded, orderID, func(tx Tx, shop Shop, today Date) (Posting, error) {
		o, err := tx.Order(orderID)
		if err != nil {
			return Posting{}, err
		}
		var f fields
		p := s.payment(&f, r, shop, today)
		if err := s.cleanPayment(&f, shop, "reference", p.Reference); err != nil {
			return Posting{}, err
		}
		if o.State == Cancelled && p.Amount.Minor > 0 {
			return Posting{}, conflict("order %d is cancelled; money can only be given back on it", int(o.Number))
		}
		p.OrderID = orderID
		return addSigned(tx, p, act)
	})
}

// ReversePayment takes a payment back by a counter-entry with its reason. It is
// Conflict where it was taken back before, or is a counter-entry itself.
func (s *Service) ReversePayment(ctx context.Context, act Act, orderID, paymentID string, r ReversalRequest) (Posting, error) {
	if err := allow(act.Actor, toManage); err != nil {
		return Posting{}, err
	}
	return s.writePayment(ctx, act, PaymentReversed, paymentID, func(tx Tx, shop Shop, today Date) (Posting, error) {
		all, err := tx.Payments(orderID)
		if err != nil {
			return Posting{}, err
		}
		was, err := findPayment(all, paymentID)
		switch {
		case err != nil:
			return Posting{}, err
		case was.Reverses != "":
			return Posting{}, conflict("a counter-entry is not taken back; write the payment down anew")
		case was.Reversed(all):
			return Posting{}, conflict("this payment was taken back before")
		}
		var f fields
		reason := f.line("reason", r.Reason)
		if reason == "" && len(f.Faults) == 0 {
			f.missing("reason", measure.Say("why it is taken back, such as typed twice"))
		}
		if err := s.cleanPayment(&f, shop, "reason", reason); err != nil {
			return Posting{}, err
		}
		p := Posting{OrderID: orderID, Amount: Money{Minor: -was.Amount.Minor, Currency: was.Amount.Currency}, Method: was.Method,
			Reference: was.Reference, On: today, Reverses: was.ID, Reason: reason, Created: s.now()}
		return addSigned(tx, p, act)
	})
}

// ReceiveCopy marks the signed copy of a voucher as received on a day. It is
// Conflict where none is due.
func (s *Service) ReceiveCopy(ctx context.Context, act Act, orderID, paymentID string, r CopyRequest) (Posting, error) {
	if err := allow(act.Actor, toDeliver); err != nil {
		return Posting{}, err
	}
	return s.writePayment(ctx, act, CopyReceived, paymentID, func(tx Tx, _ Shop, today Date) (Posting, error) {
		all, err := tx.Payments(orderID)
		if err != nil {
			return Posting{}, err
		}
		p, err := findPayment(all, paymentID)
		switch {
		case err != nil:
			return Posting{}, err
		case !p.CopyDue() || p.Reversed(all):
			return Posting{}, conflict("no signed copy is due of this payment")
		}
		var f fields
		p.CopyOn = f.readOn(r.On, today)
		if err := f.err(); err != nil {
			return Posting{}, err
		}
		return p, tx.ReceiveCopy(p.ID, p.CopyOn, act.Actor.Person, s.now())
	})
}

// writePayment runs write once for a request.
func (s *Service) writePayment(ctx context.Context, act Act, verb Verb, subject string,
	write func(tx Tx, shop Shop, today Date) (Posting, error)) (p Posting, err error) {
	e, err := begin(act, verb, subject)
	if err != nil {
		return Posting{}, err
	}
	err = s.store.Write(ctx, func(tx Tx) error {
		before, err := e.done(tx)
		if err != nil {
			return err
		}
		if before != nil {
			p, err = tx.Payment(before.Result)
			return err
		}
		shop, today, err := s.shopToday(tx)
		if err != nil {
			return err
		}
		if p, err = write(tx, shop, today); err != nil {
			return err
		}
		return s.keep(tx, e, p.ID)
	})
	return p, fail(err)
}

// shopToday is the shop and the day in its zone.
func (s *Service) shopToday(tx Tx) (Shop, Date, error) {
	shop, err := tx.Shop()
	if err != nil {
		return Shop{}, Date{}, err
	}
	zone, err := time.LoadLocation(shop.Zone)
	return shop, DateOf(s.now().In(zone)), err
}

// cleanPayment is the faults of a payment, with those of a text that pages show.
func (s *Service) cleanPayment(f *fields, shop Shop, field, text string) error {
	set, err := s.setOf(shop)
	if err != nil {
		return err
	}
	f.barredInName(set, field, text)
	f.hush(set)
	return f.err()
}

// addSigned adds a payment with its id and who writes it down.
func addSigned(tx Tx, p Posting, act Act) (Posting, error) {
	id, err := newID()
	if err != nil {
		return Posting{}, err
	}
	p.ID, p.By = id, act.Actor.Person
	return p, tx.AddPayment(p)
}

func findPayment(all []Posting, id string) (Posting, error) {
	i := slices.IndexFunc(all, func(p Posting) bool { return p.ID == id })
	if i < 0 {
		return Posting{}, &Error{Kind: NotFound, Message: measure.Say("there is no such payment on this order")}
	}
	return all[i], nil
}
