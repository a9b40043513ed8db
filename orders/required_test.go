package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
	"wellstowed/orders"
)

// Each rule set makes a receipt with all it asks for, and none without. What each law
// asks for stands with its source in the set, and its known cases in
// measure/rules/sets_test.go.
func TestEachRuleSetMakesAReceiptWithAllItAsksFor(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		t.Run(set.Code, func(t *testing.T) {
			y := yardUnder(t, set.Code, "imperial")
			r := orderOf("64 cu ft stacked")
			r.Origin = "Slate County, Minnesota"
			f := y.deliver(y.take(r).ID, orders.LoadRequest{})
			for _, required := range set.Required {
				assert.NotEmpty(t, required.Source)
				holds, known := heldFields()[required.Code]
				require.True(t, known, required.Code)
				assert.True(t, holds(f.Receipt), required.Code)
			}
			assert.Equal(t, set.Code, f.Receipt.Facts.RuleSet.Code)
			y.refuseWithout(set, r)
		})
	}
}

// heldFields tell, for each field a rule set may require, whether a receipt holds it.
func heldFields() map[string]func(orders.Receipt) bool {
	return map[string]func(orders.Receipt) bool{
		"vendor-name":       func(r orders.Receipt) bool { return r.Facts.Vendor.Name != "" },
		"vendor-address":    func(r orders.Receipt) bool { return r.Facts.Vendor.Address != "" },
		"purchaser-name":    func(r orders.Receipt) bool { return r.Purchaser.Name != "" },
		"purchaser-address": func(r orders.Receipt) bool { return r.Purchaser.Address != "" },
		"delivered-date":    func(r orders.Receipt) bool { return r.Facts.DeliveredOn.String() == "2026-03-09" },
		"quantity":          func(r orders.Receipt) bool { return r.Facts.Delivered.Volume > 0 },
		"price-quantity":    func(r orders.Receipt) bool { return r.Facts.Priced.Volume > 0 },
		"price":             func(r orders.Receipt) bool { return r.Facts.Price.Wood.Minor > 0 },
		"identity":          func(r orders.Receipt) bool { return r.Facts.Species != "" },
		"piece-length":      func(r orders.Receipt) bool { return r.Facts.PieceLength > 0 },
		"seasoning":         func(r orders.Receipt) bool { return r.Facts.Seasoning != "" },
		"origin":            func(r orders.Receipt) bool { return r.Facts.Origin != "" },
		"number":            func(r orders.Receipt) bool { return r.Facts.Number > 0 },
	}
}

// refuseWithout leaves out one field after the other that a person may leave out.
func (y *yard) refuseWithout(set rules.Set, whole orders.OrderRequest) {
	y.t.Helper()
	for code, without := range map[string]struct {
		field string
		clear func(*orders.OrderRequest)
	}{
		"purchaser-address": {"order.customer_address", func(r *orders.OrderRequest) { r.CustomerAddress = "" }},
		"identity":          {"order.species", func(r *orders.OrderRequest) { r.Species = "" }},
		"seasoning":         {"order.seasoning", func(r *orders.OrderRequest) { r.Seasoning = "" }},
		"origin":            {"order.origin", func(r *orders.OrderRequest) { r.Origin = "" }},
	} {
		r := whole
		without.clear(&r)
		_, err := y.Deliver(y.ctx, y.act(), y.take(r).ID, orders.LoadRequest{})
		if !set.Requires(code) {
			require.NoError(y.t, err, "%s is not asked for", code)
			continue
		}
		require.Equal(y.t, map[string]string{without.field: "missing"}, faults(y.t, err), code)
	}
	shop, err := y.Shop(y.ctx, owner)
	require.NoError(y.t, err)
	bare := goodShop()
	bare.Version, bare.RuleSet, bare.Name, bare.Address = shop.Version, set.Code, "", ""
	_, err = y.ChangeShop(y.ctx, y.act(), bare)
	require.NoError(y.t, err)
	_, err = y.Deliver(y.ctx, y.act(), y.take(whole).ID, orders.LoadRequest{})
	require.Equal(y.t, map[string]string{"shop.name": "missing", "shop.address": "missing"}, faults(y.t, err))
}
