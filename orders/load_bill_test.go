package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
)

// Three loads of an order for 1 cord at 100.01: each receipt asks for its share of
// the wood, the shares sum to the whole, fees are asked for once, and the deposit
// is taken off as far as it goes.
func TestLoadsShareTheirOrdersPrice(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Quantity, r.PricePerCord, r.DeliveryFee, r.StackingFee, r.Deposit = "1 cord", "100.01", "10", "", "60"
	r.OtherFee, r.OtherFeeFor = "", ""
	o := y.take(r)
	type row struct {
		delivered     string
		priced        measure.Quantity
		wood, deposit string
		fees          int
	}
	for i, want := range []row{
		{"1/3 cord", cords(1, 3), "33.34 USD", "43.34 USD", 1}, // 33.336…, and all of this load's 43.34
		{"1/3 cord", cords(1, 3), "33.33 USD", "16.66 USD", 0}, // 66.673… less 33.34, and what is left of 60
		{"1/2 cord", cords(1, 3), "33.34 USD", "0.00 USD", 0},  // the rest; 1/6 cord more than ordered is free
		{"1/8 cord", cords(0, 1), "0.00 USD", "0.00 USD", 0},   // wood brought afterwards costs nothing
	} {
		f := y.deliverAnyway(o.ID, orders.LoadRequest{Delivered: want.delivered}).Receipt.Facts
		got := row{want.delivered, f.Priced, f.Price.Wood.String(), f.Deposit.String(), len(f.Price.Fees)}
		require.Equal(t, want, got, "load %d", i+1)
	}
}
