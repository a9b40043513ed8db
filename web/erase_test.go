package web_test

import (
	"net/http"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/cases"
	"wellstowed/orders/privacy"
	"wellstowed/receipts"
)

func TestOldNamesAreErasedFromThePage(t *testing.T) {
	d := withShop(t)
	painter, err := receipts.New()
	require.NoError(t, err)
	old := orders.New(d.db, painter, func() time.Time { return testClock().AddDate(-2, 0, 0) })
	now := func() act.Act {
		return act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()}
	}
	o, err := old.TakeOrder(t.Context(), now(), d.agreed(old, orders.OrderRequest{CustomerName: "Zephyrine Ostrak", CustomerAddress: "77 Quillon Mews",
		Quantity: "1 cord", Species: "Red oak", PieceLength: "16 in", Seasoning: "seasoned", PriceTotal: "280"}))
	require.NoError(t, err)
	sure := now()
	sure.Clock = testClock().AddDate(-2, 0, 0).Format(time.DateOnly)
	_, err = old.Deliver(t.Context(), sure, o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	_, err = old.AddPayment(t.Context(), now(), o.ID, orders.PaymentRequest{Amount: "280", Method: "cash"})
	require.NoError(t, err)

	assert.Contains(t, d.get("/shop").body, `href="/shop/erase"`)
	p := d.get("/shop/erase")
	assert.Contains(t, p.body, "1 receipt is past what the rules ask to be kept: number 1")
	assert.Contains(t, p.body, "a cautious practice of this program")
	asked := p.fill("How many in all", "7").press("Erase the names")
	assert.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Contains(t, asked.text(), "the last paper was issued on 20 November 2024, more than a year before")
	wrong := asked.choose("The clock is right: today is 20 November 2026").press("Erase the names")
	assert.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.Contains(t, wrong.body, `value="7"`, "what was typed stays")
	assert.Contains(t, d.get("/receipts/1").body, "Zephyrine Ostrak")
	done := wrong.fill("How many in all", "1").press("Erase the names")
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

// What belongs to no receipt is listed, goes by the same button, and its pages say so.
func TestNamesWithoutAReceiptAreErasedFromThePage(t *testing.T) {
	d := withShop(t)
	painter, err := receipts.New()
	require.NoError(t, err)
	old := orders.New(d.db, painter, func() time.Time { return testClock().AddDate(-2, 0, 0) })
	now := func() act.Act {
		return act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()}
	}
	wanted := orders.OrderRequest{CustomerName: "Zephyrine Ostrak", CustomerAddress: "77 Quillon Mews", Quantity: "1 cord", Species: "Red oak",
		PieceLength: "16 in", Seasoning: "seasoned", PriceTotal: "280"}
	o, err := old.TakeOrder(t.Context(), now(), d.agreed(old, wanted))
	require.NoError(t, err)
	_, err = old.CancelOrder(t.Context(), now(), o.ID, 1)
	require.NoError(t, err)
	w, err := old.Wait(t.Context(), now(), orders.WishRequest{Order: wanted})
	require.NoError(t, err)
	_, err = old.DropWish(t.Context(), now(), w.ID, orders.DropRequest{Reason: "found some elsewhere"})
	require.NoError(t, err)
	c, err := cases.New(d.db.Cases(), old.Rules(), painter, func() time.Time { return testClock().AddDate(-2, 0, 0) }).OpenCase(t.Context(), now(), cases.Request{Quantity: "1 cord", SellerName: "Quillon Wood", BuyerName: "Zephyrine Ostrak", DeliveredOn: "2024-11-02"})
	require.NoError(t, err)

	p := d.get("/shop/erase")
	assert.Contains(t, p.body, "Past the time they are kept for: cancelled order 1; 1 place dropped from the waiting list; 1 record of wood you bought elsewhere")
	assert.Contains(t, p.body, "Type the number 3 to say that you mean it.")
	assert.Contains(t, p.body, "Paper copies, and copies of the database made before.", "what it does not reach")
	done := p.fill("How many in all", "3").press("Erase the names")
	require.Equal(t, http.StatusSeeOther, done.status)
	assert.Contains(t, d.get("/shop/erase").body, "Cancelled order 1; 1 place dropped from the waiting list; 1 record of wood you bought elsewhere")
	own := "/buying/case/" + c.Case.ID
	for _, path := range []string{"/", "/waiting", "/orders/" + o.ID, own, "/buying"} {
		assert.NotContains(t, d.get(path).body, "Zephyrine", path)
		assert.NotContains(t, d.get(path).body, "Quillon", path)
	}
	assert.Contains(t, d.get(own).body, "Names erased on 20 November 2026.")
	assert.NotContains(t, d.get(own).body, `action="`+own)
}

// erasedWithItsOrder erases the names of the only order three years later, and looks at
// the page of its closed audit.
func (d *desk) erasedWithItsOrder(audit string) {
	d.t.Helper()
	painter, err := receipts.New()
	require.NoError(d.t, err)
	later := orders.New(d.db, painter, func() time.Time { return testClock().AddDate(3, 0, 0) })
	now := func() act.Act {
		return act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()}
	}
	h, err := later.History(d.t.Context(), now().Actor, d.orders()[0].ID)
	require.NoError(d.t, err)
	_, err = later.AddPayment(d.t.Context(), now(), h.Order.ID, orders.PaymentRequest{Amount: h.Balance.Due.Amount(), Method: "cash"})
	require.NoError(d.t, err)
	eraser := privacy.New(d.db.Erasing(), later.Rules(), func() time.Time { return testClock().AddDate(3, 0, 0) })
	plan, err := eraser.Plan(d.t.Context(), now().Actor)
	require.NoError(d.t, err)
	_, err = eraser.Erase(d.t.Context(), act.Act{Actor: now().Actor, Request: uuid.NewString(), Clock: "2029-11-20"}, privacy.Request{Plan: plan.Code, Confirmed: "1"})
	require.NoError(d.t, err)
	page := d.get(audit)
	assert.Contains(d.t, page.text(), "Names erased on 20 November 2029.")
	assert.Contains(d.t, page.text(), "Result: short.", "the result stays")
	for _, gone := range []string{"Less than was paid for", "Una Reed", "nobody wrote it down", `/pdf"`} {
		assert.NotContains(d.t, page.body, gone)
	}
	assert.Zero(d.t, page.doc.Find("main form").Length())
	assert.Equal(d.t, http.StatusConflict, d.get(audit+"/pdf").status)
	assert.Contains(d.t, d.get("/shop/erase").text(), "Receipt 1; audit 1")
}
