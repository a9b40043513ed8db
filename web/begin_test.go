package web_test

import (
	"net/http"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// From an empty database to the first receipt, without scripts: three questions, a line,
// a delivery.
func TestAnEmptyShopReachesItsFirstReceipt(t *testing.T) {
	d := newDesk(t)
	p := d.get("/").follow()
	assert.Empty(t, p.labelled("Time zone").AttrOr("value", ""))
	assert.Empty(t, p.labelled("Currency").AttrOr("value", ""))
	assert.Empty(t, p.values.Get("rule_set"))
	again := p.fill("Name of your business", "Alder Lane Firewood").fill("Address", "4 Alder Lane\nHartwell").
		fill("Time zone", "New York").fill("Currency", "USD").fill("Price of a cord", "300").press("Open the shop")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, 2, again.doc.Find("#faults li").Length(), "the zone and the rules, each once: %s", again.text())
	assert.Contains(t, again.text(), "Time zone: That isn’t the name of a time zone. Try a large city in it, as America/New_York, America/Chicago or Europe/London.")
	again.values.Set("rule_set", "vermont")
	board := again.fill("Time zone", "America/New_York").press("Open the shop").follow()
	assert.Contains(t, board.text(), "Take an order")
	assert.NotContains(t, board.text(), "Receipts need")
	order := d.get("/orders/new").fill("Customer", "Ada Moss").fill("Address", "12 Mill Road").fill("How much", "1 cord seasoned oak 16 inch").take()
	require.Equal(t, http.StatusSeeOther, order.status, order.body)
	taken := order.follow()
	assert.Contains(t, taken.text(), "$300.00")
	assert.Equal(t, http.StatusSeeOther, d.get("/begin").status, "it has begun")
}

// A browser proposes its own zone, its country's currency and rules, to be looked at.
func TestPhoneProposesWhereAShopIs(t *testing.T) {
	p := newPhone(t, newDesk(t))
	_, err := chromedp.Call(p.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "Europe/London"})
	require.NoError(t, err)
	_, err = chromedp.Call(p.ctx, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: "test", AcceptLanguage: "en-GB"})
	require.NoError(t, err)
	p.open("/")
	value := func(id string) string { return ask[string](p, `document.getElementById("`+id+`").value`) }
	assert.Equal(t, []string{"Europe/London", "GBP", "england"}, []string{value("zone"), value("currency"), value("rule_set")})
	assert.Contains(t, p.text(), "Check them")
	p.fill("Name of your business", "Alder Lane Firewood")
	p.fill("Address", "4 Alder Lane")
	p.fill("Price of a cord", "150")
	p.press("button", "Open the shop")
	p.open("/prices")
	assert.Contains(t, p.text(), "£150.00")
	_, err = chromedp.Call(p.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "UTC"})
	require.NoError(t, err)
}

// A machine set to no place proposes no zone.
func TestPhoneNeverProposesUTC(t *testing.T) {
	p := newPhone(t, newDesk(t))
	_, err := chromedp.Call(p.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "UTC"})
	require.NoError(t, err)
	p.open("/begin")
	p.until(`document.getElementById("currency").value !== ""`)
	assert.Empty(t, ask[string](p, `document.getElementById("zone").value`))
}
