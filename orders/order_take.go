package orders

import "context"

// TakeOrder takes an order in the customer's words. It is Invalid with all
// faults; a quantity in words that are no legal quantity is asked back under the
// field "confirmed", Code "read-back": Accepts then says what Confirmed must hold.
func (s *Service) TakeOrder(ctx context.Context, act Act, r OrderRequest) (Order, error) {
	if err := allow(act.Actor, toManage); err != nil {
		return Order{}, err
	}
	e, err := begin(act, OrderTaken, "")
	if err != nil {
		return Order{}, err
	}
	o, err := s.writeOrder(ctx, e, func(tx Tx) (string, error) { return s.takeOrder(tx, r) })
	return o, fail(err)
}

// writeOrder runs write, once for a request, and gives the order it names.
func (s *Service) writeOrder(ctx context.Context, e errand, write func(Tx) (id string, err error)) (o Order, err error) {
	err = s.store.Write(ctx, func(tx Tx) error {
		before, err := e.done(tx)
		if err != nil {
			return err
		}
		if before != nil {
			o, err = tx.Order(before.Result)
			return err
		}
		id, err := write(tx)
		if err != nil {
			return err
		}
		if err := s.keep(tx, e, id); err != nil {
			return err
		}
		o, err = tx.Order(id)
		return err
	})
	return o, err
}

func (s *Service) takeOrder(tx Tx, r OrderRequest) (id string, err error) {
	shop, err := tx.Shop()
	if err != nil {
		return "", err
	}
	now := s.now()
	o := Order{Version: 1, Created: now, Changed: now}
	if err := s.readOrder(&o, shop, r); err != nil {
		return "", err
	}
	if o.ID, err = newID(); err != nil {
		return "", err
	}
	if o.Customer.ID, err = newID(); err != nil {
		return "", err
	}
	o.Customer.Version = 1
	if o.Number, err = tx.NextNumber(OrderNumbers); err != nil {
		return "", err
	}
	if err := tx.AddCustomer(o.Customer); err != nil {
		return "", err
	}
	return o.ID, tx.AddOrder(o)
}
