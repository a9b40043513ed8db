package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
)

func newShop() orders.BeginRequest {
	return orders.BeginRequest{Name: "Alder Bend Firewood", Address: "4 Alder Lane\nHartwell", Zone: "America/New_York", Currency: "USD", RuleSet: "vermont", Price: "300"}
}

// Three questions make a shop: the first order is priced by its list.
func TestThreeQuestionsMakeAShop(t *testing.T) {
	y := bareYard(t)
	shop, err := y.Begin(y.ctx, y.act(), newShop())
	require.NoError(t, err)
	require.True(t, shop.Located)
	require.Equal(t, []string{"America/New_York", "USD", "vermont", "letter", "imperial"},
		[]string{shop.Zone, shop.Currency, shop.RuleSet, string(shop.Paper), string(shop.Units)})
	r := goodOrder()
	r.PricePerCord, r.PriceTotal, r.Quantity = "", "", "2 cords"
	require.EqualValues(t, 60000, y.take(r).Price.Wood.Minor)

	_, err = y.Begin(y.ctx, y.act(), newShop())
	requireKind(t, act.Conflict, err)
	_, err = y.Begin(y.ctx, act.Act{Actor: driver, Request: y.act().Request}, newShop())
	requireKind(t, act.Forbidden, err)
}

// Under rules without cords the price is of their unit, and the shop measures in metres.
func TestAShopBeginsByItsRules(t *testing.T) {
	y := bareYard(t)
	r := newShop()
	r.Zone, r.Currency, r.RuleSet, r.Price = "Europe/London", "GBP", "england", "150"
	shop, err := y.Begin(y.ctx, y.act(), r)
	require.NoError(t, err)
	require.Equal(t, []string{"a4", "metric"}, []string{string(shop.Paper), string(shop.Units)})
	list, err := y.Prices.List(y.ctx, owner)
	require.NoError(t, err)
	require.Len(t, list.Of(prices.Wood), 1)
	require.Equal(t, "1 m³", list.Of(prices.Wood)[0].Per.Volume.String())
}

// Nothing is taken for granted, and what is wrong is said once and saves nothing.
func TestAShopThatSaysNothingDoesNotBegin(t *testing.T) {
	y := bareYard(t)
	_, err := y.Begin(y.ctx, y.act(), orders.BeginRequest{})
	require.Equal(t, map[string]string{"name": "missing", "address": "missing", "zone": "missing", "currency": "missing", "rule_set": "missing"}, faults(t, err))
	bad := newShop()
	bad.Zone, bad.Price = "New York", "three hundred"
	_, err = y.Begin(y.ctx, y.act(), bad)
	require.Equal(t, map[string]string{"zone": "unknown", "price": "not-an-amount"}, faults(t, err))
	list, err := y.Prices.List(y.ctx, owner)
	require.NoError(t, err)
	require.Empty(t, list.Lines)
	bad = newShop()
	bad.Price = "0"
	_, err = y.Begin(y.ctx, y.act(), bad)
	require.Equal(t, map[string]string{"price": "nothing"}, faults(t, err))
	shop, err := y.Shop(y.ctx, owner)
	require.NoError(t, err)
	require.False(t, shop.Located, "a price that isn't one leaves no shop behind")
}
