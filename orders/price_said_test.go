package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A price said in the line is the order's, by the cord or for all of the wood, before the
// price list's; a field that says otherwise is asked about.
func TestAPriceSaidInTheLineIsTheOrders(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.PricePerCord, r.PriceTotal = "", ""
	for line, want := range map[string][2]int64{
		"2 cords oak at $300":       {30000, 60000},
		"2 cords oak, $280 a cord":  {28000, 56000},
		"2 cords oak for 550":       {0, 55000},
		"$150 for half a cord, oak": {0, 15000},
	} {
		r.Quantity, r.Species = line, ""
		o := y.take(r)
		require.Equal(t, want, [2]int64{o.Price.PerCord.Minor, o.Price.Wood.Minor}, line)
	}
	r.Quantity = "2 cords oak at €300"
	_, err := y.ReadBack(y.ctx, owner, r)
	require.Equal(t, map[string]string{"price_per_cord": "not-an-amount"}, faults(t, err))
	r.Quantity, r.PricePerCord = "2 cords oak at $300", "300.00"
	require.EqualValues(t, 60000, y.take(r).Price.Wood.Minor, "said twice, the same")
	r.PricePerCord = "280"
	_, err = y.ReadBack(y.ctx, owner, r)
	require.Equal(t, map[string]string{"price_per_cord": "conflict"}, faults(t, err))
	r.PricePerCord, r.PriceTotal = "", "600"
	_, err = y.ReadBack(y.ctx, owner, r)
	require.Equal(t, map[string]string{"price_per_cord": "conflict"}, faults(t, err))
	r.Quantity, r.PriceTotal = "2 cords oak $300", ""
	_, err = y.ReadBack(y.ctx, owner, r)
	require.Equal(t, map[string]string{"quantity": "price"}, faults(t, err))
}
