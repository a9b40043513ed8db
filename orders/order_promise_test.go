package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/promise"
	"wellstowed/orders/yard"
)

// A yard of one batch: what is ordered of it is promised, what is delivered from it is gone,
// and more than there is, or sooner than it is dry, is asked about and still taken.
func TestOrdersArePromisedFromBatches(t *testing.T) {
	y := newYard(t)
	back, err := y.ReadBack(y.ctx, owner, goodOrder())
	require.NoError(t, err)
	require.Nil(t, back.Promise, "no batch is kept, so nothing is said")

	b, err := y.AddBatch(y.ctx, y.act(), yard.BatchRequest{Name: "north bay", Species: "red oak", Quantity: "3 cords", PieceLength: "16 in", Split: "2026-02-01"})
	require.NoError(t, err)
	green := goodOrder()
	green.Seasoning = "green"
	order := y.take(green)
	a, err := y.CanPromise(y.ctx, driver, orders.PromiseRequest{Quantity: "1 1/2 cords of oak"})
	require.NoError(t, err)
	assert.Equal(t, promise.Yes, a.Word)
	assert.Equal(t, "1/2 cord", a.Left.String())
	assert.Equal(t, "north bay", a.From[0].Name)

	soon := goodOrder()
	soon.Day = "before 15 April"
	back, err = y.ReadBack(y.ctx, owner, soon)
	require.NoError(t, err)
	require.Equal(t, promise.Later, back.Promise.Word)
	require.Contains(t, back.Unusual[0].String(), "by the batches it can’t be promised before "+back.Promise.NotBefore.Text().String())
	require.Equal(t, "north bay", back.Promise.From[0].Name)
	h, err := y.Batch(y.ctx, owner, b.ID)
	require.NoError(t, err)
	require.False(t, h.Drying().Soonest.After(back.Promise.NotBefore))
	require.False(t, back.Promise.NotBefore.After(h.Drying().Latest))
	_, err = y.TakeOrder(y.ctx, y.act(), soon)
	require.ErrorContains(t, err, "can’t be promised before", "through JSON too")
	soon.Confirmed = back.Confirm
	_, err = y.TakeOrder(y.ctx, y.act(), soon)
	require.NoError(t, err, "asked about, never refused")

	a, err = y.CanPromise(y.ctx, owner, orders.PromiseRequest{Quantity: "2 cords", Species: "red oak"})
	require.NoError(t, err)
	assert.Equal(t, promise.Short, a.Word)
	assert.Equal(t, measure.Cord, a.Free.Volume, "what can’t be had by its day is to come later, and holds its wood")
	_, err = y.Deliver(y.ctx, y.act(), order.ID, orders.LoadRequest{Batch: b.ID})
	require.NoError(t, err)
	after, err := y.CanPromise(y.ctx, owner, orders.PromiseRequest{Quantity: "2 cords", Species: "red oak"})
	require.NoError(t, err)
	assert.Equal(t, a.Free, after.Free, "what was promised is delivered now")
	_, err = y.CanPromise(y.ctx, owner, orders.PromiseRequest{Quantity: "a lot", Day: "when the cows come home"})
	got := faults(t, err)
	assert.Contains(t, got, "quantity")
	assert.Contains(t, got, "day")
}

// Wood set aside for an order is promised to nobody else, is drawn by default and can be
// taken back; a batch with nothing left, and a driver, are refused.
func TestWoodIsSetAsideForAnOrder(t *testing.T) {
	y := newYard(t)
	b, err := y.AddBatch(y.ctx, y.act(), yard.BatchRequest{Name: "north bay", Species: "white ash", Quantity: "2 cords", PieceLength: "16 in"})
	require.NoError(t, err)
	o := y.take(goodOrder()) // of oak, so that ash serves it only where it is set aside
	ash := func() measure.Volume {
		a, err := y.CanPromise(y.ctx, owner, orders.PromiseRequest{Quantity: "1 cord", Species: "white ash"})
		require.NoError(t, err)
		return a.Free.Volume
	}
	require.Equal(t, 2*measure.Cord, ash())
	o, err = y.SetAside(y.ctx, y.act(), o.ID, orders.AsideRequest{Batch: b.ID, Version: o.Version})
	require.NoError(t, err)
	require.Equal(t, b.ID, o.SetAside)
	require.Equal(t, measure.Cord, ash())
	_, err = y.SetAside(y.ctx, y.act(), o.ID, orders.AsideRequest{Version: o.Version - 1})
	require.Equal(t, act.Conflict, act.KindOf(err))
	_, err = y.SetAside(y.ctx, act.Act{Actor: driver, Request: newRequest()}, o.ID, orders.AsideRequest{Version: o.Version})
	require.Equal(t, act.Forbidden, act.KindOf(err))
	_, err = y.SetAside(y.ctx, y.act(), o.ID, orders.AsideRequest{Batch: newRequest(), Version: o.Version})
	require.Equal(t, map[string]string{"batch": "not-there"}, faults(t, err))
	_, err = y.SetAside(y.ctx, y.act(), o.ID, orders.AsideRequest{Version: o.Version})
	require.NoError(t, err)
	require.Equal(t, 2*measure.Cord, ash())
}
