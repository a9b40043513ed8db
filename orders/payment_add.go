package orders

import (
	"context"
	"errors"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// AddPayment writes down money that came or went on an order. It is Invalid with all
// faults, Conflict where a customer pays on a cancelled order.
func (s *Service) AddPayment(ctx context.Context, by act.Act, orderID string, r PaymentRequest) (Payment, error) {
	w := act.Write{Verb: PaymentAdded, Subject: orderID, May: act.ToDeliver, Content: r}
	return s.writePayment(ctx, by, w, func(tx Tx, shop Shop, today act.Date) (Payment, error) {
		o, err := tx.Order(orderID)
		if err := errors.Join(err, o.named()); err != nil {
			return Payment{}, err
		}
		var f act.Fields
		p := s.payment(&f, r, shop, today)
		if err := s.cleanPayment(&f, shop, "reference", p.Reference); err != nil {
			return Payment{}, err
		}
		if o.State == Cancelled && p.Amount.Minor > 0 {
			return Payment{}, act.NewConflict("order %d is cancelled; money can only be given back on it", int(o.Number))
		}
		p.OrderID = orderID
		return addSigned(tx, p, by)
	})
}

// ReversePayment takes a payment back by a counter-entry with its reason. It is
// Conflict where it was taken back before, or is a counter-entry itself.
func (s *Service) ReversePayment(ctx context.Context, by act.Act, orderID, paymentID string, r ReversalRequest) (Payment, error) {
	w := act.Write{Verb: PaymentReversed, Subject: paymentID, May: act.ToManage, Content: r}
	return s.writePayment(ctx, by, w, func(tx Tx, shop Shop, today act.Date) (Payment, error) {
		o, err := tx.Order(orderID)
		if err := errors.Join(err, o.named()); err != nil {
			return Payment{}, err
		}
		all, err := tx.Payments(orderID)
		if err != nil {
			return Payment{}, err
		}
		was, err := findPayment(all, paymentID)
		switch {
		case err != nil:
			return Payment{}, err
		case was.Reverses != "":
			return Payment{}, act.NewConflict("a counter-entry is not taken back; write the payment again")
		case was.Reversed(all):
			return Payment{}, act.NewConflict("this payment was taken back before")
		}
		var f act.Fields
		reason := f.Line("reason", r.Reason)
		if reason == "" && len(f.Faults) == 0 {
			f.Missing("reason", measure.Say("why it is taken back, such as typed twice"))
		}
		if err := s.cleanPayment(&f, shop, "reason", reason); err != nil {
			return Payment{}, err
		}
		p := Payment{OrderID: orderID, Amount: money.Money{Minor: -was.Amount.Minor, Currency: was.Amount.Currency}, Method: was.Method,
			Reference: was.Reference, On: today, Reverses: was.ID, Reason: reason, Created: s.now()}
		return addSigned(tx, p, by)
	})
}

// ReceiveCopy marks the signed copy of a voucher as received on a day. It is
// Conflict where none is due.
func (s *Service) ReceiveCopy(ctx context.Context, by act.Act, orderID, paymentID string, r CopyRequest) (Payment, error) {
	w := act.Write{Verb: CopyReceived, Subject: paymentID, May: act.ToDeliver, Content: r}
	return s.writePayment(ctx, by, w, func(tx Tx, _ Shop, today act.Date) (Payment, error) {
		all, err := tx.Payments(orderID)
		if err != nil {
			return Payment{}, err
		}
		p, err := findPayment(all, paymentID)
		switch {
		case err != nil:
			return Payment{}, err
		case !p.CopyDue() || p.Reversed(all):
			return Payment{}, act.NewConflict("no signed copy is due of this payment")
		}
		var f act.Fields
		p.CopyOn = f.ReadOn(r.On, today)
		if err := f.Err(); err != nil {
			return Payment{}, err
		}
		return p, tx.ReceiveCopy(p.ID, p.CopyOn, by.Actor.Person, s.now())
	})
}

// writePayment runs write once for a request.
func (s *Service) writePayment(ctx context.Context, by act.Act, w act.Write, write func(tx Tx, shop Shop, today act.Date) (Payment, error)) (Payment, error) {
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
func (s *Service) shopToday(tx Tx) (Shop, act.Date, error) {
	shop, err := tx.Shop()
	if err != nil {
		return Shop{}, act.Date{}, err
	}
	zone, err := time.LoadLocation(shop.Zone)
	return shop, act.DateOf(s.now().In(zone)), err
}

// cleanPayment is the faults of a payment, with those of a text that pages show.
func (s *Service) cleanPayment(f *act.Fields, shop Shop, field, text string) error {
	set, err := s.setOf(shop)
	if err != nil {
		return err
	}
	f.BarredInName(set, field, text)
	f.Hush(set)
	return f.Err()
}

// addSigned adds a payment with its id and who writes it down.
func addSigned(tx Tx, p Payment, by act.Act) (Payment, error) {
	id, err := act.NewID()
	if err != nil {
		return Payment{}, err
	}
	p.ID, p.By = id, by.Actor.Person
	return p, tx.AddPayment(p)
}

func findPayment(all []Payment, id string) (Payment, error) {
	i := slices.IndexFunc(all, func(p Payment) bool { return p.ID == id })
	if i < 0 {
		return Payment{}, &act.Error{Kind: act.NotFound, Message: measure.Say("that payment on this order isn’t here")}
	}
	return all[i], nil
}
