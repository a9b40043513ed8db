package web_test

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/web/form"
)

// inLanguage picks a language at the foot of a page, as a press of its button does.
func (p *answer) inLanguage(tag string) *answer {
	p.d.t.Helper()
	foot := p.doc.Find("footer.tongue form")
	values := formValues(foot)
	values.Set("language", tag)
	return p.d.post(foot.AttrOr("action", ""), values)
}

// Whoever reads Spanish picks it at the foot of any page and comes back to that page; the
// paper stays in the shop's language.
func TestALanguageIsPickedAtThePagesFoot(t *testing.T) {
	d := withShop(t)
	path := d.handedOver("1 cord")
	picked := d.get(path).inLanguage(orders.Spanish)
	require.Equal(t, http.StatusSeeOther, picked.status)
	require.Equal(t, path, picked.header.Get("Location"))
	page := picked.follow()
	assert.Equal(t, orders.Spanish, page.doc.Find("html").AttrOr("lang", ""))
	assert.Contains(t, page.text(), "1 cuerda")
	assert.Contains(t, page.text(), "recibo 1")
	receipt := d.get("/receipts/1")
	assert.Contains(t, receipt.text(), "Por pagar")
	issued, err := d.service.Receipt(t.Context(), act.Actor{Role: act.Owner}, 1)
	require.NoError(t, err)
	assert.Equal(t, orders.English, issued.Receipt.Facts.Language, "it was issued before")
	assert.Contains(t, receipt.inLanguage(orders.English).follow().text(), "To pay")
}

// What people typed and got wrong is said in the language they read.
func TestFaultsAreInThePagesLanguage(t *testing.T) {
	d := withShop(t)
	require.Equal(t, http.StatusSeeOther, d.get("/orders/new").inLanguage(orders.Spanish).status)
	p := d.get("/orders/new")
	p.values.Set("quantity", "one and 3 cords")
	p.values.Set("do", "")
	faulty := d.post("/orders", p.values)
	require.Equal(t, http.StatusUnprocessableEntity, faulty.status)
	assert.Contains(t, faulty.text(), "Falta algo o no se entendió.")
	for _, english := range []string{" is ", " the ", " isn’t "} {
		assert.NotContains(t, faulty.doc.Find(".faults").Text(), english)
	}
}

// The shop's own language is that of its papers, and of its pages where nobody picked one.
func TestPapersAreInTheShopsLanguage(t *testing.T) {
	d := withShop(t)
	shop, err := d.service.Shop(t.Context(), act.Actor{Role: act.Owner})
	require.NoError(t, err)
	r := form.Shop(shop)
	r.Language = "fr"
	_, err = d.service.ChangeShop(t.Context(), act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()}, r)
	require.ErrorContains(t, err, "language")
	p := d.get("/shop")
	p.values.Set("language", orders.Spanish)
	require.Equal(t, http.StatusSeeOther, p.press("Save the shop").status)
	assert.Contains(t, d.get("/shop").text(), "Guardar el negocio")
	path := d.takeOrderIn(orders.Spanish)
	assert.Contains(t, d.get(path).text(), "cuerda")
}

// takeOrderIn takes an order as a program does, and tells that pages stay in a language.
func (d *desk) takeOrderIn(tag string) string {
	d.t.Helper()
	made := d.orderJSON(`{"customer_name":"Marta Ruiz","quantity":"1 cord","species":"red oak","piece_length":"16 in","seasoning":"green","price_per_cord":"280"}`)
	require.Equal(d.t, http.StatusCreated, made.status, made.body)
	path := made.header.Get("Location")
	require.Equal(d.t, tag, d.get(path).doc.Find("html").AttrOr("lang", ""))
	return path
}

// A stranger's browser says what it reads, and a page that leads elsewhere is never led to.
func TestAStrangersBrowserIsAsked(t *testing.T) {
	d := withOwner(t)
	d.handedOver("1 cord")
	link, stranger := d.buyersLink(1), d.another()
	for asked, lang := range map[string]string{"es-MX,es;q=0.9,en;q=0.5": orders.Spanish, "en-US,en;q=0.9": orders.English, "de": orders.English, "": orders.English} {
		req := httptest.NewRequest(http.MethodGet, link, nil)
		req.Header.Set("Accept-Language", asked)
		assert.Equal(t, lang, stranger.do(req).doc.Find("html").AttrOr("lang", ""), "asked for %q", asked)
	}
	foot := d.get("/shop").doc.Find("footer.tongue form")
	for _, back := range []string{"//elsewhere.example/", "https://elsewhere.example/", "\\\\elsewhere.example", ""} {
		values := formValues(foot)
		values.Set("language", orders.Spanish)
		values.Set("back", back)
		assert.Equal(t, "/", d.post("/language", values).header.Get("Location"), "back to %q", back)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, d.post("/language", url.Values{"csrf": {formValues(foot).Get("csrf")}, "language": {strings.Repeat("x", 9)}}).status)
}
