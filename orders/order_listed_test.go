package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
)

func (y *sellerYard) price(r prices.Request) prices.Line {
	y.t.Helper()
	l, err := y.Prices.Set(y.ctx, y.act(), r)
	require.NoError(y.t, err)
	return l
}

// listed is a shop with a price list.
func listed(t *testing.T) *sellerYard {
	y := newYard(t)
	y.price(prices.Request{Kind: "wood", Species: "oak", Seasoning: "seasoned", Price: "300"})
	y.price(prices.Request{Kind: "wood", Species: "oak", Seasoning: "seasoned", Per: "1/2 cord", Price: "170"})
	y.price(prices.Request{Kind: "delivery", Place: "Alder Bend", Price: "25"})
	y.price(prices.Request{Kind: "stacking", Price: "60"})
	y.price(prices.Request{Kind: "least", Per: "1/2 cord"})
	return y
}

// unpriced is an order that leaves its price to the list.
func unpriced() orders.OrderRequest {
	r := goodOrder()
	r.Quantity, r.PricePerCord, r.DeliveryFee, r.DeliverTo, r.Stacked = "1 1/2 cords", "", "", "Alder Bend", "yes"
	return r
}

// An order without a price takes the list's of that day, and keeps it whatever becomes of
// the list.
func TestAnOrderTakesThePriceListAndKeepsIt(t *testing.T) {
	y := listed(t)
	o := y.take(unpriced())
	assert.Equal(t, "300.00 USD", o.Price.PerCord.String())
	assert.Equal(t, "450.00 USD", o.Price.Wood.String())
	assert.Equal(t, "565.00 USD", o.Price.Total().String(), "with 25 for delivery and 90 for stacking")
	half := unpriced()
	half.Quantity, half.Stacked = "half a cord", ""
	assert.Equal(t, "195.00 USD", y.take(half).Price.Total().String(), "half a cord has a price of its own")

	y.price(prices.Request{Kind: "wood", Species: "oak", Seasoning: "seasoned", Price: "330"})
	kept, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	assert.Equal(t, o.Price, kept.Order.Price)
	assert.Equal(t, "330.00 USD", y.take(unpriced()).Price.PerCord.String())

	back, err := y.ReadBack(y.ctx, owner, unpriced())
	require.NoError(t, err)
	y.price(prices.Request{Kind: "wood", Species: "oak", Seasoning: "seasoned", Price: "340"})
	late := unpriced()
	late.Confirmed = back.Confirm
	_, err = y.TakeOrder(y.ctx, y.act(), late)
	assert.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), "a list that changed since is read back again")
}

// What isn't as the list has it is asked about and never refused.
func TestWhatIsNotAsListedIsAskedAbout(t *testing.T) {
	y := listed(t)
	cheap := unpriced()
	cheap.Quantity, cheap.PricePerCord = "1/4 cord", "200"
	back, err := y.ReadBack(y.ctx, owner, cheap)
	require.NoError(t, err)
	require.Len(t, back.Unusual, 2)
	assert.Equal(t, "1/4 cord is less than your least order, which is 1/2 cord", back.Unusual[0].String())
	assert.Equal(t, "50.00 USD is far from your price list, by which this much wood is 85.00 USD", back.Unusual[1].String())
	cheap.Confirmed = back.Confirm
	_, err = y.TakeOrder(y.ctx, y.act(), cheap)
	require.NoError(t, err)
}

func TestAPriceThatIsNotListedIsAskedFor(t *testing.T) {
	y := listed(t)
	r := unpriced()
	r.Species, r.DeliverTo, r.StackingFee = "ash", "Nowhere", "20"
	_, err := y.ReadBack(y.ctx, owner, r)
	assert.Equal(t, map[string]string{"price_per_cord": "missing", "deliver_to": "unknown", "stacking_fee": "one-only"}, faults(t, err))
}

func TestLinesOfThePriceListAreRead(t *testing.T) {
	y := listed(t)
	for _, row := range []struct {
		r    prices.Request
		want map[string]string
	}{
		{prices.Request{Kind: "wood", Species: "ash", Price: "0"}, map[string]string{"price": "nothing"}},
		{prices.Request{Kind: "wood", Species: "face cord of ash", Per: "a face cord of 16 inch", Price: "120"}, map[string]string{"species": "barred", "per": "barred"}},
		{prices.Request{Kind: "wood", Species: "ash", Place: "x", Price: "lots", Seasoning: "wet", PieceLength: "long", From: "2020-01-01"},
			map[string]string{"from": "past", "place": "not-asked", "piece_length": "not-a-number", "seasoning": "unknown", "price": "not-an-amount"}},
		{prices.Request{Kind: "delivery", Price: ""}, map[string]string{"place": "missing", "price": "missing"}},
		{prices.Request{Kind: "least", Price: "3"}, map[string]string{"price": "not-asked", "per": "missing"}},
		{prices.Request{}, map[string]string{"kind": "unknown"}},
		{prices.Request{Kind: "wood", Species: "OAK", Seasoning: "seasoned", Price: "3000"}, map[string]string{"confirmed": "read-back"}},
	} {
		_, err := y.Prices.Set(y.ctx, y.act(), row.r)
		assert.Equal(t, row.want, faults(t, err), "%+v", row.r)
	}
	l := y.price(prices.Request{Kind: "wood", Species: "OAK", Seasoning: "seasoned", Price: "3000", Confirmed: "3000.00 USD"})
	_, err := y.Prices.End(y.ctx, y.act(), l.ID, prices.EndRequest{})
	require.NoError(t, err)
	list, err := y.Prices.List(y.ctx, driver)
	require.NoError(t, err)
	for _, l := range list.Of(prices.Wood) {
		assert.Equal(t, measure.Cord/2, l.Per.Volume, "the whole cord was ended")
	}
	_, err = y.Prices.Set(y.ctx, act.Act{Actor: driver, Request: newRequest()}, prices.Request{Kind: "wood", Price: "3"})
	assert.Equal(t, act.Forbidden, act.KindOf(err))
}
