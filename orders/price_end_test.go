package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders/prices"
)

// Ending a price that is to come takes that back; what holds today goes on after its day.
func TestEndingAComingPriceKeepsTodays(t *testing.T) {
	y := newYard(t)
	_, err := y.Prices.Set(y.ctx, y.act(), prices.Request{Kind: "wood", Species: "oak", Price: "300"})
	require.NoError(t, err)
	coming, err := y.Prices.Set(y.ctx, y.act(), prices.Request{Kind: "wood", Species: "oak", Price: "350", From: "2026-04-01"})
	require.NoError(t, err)
	_, err = y.Prices.End(y.ctx, y.act(), coming.ID, prices.EndRequest{})
	require.NoError(t, err)
	list, err := y.Prices.List(y.ctx, owner)
	require.NoError(t, err)
	require.Empty(t, list.Coming)
	y.now = y.now.AddDate(0, 2, 0)
	list, err = y.Prices.List(y.ctx, owner)
	require.NoError(t, err)
	require.Len(t, list.Lines, 1)
	require.EqualValues(t, 30000, list.Lines[0].Price.Minor)
}
