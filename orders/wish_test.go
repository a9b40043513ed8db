package orders_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

func (y *sellerYard) wait(r orders.WishRequest) orders.Wish {
	y.t.Helper()
	w, err := y.Wait(y.ctx, y.act(), r)
	require.NoError(y.t, err)
	return w
}

// takeWish makes an order of a place on the list, as it was read back.
func (y *sellerYard) takeWish(w orders.Wish) (orders.Order, error) {
	y.t.Helper()
	return y.TakeWish(y.ctx, y.act(), w.ID, orders.OrderRequest{Confirmed: y.read(w.Request).Confirmed})
}

func (y *sellerYard) waiting() orders.WaitingList {
	y.t.Helper()
	list, err := y.Waiting(y.ctx, owner)
	require.NoError(y.t, err)
	return list
}

// The list is in the order of asking, with what is wanted together; a place on it may
// lack its price, and takes no order's number.
func TestTheWaitingListIsInTheOrderOfAsking(t *testing.T) {
	y := newYard(t)
	first := y.wait(orders.WishRequest{Order: goodOrder(), WantedFor: "until dry", WantedBy: "2026-10-01"})
	priceless := goodOrder()
	priceless.CustomerName, priceless.Quantity, priceless.PricePerCord = "Bo Lund", "1/2 cord", ""
	second := y.wait(orders.WishRequest{Order: priceless})
	list := y.waiting()
	require.Equal(t, []string{first.ID, second.ID}, []string{list.Waiting[0].ID, list.Waiting[1].ID})
	require.Equal(t, []measure.Quantity{cords(3, 2)}, list.Total)
	require.Equal(t, "305.00", list.Waiting[0].Price.Total().Amount())
	require.Equal(t, "until dry", list.Waiting[0].For)
	require.Empty(t, list.Waiting[1].Price.Wood.Currency)
	require.EqualValues(t, 1, y.take(goodOrder()).Number)
}

func TestAWishIsTakenOnceOrDropped(t *testing.T) {
	y := newYard(t)
	w := y.wait(orders.WishRequest{Order: goodOrder()})
	_, err := y.TakeWish(y.ctx, y.act(), w.ID, orders.OrderRequest{})
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), "nobody has heard the price yet")
	o, err := y.takeWish(w)
	require.NoError(t, err)
	require.Equal(t, "Ada Quill", o.Customer.Name)
	require.Equal(t, "305.00", o.Price.Total().Amount())
	_, err = y.TakeWish(y.ctx, y.act(), w.ID, orders.OrderRequest{})
	requireKind(t, act.Conflict, err)

	priceless := goodOrder()
	priceless.PricePerCord = ""
	w = y.wait(orders.WishRequest{Order: priceless})
	_, err = y.TakeWish(y.ctx, y.act(), w.ID, orders.OrderRequest{})
	require.Equal(t, map[string]string{"price_per_cord": "missing"}, faults(t, err))
	require.Len(t, y.waiting().Waiting, 1, "it waits on")
	_, err = y.DropWish(y.ctx, y.act(), w.ID, orders.DropRequest{})
	require.Equal(t, map[string]string{"reason": "missing"}, faults(t, err))
	_, err = y.DropWish(y.ctx, y.act(), w.ID, orders.DropRequest{Reason: "moved away"})
	require.NoError(t, err)
	list := y.waiting()
	require.Empty(t, list.Waiting)
	require.Empty(t, list.Total)
	require.ElementsMatch(t, []string{"moved away", ""}, []string{list.Ended[0].Dropped, list.Ended[1].Dropped})
	require.ElementsMatch(t, []string{o.ID, ""}, []string{list.Ended[0].OrderID, list.Ended[1].OrderID})
}

// Words that are no legal quantity are read back here too, and stay inside.
func TestWordsOfAWishStayInside(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Quantity = "two face cords of 16 inch"
	_, err := y.Wait(y.ctx, y.act(), orders.WishRequest{Order: r})
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err))
	r.Confirmed = "2/3 cord"
	y.wait(orders.WishRequest{Order: r})
	told, err := json.Marshal(y.waiting())
	require.NoError(t, err)
	require.NotContains(t, string(told), "face")
}

func TestWishFaults(t *testing.T) {
	y := newYard(t)
	_, err := y.Wait(y.ctx, y.act(), orders.WishRequest{WantedBy: "soon"})
	require.Equal(t, map[string]string{"customer_name": "missing", "quantity": "missing", "piece_length": "missing", "wanted_by": "not-a-date"}, faults(t, err))
	_, err = y.Wait(y.ctx, y.act(), orders.WishRequest{Order: goodOrder(), WantedBy: "soon"})
	require.Equal(t, map[string]string{"wanted_by": "not-a-date"}, faults(t, err))
	_, err = y.Wait(y.ctx, act.Act{Actor: driver, Request: newRequest()}, orders.WishRequest{Order: goodOrder()})
	requireKind(t, act.Forbidden, err)
	_, err = y.TakeWish(y.ctx, y.act(), newRequest(), orders.OrderRequest{})
	requireKind(t, act.NotFound, err)
}
