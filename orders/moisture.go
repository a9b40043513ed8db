package orders

import (
	"context"

	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// AddMoisture judges moisture readings of an order's wood and saves them; receipts
// issued from then on print the latest set. It is Invalid with all faults, Conflict
// for a cancelled order.
func (s *Service) AddMoisture(ctx context.Context, by act.Act, orderID string, r yard.MoistureRequest) (yard.Moisture, error) {
	return yard.AddMoisture(ctx, s.Service, s.acts, by, yard.Moisture{OrderID: orderID}, r, func(tx Tx) error {
		order, err := tx.Order(orderID)
		if err == nil {
			err = order.named()
		}
		if err == nil && order.State == Cancelled {
			err = act.NewConflict("order %d is cancelled; there is nothing of it to read", int(order.Number))
		}
		return err
	})
}

// LatestMoisture is the newest set of readings of the order's own wood, nil without
// one.
func (h History) LatestMoisture() *yard.Moisture { return yard.Newest(h.Moistures) }
