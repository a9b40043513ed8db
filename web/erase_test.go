package web_test

import (
	"net/http"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/receipts"
)

func TestOldNamesAreErasedFromThePage(t *testing.T) {
	d := withShop(t)
	painter, err := receipts.New()
	require.NoError(t, err)
	old := orders.New(d.db, painter, func() time.Time { return testClock().AddDate(-2, 0, 0) })
	act := func() orders.Act {
		return orders.Act{Actor: orders.Actor{Person: "Odell", Role: orders.Owner}, Request: uuid.NewString()}
	}
	o, err := old.TakeOrder(t.Context(), act(), orders.OrderRequest{CustomerName: "Zephyrine Ostrak", CustomerAddress: "77 Quillon Mews",
		Quantity: "1 cord", Species: "Red oak", PieceLength: "16 in", Seasoning: "seasoned", PriceTotal: "280"})
	require.NoError(t, err)
	_, err = old.Deliver(t.Context(), act(), o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	_, err = old.AddPayment(t.Context(), act(), o.ID, orders.PaymentRequest{Amount: "280", Method: "cash"})
	require.NoError(t, err)

	assert.Contains(t, d.get("/shop").body, `href="/shop/erase"`)
	p := d.get("/shop/erase")
	assert.Contains(t, p.body, "1 receipt is past what the rules ask to be kept: number 1")
	assert.Contains(t, p.body, "a cautious practice of this program")
	wrong := p.fill("How many receipts", "7").press("Erase the names")
	assert.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.Contains(t, wrong.body, `value="7"`, "what was typed stays")
	assert.Contains(t, d.get("/receipts/1").body, "Zephyrine Ostrak")
	done := wrong.fill("How many receipts", "1").press("Erase the names")
	require.Equal(t, http.StatusSeeOther, done.status)
	after := d.get(done.header.Get("Location")).body
	assert.Contains(t, after, "The names are erased.")
	assert.Contains(t, after, "Receipt 1")
	for _, path := range []string{"/", "/receipts/1", "/orders/" + o.ID, "/orders/new?again=" + o.ID} {
		assert.NotContains(t, d.get(path).body, "Zephyrine", path)
	}
	assert.Contains(t, d.get("/receipts/1").body, "Names erased on 20 November 2026.")
	assert.NotContains(t, d.get("/receipts/1").body, "/receipts/1/correct")
}
