package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// The seller's tax number stands on the receipts issued after it was said, and on no other.
func TestATaxNumberStandsOnReceiptsFromThenOn(t *testing.T) {
	y := newYard(t)
	before := y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	require.Empty(t, before.Receipt.Facts.VendorTax)
	shop := goodShop()
	shop.Version, shop.TaxNumber = 2, "  GB 123 4567 89 "
	_, err := y.ChangeShop(y.ctx, y.act(), shop)
	require.NoError(t, err)
	after := y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{})
	require.Equal(t, "GB 123 4567 89", after.Receipt.Facts.VendorTax)
	shop.Version, shop.TaxNumber = 3, "two\nlines"
	_, err = y.ChangeShop(y.ctx, y.act(), shop)
	require.Contains(t, faults(t, err), "tax_number")
}
