package orders_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
	"wellstowed/orders"
)

// A ticketField is a field that a rule set may ask of a receipt: where it stands on one,
// what it is called where it is missing, and how a person leaves it out; clear is nil
// where nobody can.
type ticketField struct {
	holds func(orders.Receipt) bool
	place string
	clear func(*orders.OrderRequest, *orders.LoadRequest)
}

func ticketFields() map[string]ticketField {
	type (
		o = *orders.OrderRequest
		l = *orders.LoadRequest
	)
	return map[string]ticketField{
		"vendor-name":          {func(r orders.Receipt) bool { return r.Facts.Vendor.Name != "" }, "shop.name", nil},
		"vendor-address":       {func(r orders.Receipt) bool { return r.Facts.Vendor.Address != "" }, "shop.address", nil},
		"purchaser-name":       {func(r orders.Receipt) bool { return r.Purchaser.Name != "" }, "", nil},
		"purchaser-address":    {func(r orders.Receipt) bool { return r.Purchaser.Address != "" }, "customer_address", func(r o, _ l) { r.CustomerAddress = "" }},
		"delivered-date":       {func(r orders.Receipt) bool { return r.Facts.DeliveredOn.String() == "2026-03-09" }, "", nil},
		"quantity":             {func(r orders.Receipt) bool { return r.Facts.Delivered.Volume > 0 }, "", nil},
		"price-quantity":       {func(r orders.Receipt) bool { return r.Facts.Priced.Volume > 0 }, "", nil},
		"price":                {func(r orders.Receipt) bool { return r.Facts.Price.Wood.Minor > 0 }, "", nil},
		"identity":             {func(r orders.Receipt) bool { return r.Facts.Species != "" }, "order.species", func(r o, _ l) { r.Species = "" }},
		"piece-length":         {func(r orders.Receipt) bool { return r.Facts.PieceLength > 0 }, "", nil},
		"seasoning":            {func(r orders.Receipt) bool { return r.Facts.Seasoning != "" }, "order.seasoning", func(r o, _ l) { r.Seasoning = "" }},
		"origin":               {func(r orders.Receipt) bool { return r.Facts.Origin != "" }, "order.origin", func(r o, _ l) { r.Origin = "" }},
		"number":               {func(r orders.Receipt) bool { return r.Facts.Number > 0 }, "", nil},
		"measurer-name":        {func(r orders.Receipt) bool { return r.Measurer.Name != "" }, "measured_by", func(_ o, r l) { r.MeasurerName = "" }},
		"measurer-address":     {func(r orders.Receipt) bool { return r.Measurer.Address != "" }, "measured_by_address", func(_ o, r l) { r.MeasurerAddress = "" }},
		"package-count":        {func(r orders.Receipt) bool { return r.Facts.Ticket.Packages > 0 }, "", nil},
		"unit-price":           {func(r orders.Receipt) bool { return r.Facts.Price.PerCord.Minor > 0 || r.Facts.Price.PerUnit.Minor > 0 }, "order.price_per_cord", nil},
		"stack-size":           {func(r orders.Receipt) bool { return r.Facts.Ticket.StackSize != "" }, "stack_size", func(_ o, r l) { r.StackSize = "" }},
		"drying-time":          {func(r orders.Receipt) bool { return r.Facts.Ticket.DriedFor != "" }, "dried_for", func(_ o, r l) { r.DriedFor = "" }},
		"drying-manner":        {func(r orders.Receipt) bool { return r.Facts.Ticket.DriedHow != "" }, "dried_how", func(_ o, r l) { r.DriedHow = "" }},
		"moisture-certificate": {func(r orders.Receipt) bool { return r.Facts.Ticket.MoistureCertificate != "" }, "moisture_certificate", func(_ o, r l) { r.MoistureCertificate = "" }},
		"heat-certificate":     {func(r orders.Receipt) bool { return r.Facts.Certificate != "" }, "order.certificate", func(r o, _ l) { r.Certificate = "" }},
	}
}

