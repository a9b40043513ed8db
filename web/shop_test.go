package web_test

import (
	"net/http"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestShopIsSavedAndShown(t *testing.T) {
	d := withShop(t)
	p := d.get("/shop").fill("Phone", "555 0100").press("Save the shop").follow()
	assert.Equal(t, "555 0100", p.labelled("Phone").AttrOr("value", ""))
	assert.Equal(t, "Alder Lane Firewood", p.labelled("Firm").AttrOr("value", ""))
	assert.Contains(t, p.text(), "Saved.")
}

func TestShopFaultsKeepWhatWasTyped(t *testing.T) {
	again := withShop(t).get("/shop").fill("Currency", "dollars").fill("Time zone", "Nowhere/Here").press("Save the shop")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "dollars", again.labelled("Currency").AttrOr("value", ""))
	assert.Equal(t, "Nowhere/Here", again.labelled("Time zone").AttrOr("value", ""))
}

func TestOlderShopFormIsToldWhatTheOtherSaved(t *testing.T) {
	d := withShop(t)
	mine, theirs := d.get("/shop"), d.get("/shop")
	require.Equal(t, http.StatusSeeOther, theirs.fill("Phone", "555 0101").press("Save the shop").status)
	again := mine.fill("Phone", "555 0102").press("Save the shop")
	require.Equal(t, http.StatusConflict, again.status)
	assert.Equal(t, "555 0102", again.labelled("Phone").AttrOr("value", ""))
	assert.Contains(t, again.text(), "555 0101")
}

// A metric shop types centimetres and reads cubic metres.
func TestMetricShopMeasuresInCentimetres(t *testing.T) {
	d := withShop(t)
	p := d.get("/shop")
	p.values.Set("units", "metric")
	require.Equal(t, http.StatusSeeOther, p.press("Save the shop").status)
	m := d.get("/measure").fill("Row 1, length", "200")
	for _, label := range []string{"Row 1, height 1", "Row 1, height 2", "Row 1, height 3", "Row 1, height 4"} {
		m.fill(label, "100")
	}
	for _, label := range []string{"Piece 1", "Piece 2", "Piece 3", "Piece 4"} {
		m.fill(label, "50")
	}
	shown := m.press("Show the answer")
	require.Equal(t, http.StatusOK, shown.status, shown.text())
	assert.Contains(t, shown.doc.Find("#running").Text(), "1 m³ stacked", "2 m × 1 m × 0.5 m")
}

// A new shop is asked where it is, and sells nothing before: never in UTC and dollars
// that nobody chose.
func TestANewShopSaysWhereItIs(t *testing.T) {
	d := newDesk(t)
	p := d.get("/shop")
	assert.Contains(t, p.text(), "First say where the shop is.")
	assert.Empty(t, p.labelled("Time zone").AttrOr("value", ""))
	assert.Empty(t, p.labelled("Currency").AttrOr("value", ""))
	again := p.fill("Firm", "Alder Lane Firewood").press("Save the shop")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Contains(t, again.text(), "Time zone: Enter the time zone the shop is in")
	assert.Contains(t, again.text(), "Currency: Enter the currency you sell in")
	assert.Equal(t, "Alder Lane Firewood", again.labelled("Firm").AttrOr("value", ""))
	order := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Species", "red oak").fill("Price per cord", "280").press("Read it back")
	assert.Equal(t, http.StatusUnprocessableEntity, order.status)
	assert.Equal(t, "Time zone", order.doc.Find(`#faults a[href="/shop#zone"]`).Text())
	saved := again.fill("Time zone", "America/New_York").fill("Currency", "USD").press("Save the shop").follow()
	assert.NotContains(t, saved.text(), "First say where the shop is.")
	d.takeOrder("1 cord")
}

// A browser offers its own zone and its country's currency, to be looked at and saved.
func TestPhoneOffersZoneAndCurrency(t *testing.T) {
	p := newPhone(t, newDesk(t))
	_, err := chromedp.Call(p.ctx, emulation.SetTimezoneOverride, emulation.SetTimezoneOverrideParams{TimezoneID: "America/Halifax"})
	require.NoError(t, err)
	_, err = chromedp.Call(p.ctx, emulation.SetUserAgentOverride, emulation.SetUserAgentOverrideParams{UserAgent: "test", AcceptLanguage: "en-CA"})
	require.NoError(t, err)
	p.open("/shop")
	assert.Equal(t, "America/Halifax", ask[string](p, `document.getElementById("zone").value`))
	assert.Equal(t, "CAD", ask[string](p, `document.getElementById("currency").value`))
	p.fill("Firm", "Alder Lane Firewood")
	p.fill("Address", "4 Alder Lane")
	p.press("button", "Save the shop")
	assert.Contains(t, p.text(), "Saved.")
	assert.Equal(t, "America/Halifax", ask[string](p, `document.getElementById("zone").value`))
}
