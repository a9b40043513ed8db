package main

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/privacy"
	"wellstowed/orders/store"
	"wellstowed/receipts"
)

// oldDelivery hands over, measures and is paid for an order of three years ago in the
// database at path, and gives its receipt's number.
func oldDelivery(t *testing.T, path string, set rules.Set, metric bool) int64 {
	t.Helper()
	var d demo
	require.NoError(t, json.Unmarshal(demoScenario, &d))
	old := orderUnder(t, d.Orders[0], set, metric).Order
	old.CustomerName, old.CustomerAddress, old.Deposit, old.HalfLoad = "Zephyrine Ostrak", "77 Quillon Mews", "", "no"
	db, err := store.Open(t.Context(), path)
	require.NoError(t, err)
	defer db.Close()
	painter, err := receipts.New()
	require.NoError(t, err)
	service := orders.New(db, painter, func() time.Time { return testNow().AddDate(-3, 0, 0) })
	now := func() act.Act { return act.Act{Actor: atTheTerminal(), Request: uuid.NewString()} }
	read, err := service.ReadBack(t.Context(), atTheTerminal(), old)
	require.NoError(t, err)
	old.Confirmed = read.Confirm
	o, err := service.TakeOrder(t.Context(), now(), old)
	require.NoError(t, err)
	sure := now() // that the clock is right, years back as it is
	sure.Clock = testNow().AddDate(-3, 0, 0).Format(time.DateOnly)
	issued, err := service.Deliver(t.Context(), sure, o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	_, err = service.AddPayment(t.Context(), now(), o.ID, orders.PaymentRequest{Amount: issued.Receipt.Facts.Balance().Amount(), Method: "cash"})
	require.NoError(t, err)
	return issued.Receipt.Facts.Number
}

// erasedPages erases the names of one old delivery, leaves those of another to be
// erased, and visits what is shown of both. It gives the erased receipt's page.
func (c *crawler) erasedPages(path string) string {
	gone := oldDelivery(c.t, path, c.set, c.metric)
	number := fmt.Sprint(gone)
	_, plan := c.fetch("/shop/erase", "application/json")
	var now privacy.Plan
	require.NoError(c.t, json.Unmarshal(plan, &now))
	require.Equal(c.t, []int64{gone}, now.Receipts)
	c.send("/shop/erase", map[string]string{"plan": now.Code, "confirmed": "1"})
	oldDelivery(c.t, path, c.set, c.metric)
	page := "/receipts/" + number
	for _, again := range []string{"/shop/erase", page, page + "/pdf"} {
		delete(c.seen, again)
		c.visit(again)
	}
	_, body := c.fetch(page, "text/html")
	assert.Contains(c.t, string(body), "Names erased on 20 November 2026.")
	_, paper := c.fetch(page+"/pdf", "application/pdf")
	if text := pdfText(c.t, paper); text != "" { // else the machine cannot read it
		assert.Contains(c.t, text, "This isn’t the paper that was delivered.")
		assert.NotContains(c.t, text, "Zephyrine")
	}
	return page
}
