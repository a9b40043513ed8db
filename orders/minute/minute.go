// Package minute keeps a delivery for a minute before its receipt is numbered, so that it can
// be taken back: a numbered receipt can only be corrected or made void.
package minute

import (
	"context"
	"errors"
	"time"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// Long is how long a delivery can be taken back.
const Long = time.Minute

// The acts.
const (
	Put       act.Verb = "put a delivery down"
	TakenBack act.Verb = "take a delivery back"
)

// A Delivery is one whose receipt is not numbered yet. It goes once that is, or once it is
// taken back.
type Delivery struct {
	ID      string             `json:"id" names:"erased"` // of the request that its receipt is made by
	OrderID string             `json:"order_id" names:"erased"`
	Request orders.LoadRequest `json:"request" names:"erased"`
	By      act.Actor          `json:"by" names:"erased"`
	Clock   string             `json:"clock" names:"erased"` // as in act.Act
	At      time.Time          `json:"at"`
	Due     time.Time          `json:"due"`
	// Says is the hash of what the receipt was to say as it was put down.
	Says string `json:"says" names:"erased"`
	// Numbering tells that it is being numbered, and can't be taken back any more.
	Numbering bool `json:"numbering"`
}

// Tx is what a delivery that waits needs of a transaction.
type Tx interface {
	act.Requests
	orders.ClockStore
	Order(id string) (orders.Order, error)
	// Waiting gives the delivery of an order that waits, NotFound where none does.
	Waiting(orderID string) (Delivery, error)
	// AllWaiting are those of all orders, first due first.
	AllWaiting() ([]Delivery, error)
	KeepWaiting(d Delivery) error // a new one, or a changed one
	DropWaiting(orderID string) error
}

// Service puts deliveries down, takes them back, and numbers their receipts.
type Service struct {
	acts   act.Doer[Tx]
	orders *orders.Service
}

// New makes a Service over a store, with the orders that it delivers and a clock.
func New(store act.Store[Tx], sold *orders.Service, clock func() time.Time) *Service {
	return &Service{acts: act.Doer[Tx]{Store: store, Now: act.Clock(clock)}, orders: sold}
}

// Put keeps a delivery for a minute. It is refused as Deliver of orders refuses it, and is
// Conflict where one of that order waits.
func (s *Service) Put(ctx context.Context, by act.Act, orderID string, r orders.LoadRequest) (Delivery, error) {
	would, err := s.orders.TryDeliver(ctx, by.Actor, orderID, r)
	if err != nil {
		return Delivery{}, err
	}
	says, err := said(would)
	if err != nil {
		return Delivery{}, act.Fail(err)
	}
	w := act.Write{Verb: Put, Subject: orderID, May: act.ToDeliver, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		now := s.acts.Now()
		if err := orders.SureOfClock(tx, now, by); err != nil {
			return "", err
		}
		_, err := tx.Waiting(orderID)
		if err == nil {
			return "", act.NewConflict("a delivery of this order was put down before, and its receipt isn’t numbered yet")
		}
		if act.KindOf(err) != act.NotFound {
			return "", err
		}
		id, err := act.NewID()
		if err != nil {
			return "", err
		}
		return orderID, tx.KeepWaiting(Delivery{ID: id, OrderID: orderID, Request: r, By: act.Actor{ID: by.Actor.ID, Person: by.Actor.Person, Role: by.Actor.Role}, Clock: by.Clock, At: now, Due: now.Add(Long), Says: says})
	}, put)
}

// put is a delivery as it was put down; of one that is numbered by now, or was taken back, its
// order alone.
func put(tx Tx, orderID string) (Delivery, error) {
	d, err := tx.Waiting(orderID)
	if act.KindOf(err) == act.NotFound {
		return Delivery{OrderID: orderID}, nil
	}
	return d, err
}

