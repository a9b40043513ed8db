package orders

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// ChangeOrder saves over an order as typed. It is Conflict when r.Version is not
// the latest, when a receipt is out, when the order is cancelled, and when a
// measured quantity would change. Another quantity or another total is read back first,
// as TakeOrder does.
func (s *Service) ChangeOrder(ctx context.Context, by act.Act, id string, r OrderRequest) (Order, error) {
	w := act.Write{Verb: OrderChanged, Subject: id, May: act.ToManage, Content: r.unconfirmed()}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) { return id, s.changeOrder(tx, id, r) }, Tx.Order)
}

func (s *Service) changeOrder(tx Tx, id string, r OrderRequest) error {
	o, err := s.openOrder(tx, id, r.Version)
	if err != nil {
		return err
	}
	before := o
	in, err := s.readOrder(tx, &o, r)
	if err != nil {
		return err
	}
	if err := measuredAsIs(tx, before, o.Quantity); err != nil {
		return err
	}
	if o.Quantity != before.Quantity || o.Price.Total() != before.Price.Total() {
		if err := in.agreed(tx, o); err != nil {
			return err
		}
	}
	o.Changed = s.now()
	if o.Customer != before.Customer {
		if err := s.recordCustomer(tx, &o.Customer, o.Customer.Record); err != nil {
			return err
		}
		if err := tx.ChangeCustomer(o.Customer); err != nil {
			return err
		}
	}
	return tx.ChangeOrder(o)
}

// measuredAsIs refuses another quantity once a tally was held against the one
// there is.
func measuredAsIs(tx Tx, o Order, to measure.Quantity) error {
	if to == o.Quantity {
		return nil
	}
	tallies, err := tx.Tallies(o.ID)
	if err != nil || len(tallies) == 0 {
		return err
	}
	return act.NewConflict("measurement sheet %d holds the wood against %s; for another quantity cancel this order and take a new one",
		int(tallies[0].Sheet), o.Quantity)
}

// openOrder gives an order that may still be changed, at the version that was
// seen.
func (s *Service) openOrder(tx Tx, id string, version int64) (Order, error) {
	o, err := tx.Order(id)
	if err != nil {
		return Order{}, err
	}
	refs, err := tx.ReceiptRefs(id)
	switch {
	case err != nil:
		return Order{}, err
	case len(refs) > 0:
		return Order{}, act.NewConflict("a receipt is out; order %d stays as receipt %d says", int(o.Number), int(refs[0].Number))
	}
	return o, o.stands(version)
}

// seenOrder gives an order that isn't cancelled, at the version that was seen, whether or not
// receipts are out.
func seenOrder(tx Tx, id string, version int64) (Order, error) {
	o, err := tx.Order(id)
	if err != nil {
		return Order{}, err
	}
	return o, o.stands(version)
}

// stands refuses an order that is cancelled or was changed since it was seen.
func (o Order) stands(version int64) error {
	switch {
	case o.State == Cancelled:
		return act.NewConflict("order %d is cancelled; take a new one", int(o.Number))
	case version != o.Version:
		return act.NewConflict("somebody else changed order %d first; look at it as it is now and change it again", int(o.Number))
	}
	return nil
}
