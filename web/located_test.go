package web_test

import (
	"net/http"
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Before anybody said where a shop is nothing is priced and nothing is dated by a zone that
// was only assumed, and the pages say so.
func TestNothingIsPricedOrDatedBeforeTheShopSaysWhereItIs(t *testing.T) {
	d := newDesk(t)
	for path, body := range map[string]string{
		"/prices":  `{"kind":"wood","species":"oak","price":"300"}`,
		"/charges": `{"distance_rate":"3","version":1}`,
		"/orders":  `{"customer_name":"Ida","piece_length":"16 in","quantity":"1 cord","price_total":"300"}`,
	} {
		refused := d.postJSON(path, body)
		assert.Equal(t, http.StatusUnprocessableEntity, refused.status, "%s: %s", path, refused.body)
		assert.Contains(t, refused.body, `"field":"shop.zone"`, path)
	}
	for _, path := range []string{"/orders", "/orders/new", "/prices", "/prices/new", "/charges", "/season"} {
		page := d.get(path)
		require.Equal(t, http.StatusOK, page.status, path)
		assert.Contains(t, page.text(), "Nobody has said yet in which time zone and currency the shop sells.", path)
		assert.NotContains(t, page.text(), "$", path)
	}
	audit := d.get("/audits/new")
	assert.Equal(t, "zone", audit.doc.Find("#zone").AttrOr("data-offer", ""), "the browser proposes it")
	refused := d.post("/audits", url.Values{"csrf": audit.values["csrf"], "request": audit.values["request"], "auditor": {"Pim Holt"}, "capacity": {"volunteer"}, "seller_name": {"Alder"}, "buyer_name": {"Ida"},
		"quantity": {"1 cord"}, "piece_length": {"16 in"}, "delivered_on": {"2026-03-01"}, "place": {"Yard"}})
	assert.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.Contains(t, refused.doc.Find(".wrong").Text(), "Time zone")
	opened := refused.set("zone", "America/New_York").press("Open the audit")
	require.Equal(t, http.StatusSeeOther, opened.status, "%s", opened.body)
	assert.Regexp(t, `E[SD]T`, opened.follow().text())
}