// Each rule set makes a receipt with all it asks for, none without, and one without what
// an office only advises. What each law asks for stands with its source in the set, and
// its known cases in measure/rules/sets_test.go.
func TestEachRuleSetMakesAReceiptWithAllItAsksFor(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.All() {
		t.Run(set.Code, func(t *testing.T) {
			units := "imperial"
			if set.SoldIn(false) == rules.CubicMetre {
				units = "metric"
			}
			y := yardUnder(t, set.Code, units)
			order, load := wholeSale(set)
			issued := y.deliver(y.take(order).ID, load)
			for _, required := range set.Required {
				field, known := ticketFields()[required.Code]
				require.True(t, known, required.Code)
				assert.True(t, field.holds(issued.Receipt), required.Code)
			}
			assert.Equal(t, set.Code, issued.Receipt.Facts.RuleSet.Code)
			y.refuseWithout(set)
		})
	}
}

// wholeSale is an order and its load with everything that any rule set asks for.
func wholeSale(set rules.Set) (orders.OrderRequest, orders.LoadRequest) {
	r := orderOf("64 cu ft stacked")
	if set.SoldIn(false) == rules.CubicMetre {
		r.Quantity = "1.8 m³ stacked"
	}
	r.Origin, r.Certificate, r.PieceLength = "Slate County, Minnesota", "HT-1", "16 in"
	if set.Requires("unit-price") {
		r.PricePerCord, r.PriceTotal = "280", ""
	}
	return r, orders.LoadRequest{TicketRequest: orders.TicketRequest{
		MeasurerName: "Nora Feld", MeasurerAddress: "1 Mill Road", PackageCount: "3", StackSize: "12 ft × 4 ft × 16 in",
		Moving: wayOf(set), DriedFor: "14 months", DriedHow: "split, stacked in the open, top covered", MoistureCertificate: "R2R-1",
	}}
}

// wayOf is the first way that wood is sold under the set's rules on moving it; empty without.
func wayOf(set rules.Set) string {
	if ways := set.Ways(); len(ways) > 0 {
		return ways[0].Code
	}
	return ""
}

// refuseWithout leaves out one field after the other that a person may leave out.
func (y *sellerYard) refuseWithout(set rules.Set) {
	y.t.Helper()
	for code, field := range ticketFields() {
		if field.clear == nil {
			continue
		}
		order, load := wholeSale(set)
		field.clear(&order, &load)
		_, err := y.Deliver(y.ctx, y.act(), y.take(order).ID, load)
		if !asked(set, code, load.Moving) {
			require.NoError(y.t, err, "%s is not asked for", code)
			continue
		}
		require.Equal(y.t, map[string]string{field.place: "missing"}, faults(y.t, err), code)
	}
	shop, err := y.Shop(y.ctx, owner)
	require.NoError(y.t, err)
	bare := goodShop()
	bare.Version, bare.RuleSet, bare.Units, bare.Name, bare.Address = shop.Version, set.Code, string(shop.Units), "", ""
	_, err = y.ChangeShop(y.ctx, y.act(), bare)
	require.NoError(y.t, err)
	missing := map[string]string{}
	for _, code := range []string{"vendor-name", "vendor-address"} {
		if asked(set, code, wayOf(set)) {
			missing[ticketFields()[code].place] = "missing"
		}
	}
	order, load := wholeSale(set)
	_, err = y.Deliver(y.ctx, y.act(), y.take(order).ID, load)
	if len(missing) == 0 {
		require.NoError(y.t, err)
		return
	}
	require.Equal(y.t, missing, faults(y.t, err))
}

// asked tells whether a set's law asks for a field of a sale above any price and below any
// quantity, which the buyer did not see measured, of wood that is sold in a way under its
// rules on moving it.
func asked(set rules.Set, code, way string) bool {
	if w := set.Way(way); w != nil && slices.Contains(w.Asks, code) {
		return true
	}
	if code == "drying-time" && set.Seasoned != nil {
		return true
	}
	for _, f := range set.Required {
		if f.Code == code {
			return !f.Advice
		}
	}
	return false
}
