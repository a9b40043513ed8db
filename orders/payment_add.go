package orders

import (
	"context"
	"errors"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// AddPayment writes down money that came or went on an order. It is Invalid with all
// faults, Conflict where a customer pays on a cancelled order.
func (s *Service) AddPayment(ctx context.Context, by Act, orderID string, r PaymentRequest) (Posting, error) {
	w := act.Write{Verb: PaymentAdded, Subject: orderID, May: toDeliver, Content: r}
	return s.writePayment(ctx, by, w, func(tx Tx, shop Shop, today Date) (Posting, error) {
		o, err := tx.Order(orderID)
		if err := errors.Join(err, o.named()); err != nil {
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
		return addSigned(tx, p, by)
	})
}

// ReversePayment takes a payment back by a counter-entry with its reason. It is
// Conflict where it was taken back before, or is a counter-entry itself.
func (s *Service) ReversePayment(ctx context.Context, by Act, orderID, paymentID string, r ReversalRequest) (Posting, error) {
	w := act.Write{Verb: PaymentReversed, Subject: paymentID, May: toManage, Content: r}
	return s.writePayment(ctx, by, w, func(tx Tx, shop Shop, today Date) (Posting, error) {
		o, err := tx.Order(orderID)
		if err := errors.Join(err, o.named()); err != nil {
			return Posting{}, err
		}
		all, err := tx.Payments(orderID)
		if err != nil {
			return Posting{}, err
		}
		was, err := findPayment(all, paymentID)
		switch {
		case err != nil:
			return Posting{}, err
		case was.Reverses != "":
			return Posting{}, conflict("a counter-entry is not taken back; write the payment again")
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
		return addSigned(tx, p, by)
	})
}

// ReceiveCopy marks the signed copy of a voucher as received on a day. It is
// Conflict where none is due.
func (s *Service) ReceiveCopy(ctx context.Context, by Act, orderID, paymentID string, r CopyRequest) (Posting, error) {
	w := act.Write{Verb: CopyReceived, Subject: paymentID, May: toDeliver, Content: r}
	return s.writePayment(ctx, by, w, func(tx Tx, _ Shop, today Date) (Posting, error) {
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
		return p, tx.ReceiveCopy(p.ID, p.CopyOn, by.Actor.Person, s.now())
	})
}

// writePayment runs write once for a request.
func (s *Service) writePayment(ctx context.Context, by Act, w act.Write, write func(tx Tx, shop Shop, today Date) (Posting, error)) (Posting, error) {
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		shop, today, err := s.shopToday(tx)
		if err != nil {
			return "", err
		}
		p, err := write(tx, shop, today)
		return p.ID, err
	}, Tx.Payment)
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
func addSigned(tx Tx, p Posting, by Act) (Posting, error) {
	id, err := newID()
	if err != nil {
		return Posting{}, err
	}
	p.ID, p.By = id, by.Actor.Person
	return p, tx.AddPayment(p)
}

func findPayment(all []Posting, id string) (Posting, error) {
	i := slices.IndexFunc(all, func(p Posting) bool { return p.ID == id })
	if i < 0 {
		return Posting{}, &Error{Kind: NotFound, Message: measure.Say("that payment on this order isn’t here")}
	}
	return all[i], nil
}
