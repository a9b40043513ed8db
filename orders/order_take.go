package orders

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// TakeOrder takes an order in the customer's words. It is Invalid with all faults. An
// order without any is read back first, under the field "confirmed" with the code
// "read-back": Accepts says what Confirmed must hold, and ReadBack what to say.
func (s *Service) TakeOrder(ctx context.Context, by act.Act, r OrderRequest) (Order, error) {
	w := act.Write{Verb: OrderTaken, May: act.ToManage, Content: r.unconfirmed()}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) { return s.takeOrder(tx, r) }, Tx.Order)
}

// unconfirmed is an order as typed without what was read back of it: sent again before it
// is read back again, it is the same order.
func (r OrderRequest) unconfirmed() OrderRequest {
	r.Confirmed = ""
	return r
}

func (s *Service) takeOrder(tx Tx, r OrderRequest) (id string, err error) {
	now := s.now()
	o := Order{Version: 1, Created: now, Changed: now}
	in, err := s.readOrder(tx, &o, r)
	if err == nil {
		err = in.agreed(tx, o)
	}
	if err != nil {
		return "", err
	}
	if o.ID, err = act.NewID(); err != nil {
		return "", err
	}
	if o.Customer.ID, err = act.NewID(); err != nil {
		return "", err
	}
	o.Customer.Version = 1
	if o.Number, err = tx.NextNumber(OrderNumbers); err != nil {
		return "", err
	}
	if err := s.recordCustomer(tx, &o.Customer, r.CustomerID); err != nil {
		return "", err
	}
	if err := tx.AddCustomer(o.Customer); err != nil {
		return "", err
	}
	return o.ID, tx.AddOrder(o)
}

// recordCustomer makes an order's customer one of those kept.
func (s *Service) recordCustomer(tx Tx, c *Customer, picked string) (err error) {
	c.Record, err = s.Customers.Of(tx, picked, c.Name, c.Address, c.Phone)
	if picked != "" && act.KindOf(err) == act.NotFound {
		return act.NewInvalid("customer_id", "unknown", picked, measure.Say("that customer isn’t kept here any more"), measure.Say("another, or none: then they are kept as somebody new"))
	}
	return err
}
