package orders

import (
	"context"

	"wellstowed/orders/act"
)

// CancelOrder cancels an order of which no receipt is out.
func (s *Service) CancelOrder(ctx context.Context, by act.Act, id string, version int64) (Order, error) {
	w := act.Write{Verb: OrderCancelled, Subject: id, May: act.ToManage, Content: version}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		if _, err := s.openOrder(tx, id, version); err != nil {
			return "", err
		}
		return id, tx.CancelOrder(id, version, s.now())
	}, Tx.Order)
}
