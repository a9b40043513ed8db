package orders

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// An AsideRequest is the batch that an order's wood is set aside from.
type AsideRequest struct {
	Batch   string `json:"batch"` // id; empty takes it back
	Version int64  `json:"version"`
}

// WoodSetAside is the verb of an order whose wood was set aside.
const WoodSetAside act.Verb = "set aside"

// SetAside sets wood of a batch aside for an order: nobody else is promised it, and a load is
// drawn from that batch unless another is said. It is Invalid where the batch holds nothing
// that is left, and Conflict where the order is cancelled or was changed since.
func (s *Service) SetAside(ctx context.Context, by act.Act, id string, r AsideRequest) (Order, error) {
	w := act.Write{Verb: WoodSetAside, Subject: id, May: act.ToManage, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) { return id, s.setAside(tx, id, r) }, Tx.Order)
}

func (s *Service) setAside(tx Tx, id string, r AsideRequest) error {
	o, err := seenOrder(tx, id, r.Version)
	if err != nil {
		return err
	}
	if r.Batch != "" {
		h, err := yard.ReadBatch(tx, r.Batch)
		if act.KindOf(err) == act.NotFound || err == nil && (!h.Open() || h.Left.Basis != o.Quantity.Basis) {
			return act.NewInvalid("batch", "not-there", "", measure.Say("nothing on the order’s measure is left in that batch"), measure.Say("a batch in use, or none"))
		}
		if err != nil {
			return err
		}
	}
	o.SetAside, o.Changed = r.Batch, s.now()
	return tx.ChangeOrder(o)
}
