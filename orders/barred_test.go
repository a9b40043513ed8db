package orders_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// No term that the rules bar reaches paper by a text that a person types. NIST
// Handbook 130, section 2.4.4: "face cord", "rack", "pile", "truckload".
func TestNoTypedTextBringsABarredTermToPaper(t *testing.T) {
	y := newYard(t)
	const several, one = "two face cords", "half a pile"
	for field, put := range map[string]func(*orders.OrderRequest, string){
		"species": func(r *orders.OrderRequest, text string) { r.Species = text },
		"origin":  func(r *orders.OrderRequest, text string) { r.Origin = text },
		"other_fee_for": func(r *orders.OrderRequest, text string) {
			r.OtherFee, r.OtherFeeFor = "5", text
		},
	} {
		for _, text := range []string{several, one} {
			r := goodOrder()
			put(&r, text)
			_, err := y.TakeOrder(y.ctx, y.act(), r)
			require.Equal(t, map[string]string{field: "barred"}, faults(t, err), text)
			assert.NotContains(t, err.Error(), text, "nor is it repeated")
		}
	}
	// A person may be called Rick and a road Pile Lane; only what can be nothing else
	// than a quantity is refused in a name.
	for field, put := range map[string]func(*orders.OrderRequest, string){
		"customer_name":    func(r *orders.OrderRequest, text string) { r.CustomerName = text },
		"customer_address": func(r *orders.OrderRequest, text string) { r.CustomerAddress = text },
		"notes":            func(r *orders.OrderRequest, text string) { r.Notes = text },
	} {
		r := goodOrder()
		put(&r, several)
		_, err := y.TakeOrder(y.ctx, y.act(), r)
		require.Equal(t, map[string]string{field: "barred"}, faults(t, err))
		put(&r, "Rick, 4 Pile Lane")
		y.take(r)
	}
	o := y.take(goodOrder())
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{PrintName: several})
	require.Equal(t, map[string]string{"print_name": "barred"}, faults(t, err))
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: plainTally(t, nil), ReadBy: several})
	require.Equal(t, map[string]string{"read_by": "barred"}, faults(t, err))
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: plainTally(t, nil), ReadBy: "Rick", PrintAddress: several})
	require.Equal(t, map[string]string{"print_address": "barred"}, faults(t, err))
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{ReadBy: "Rick", Document: plainTally(t, func(doc map[string]any) { doc["condition"] = one })})
	require.Equal(t, map[string]string{"condition": "barred"}, faults(t, err))
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{ReadBy: "Rick", Document: plainTally(t, func(doc map[string]any) {
		doc["stack"] = map[string]any{"kind": "load", "arrangement": "ranked", "nominal": "16 in", "calibrated": map[string]any{
			"volume": "64 cu ft", "on": "2026-03-01", "by": several, "line": "Rick’s mark"}}
	})})
	require.Equal(t, map[string]string{"stack.calibrated.by": "barred"}, faults(t, err))

	shop := goodShop()
	shop.Version, shop.Name = 2, "Two Face Cords"
	_, err = y.ChangeShop(y.ctx, y.act(), shop)
	require.Equal(t, map[string]string{"name": "barred"}, faults(t, err))
	shop.Name = "Rick’s Firewood"
	_, err = y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	issued := y.deliver(o.ID, orders.LoadRequest{})
	_, err = y.Void(y.ctx, y.act(), issued.Receipt.Facts.Number, orders.VoidRequest{Reason: "it was " + one})
	require.Equal(t, map[string]string{"reason": "barred"}, faults(t, err))
}

func plainTally(t *testing.T, change func(map[string]any)) []byte {
	t.Helper()
	doc := map[string]any{}
	require.NoError(t, json.NewDecoder(strings.NewReader(`{"format":1,"stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"8 ft","heights":["4 ft","4 ft","4 ft"]}]}}`)).Decode(&doc))
	if change != nil {
		change(doc)
	}
	b, err := json.Marshal(doc)
	require.NoError(t, err)
	return b
}
