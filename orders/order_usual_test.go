package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// A quantity or a price far from the shop's own orders is asked about with the read-back,
// and taken once that is confirmed; in its first orders nothing is usual yet.
func TestWhatIsFarFromTheShopsOwnIsAskedAbout(t *testing.T) {
	y := newYard(t)
	odd := goodOrder()
	odd.Quantity, odd.PricePerCord = "10 cords", "3000"
	first, err := y.ReadBack(y.ctx, owner, odd)
	require.NoError(t, err)
	require.Empty(t, first.Unusual, "a shop without orders has nothing usual")
	for range 5 {
		y.take(goodOrder())
	}
	plain, err := y.ReadBack(y.ctx, owner, goodOrder())
	require.NoError(t, err)
	require.Empty(t, plain.Unusual)
	back, err := y.ReadBack(y.ctx, owner, odd)
	require.NoError(t, err)
	require.Len(t, back.Unusual, 2)
	require.Contains(t, back.Unusual[0].String(), "10 cords is far more than the shop's other orders, the largest of which is 1 cord")
	require.Contains(t, back.Unusual[1].String(), "30000.00 USD is far from the shop's other prices: this much wood was 2800.00 USD to 2800.00 USD")
	_, err = y.TakeOrder(y.ctx, y.act(), odd)
	require.ErrorContains(t, err, "far more than the shop's other orders", "through JSON too")
	odd.Confirmed = back.Confirm
	o, err := y.TakeOrder(y.ctx, y.act(), odd)
	require.NoError(t, err, "asked about, never refused")
	require.Equal(t, orders.Taken, o.State)
	cheap := goodOrder()
	cheap.PricePerCord = "28"
	back, err = y.ReadBack(y.ctx, owner, cheap)
	require.NoError(t, err)
	require.Len(t, back.Unusual, 1, "a nought too few")
}
