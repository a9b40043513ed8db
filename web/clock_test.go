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
	"wellstowed/receipts"
)

// A clock in doubt is said on every page, and asked about where something is issued.
func TestAClockBehindTheLastPaperIsSaidAndAskedAbout(t *testing.T) {
	d := withShop(t)
	first, second := d.takeOrder("1 cord"), d.takeOrder("1 cord")
	painter, err := receipts.New()
	require.NoError(t, err)
	ahead := orders.New(d.db, painter, func() time.Time { return testClock().AddDate(0, 0, 3) })
	_, err = ahead.Deliver(t.Context(), act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()},
		first[len("/orders/"):], orders.LoadRequest{})
	require.NoError(t, err)

	const doubt = "This computer’s clock says it is 20 November 2026, but the last paper was issued on 23 November 2026."
	for _, path := range []string{"/", "/shop", "/measure", second, second + "/deliver"} {
		assert.Contains(t, d.get(path).body, doubt, path)
	}
	const strange = "The clock of the computer that this page comes from may be wrong, and so may its dates and times."
	link := d.buyersLink(1)
	assert.Contains(t, d.get(link).body, strange, "a buyer is told, and isn’t asked to set it")
	assert.NotContains(t, d.get(link).body, "Set its clock")
	form := d.get(second + "/deliver")
	asked := form.press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	require.Equal(t, http.StatusUnprocessableEntity, asked.press("Make the receipt").status, "not answered")
	made := asked.choose("The clock is right: today is 20 November 2026").press("Make the receipt")
	require.Equal(t, http.StatusSeeOther, made.status)
	assert.NotContains(t, d.get("/").body, doubt, "the last paper is of today")

	void := jsonRequest("/receipts/2/void", `{"reason":"typed twice"}`)
	require.Equal(t, http.StatusCreated, d.do(void).status)
}

func TestAProgramConfirmsTheClockByAHeader(t *testing.T) {
	d := withShop(t)
	first, second := d.takeOrder("1 cord"), d.takeOrder("1 cord")
	painter, err := receipts.New()
	require.NoError(t, err)
	old := orders.New(d.db, painter, func() time.Time { return testClock().AddDate(9, 0, 0) })
	sure := act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()}
	_, err = old.Deliver(t.Context(), sure, first[len("/orders/"):], orders.LoadRequest{})
	require.NoError(t, err)

	refused := d.postJSON(second+"/deliver", `{}`)
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.Contains(t, refused.body, `"field":"clock"`)
	assert.Contains(t, refused.body, `2026-11-20`)
	req := jsonRequest(second+"/deliver", `{}`)
	req.Header.Set("Clock-Confirmed", "2026-11-20")
	require.Equal(t, http.StatusCreated, d.do(req).status)
}