// said is the hash of what a receipt says, its number and what follows on others aside.
func said(r orders.Receipt) (string, error) {
	r.Facts.Number, r.Facts.Issued, r.Facts.Previous, r.Signature = 0, time.Time{}, "", nil
	text, err := ledger.Canonical(r)
	return ledger.Hash(text), err
}

// Waiting gives the delivery of an order that waits, NotFound where none does.
func (s *Service) Waiting(ctx context.Context, who act.Actor, orderID string) (d Delivery, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Delivery{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		d, err = tx.Waiting(orderID)
		return err
	})
	return d, act.Fail(err)
}

// All are the deliveries that wait, first due first.
func (s *Service) All(ctx context.Context, who act.Actor) (all []Delivery, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		all, err = tx.AllWaiting()
		return err
	})
	return all, act.Fail(err)
}

// TakeBack ends a delivery that waits; no receipt is made. It is Conflict once its receipt is
// being numbered, NotFound where none waits.
func (s *Service) TakeBack(ctx context.Context, by act.Act, orderID string) error {
	w := act.Write{Verb: TakenBack, Subject: orderID, May: act.ToDeliver}
	_, err := act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		d, err := tx.Waiting(orderID)
		if err != nil {
			return "", err
		}
		if d.Numbering {
			return "", act.NewConflict("its receipt is being numbered: it can only be corrected or made void now")
		}
		return orderID, tx.DropWaiting(orderID)
	}, act.Nothing)
	return err
}

// Number makes the receipt of a delivery that waits, in the name of who put it down. What
// would say something else by now than it did then is Conflict, and goes on waiting to be taken
// back.
func (s *Service) Number(ctx context.Context, orderID string) (orders.Issued, error) {
	d, err := s.claim(ctx, orderID)
	if err != nil {
		return orders.Issued{}, act.Fail(err)
	}
	issued, err := s.number(ctx, d)
	done := act.Fail(s.acts.Store.Write(ctx, func(tx Tx) error {
		if err == nil {
			return tx.DropWaiting(orderID)
		}
		if _, gone := tx.Waiting(orderID); gone != nil { // another numbered it meanwhile
			return nil
		}
		d.Numbering = false
		return tx.KeepWaiting(d)
	}))
	return issued, errors.Join(err, done)
}

// claim marks a delivery as being numbered, from when on it can't be taken back.
func (s *Service) claim(ctx context.Context, orderID string) (d Delivery, err error) {
	err = s.acts.Store.Write(ctx, func(tx Tx) error {
		if d, err = tx.Waiting(orderID); err != nil {
			return err
		}
		d.Numbering = true
		return tx.KeepWaiting(d)
	})
	return d, err
}

func (s *Service) number(ctx context.Context, d Delivery) (orders.Issued, error) {
	by := act.Act{Actor: d.By, Request: d.ID, Clock: d.Clock}
	return s.orders.DeliverSigned(ctx, by, d.OrderID, d.Request, d.At, func(would orders.Receipt) error {
		says, err := said(would)
		if err == nil && says != d.Says {
			err = act.NewConflict("what the receipt would say has changed since it was delivered; take it back, look at it, and deliver again")
		}
		return err
	})
}

// NumberDue makes the receipts of those whose minute is over. One that can't be made is left
// to wait, and named in the error.
func (s *Service) NumberDue(ctx context.Context) error {
	var due []Delivery
	err := s.acts.Store.Read(ctx, func(tx Tx) (err error) {
		due, err = tx.AllWaiting()
		return err
	})
	now := s.acts.Now()
	for _, d := range due {
		if d.Due.After(now) {
			continue
		}
		if _, failed := s.Number(ctx, d.OrderID); failed != nil && act.KindOf(failed) != act.NotFound {
			err = errors.Join(err, failed)
		}
	}
	return act.Fail(err)
}

// Left is how long a delivery can still be taken back, 0 where its minute is over.
func (d Delivery) Left(now time.Time) time.Duration { return max(d.Due.Sub(now), 0) }
