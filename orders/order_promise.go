package orders

import (
	"context"
	"slices"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/promise"
	"wellstowed/orders/yard"
)

// A PromiseRequest is wood that is asked about, as typed.
type PromiseRequest struct {
	Quantity    string `json:"quantity"` // in words, as an order's: "2 cords seasoned oak"
	Species     string `json:"species"`
	PieceLength string `json:"piece_length"`
	Seasoning   string `json:"seasoning"`
	Day         string `json:"day"` // as an order's: "before 15 December"
}

// asksOfWood are the fields that a promise is asked with.
var asksOfWood = []string{"quantity", "species", "piece_length", "seasoning", "day", "shop.zone"}

// CanPromise tells whether wood can be promised, and keeps nothing. It is Invalid where what
// was typed of it wasn't understood.
func (s *Service) CanPromise(ctx context.Context, who act.Actor, r PromiseRequest) (a promise.Answer, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return promise.Answer{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		var o Order
		in, err := s.readOrder(tx, &o, OrderRequest{Quantity: r.Quantity, Species: r.Species, PieceLength: r.PieceLength, Seasoning: r.Seasoning, Day: r.Day})
		if in == nil {
			return err
		}
		in.Faults = slices.DeleteFunc(in.Faults, func(f *measure.InputError) bool {
			return !slices.Contains(asksOfWood, f.Field) || f.Field == "piece_length" && f.Code == "missing"
		})
		if err := in.Err(); err != nil {
			return err
		}
		y, err := s.promised(tx, "")
		a = y.Ask(claim(o, o.Quantity))
		return err
	})
	return a, act.Fail(err)
}

// Promises gives what lies in the yard and what is promised of it.
func (s *Service) Promises(ctx context.Context, who act.Actor) (y promise.Yard, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return promise.Yard{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		y, err = s.promised(tx, "")
		return err
	})
	return y, act.Fail(err)
}

// promised is the yard as promises see it, without what an order with the id claims.
func (s *Service) promised(tx Tx, without string) (promise.Yard, error) {
	shop, err := tx.Shop()
	if err != nil {
		return promise.Yard{}, err
	}
	y := promise.Yard{Today: act.DayIn(s.now(), shop.Zone), Woods: []promise.Wood{}, Claims: []promise.Claim{}}
	batches, err := tx.Batches()
	if err != nil {
		return y, err
	}
	for _, b := range slices.Backward(batches) {
		h, err := yard.ReadBatch(tx, b.ID)
		if err != nil {
			return y, err
		}
		if h.Open() {
			y.Woods = append(y.Woods, woodOf(h.Batch))
		}
	}
	open, err := tx.OpenOrders()
	if err != nil {
		return y, err
	}
	for _, o := range open {
		if o.ID == without || o.State != Taken && o.State != PartLoad {
			continue
		}
		h := History{Order: o}
		if h.Loads, err = tx.Loads(o.ID); err != nil {
			return y, err
		}
		if due := h.Due(); due.Volume > 0 {
			y.Claims = append(y.Claims, claim(o, due))
		}
	}
	return y, nil
}

// woodOf is a batch as promises see it.
func woodOf(b yard.Batch) promise.Wood {
	w := promise.Wood{Batch: b.ID, Name: b.Name, Species: b.Species, PieceLength: b.PieceLength, Left: b.Left}
	if d := b.Drying(); d != nil {
		w.Dry, w.DryLatest = act.DateOf(d.Forecast.Ready(d.From.Midnight()).Likely), d.Latest
	}
	return w
}

// claim is what an order has still to come.
func claim(o Order, due measure.Quantity) promise.Claim {
	c := promise.Claim{ID: o.ID, Order: o.Number, Species: o.Species, PieceLength: o.PieceLength, Dry: o.Seasoning.Dry(), Wood: due, SetAside: o.SetAside}
	if !o.Day.Open() {
		c.By = o.Day.Due()
	}
	return c
}

// promise tells whether an order can be promised, nil where no batch is kept; it is worked
// out once.
func (in *orderReader) promise(tx Tx, o Order) (*promise.Answer, error) {
	if in.answer != nil || o.Quantity.Volume <= 0 {
		return in.answer, nil
	}
	y, err := in.service.promised(tx, o.ID)
	if err != nil || len(y.Woods) == 0 {
		return nil, err
	}
	a := y.Ask(claim(o, o.Quantity))
	in.answer = &a
	return in.answer, nil
}

// overPromised says why an order can't be promised from the yard, if it can't.
func overPromised(a *promise.Answer) []measure.Text {
	switch {
	case a == nil || a.Word == promise.Yes:
		return nil
	case a.Word == promise.Later:
		return []measure.Text{measure.Say("by the batches it can’t be promised before %s: by the day asked for %s is free", a.NotBefore.Text(), a.Free)}
	case a.Free.Volume == 0:
		return []measure.Text{measure.Say("by the batches no such wood is free: all of it would be promised twice, or has to come from elsewhere")}
	}
	return []measure.Text{measure.Say("by the batches %s of such wood is free: %s would be promised twice, or has to come from elsewhere", a.Free, a.Lacking)}
}
