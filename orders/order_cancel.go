package orders

import "context"

// CancelOrder cancels an order of which no receipt is out.
func (s *Service) CancelOrder(ctx context.Context, act Act, id string, version int64) (Order, error) {
	if err := allow(act.Actor, toManage); err != nil {
		return Order{}, err
	}
	e, err := begin(act, OrderCancelled, id)
	if err != nil {
		return Order{}, err
	}
	o, err := s.writeOrder(ctx, e, func(tx Tx) (string, error) {
		if _, err := s.openOrder(tx, id, version); err != nil {
			return "", err
		}
		return id, tx.CancelOrder(id, version, s.now())
	})
	return o, fail(err)
}
