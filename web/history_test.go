package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The history of an order says who did what and which fields were changed, and holds
// nothing of what was typed.
func TestAnOrderShowsItsHistory(t *testing.T) {
	d := withShop(t)
	path := d.takeFor("Ada Moss", "1 cord", "today")
	require.Equal(t, http.StatusSeeOther, d.get(path).inForm(path+"/day").fill("When", "tomorrow").press("Set the day").status)
	page := d.get(path + "/history")
	require.Equal(t, http.StatusOK, page.status)
	first := page.doc.Find("main li").First().Text()
	assert.Contains(t, first, "the owner set the day.")
	assert.Contains(t, first, "Changed: day from, day to.")
	assert.Contains(t, page.text(), "the owner took the order.")
	assert.NotContains(t, page.text(), "Ada Moss")
	assert.Equal(t, 1, d.get(path).doc.Find(`a[href="`+path+`/history"]`).Length())
	assert.Contains(t, d.getJSON(path+"/history").body, `"verb":"set day"`)
	assert.Equal(t, http.StatusNotFound, d.get("/orders/019c0000-0000-7000-8000-000000000001/history").status)
}
