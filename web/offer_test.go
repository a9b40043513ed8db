package web_test

import (
	"net/http"
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestOffersAreCompared(t *testing.T) {
	d := withShop(t)
	assert.Equal(t, 1, d.get("/buying").doc.Find(`a[href="/offers"]`).Length())
	const typed = "1 cord oak, $200\nface cord of 16 inch oak, $120\na truckload, $90\npickup load, $90"
	before := d.written()
	page := d.get("/offers?offers=" + url.QueryEscape(typed))
	require.Equal(t, http.StatusOK, page.status)
	assert.Equal(t, typed, page.labelled("The offers, one a line").Text())
	assert.Contains(t, page.text(), "$200.00 a cord, stacked")
	assert.Contains(t, page.text(), "$360.00 a cord, stacked")
	assert.Contains(t, page.text(), "a million Btu")
	assert.Contains(t, page.text(), "Ask the seller:")
	assert.NotContains(t, page.doc.Find("ol").Text(), "face cord", "only the field holds it")
	assert.Equal(t, before, d.written(), "nothing is kept")
	assert.Equal(t, http.StatusUnprocessableEntity, d.get("/offers?offers=%0a").status)
	assert.Contains(t, d.getJSON("/offers?offers="+url.QueryEscape(typed)).body, `"ranked"`)
}

func TestPhoneComparesOffers(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open("/offers")
	p.fill("The offers, one a line", "1 cord red oak, $280\nface cord of oak, $120\n2 m³ loose birch, €150\npickup load, $90")
	p.press("button", "Compare them")
	p.shot("offers")
	assert.Contains(t, p.text(), "$280.00 a cord, stacked")
}
