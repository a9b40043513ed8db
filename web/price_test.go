package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// priced is a shop with a price list.
func priced(t *testing.T) *desk {
	d := withShop(t)
	wood := d.get("/prices/new").fill("Species", "red oak").fill("Price", "300")
	wood.values.Set("seasoning", "seasoned")
	require.Equal(t, http.StatusSeeOther, wood.press("Save").status)
	require.Equal(t, http.StatusSeeOther, d.get("/prices/new?kind=delivery").fill("Where to", "Hartwell").fill("Price", "25").press("Save").status)
	require.Equal(t, http.StatusSeeOther, d.get("/prices/new?kind=stacking").fill("Price", "60").press("Save").status)
	return d
}

// A line of the price list is picked with one press; the order is read back at its price.
func TestALineOfThePriceListIsPicked(t *testing.T) {
	d := priced(t)
	picked := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "2 cords").press("Red oak, seasoned $300.00 per cord")
	require.Equal(t, http.StatusOK, picked.status)
	assert.Equal(t, "red oak", picked.labelled("Species").AttrOr("value", ""))
	assert.Equal(t, "Ada Moss", picked.labelled("Customer").AttrOr("value", ""), "what was typed is kept")
	assert.Equal(t, "2 cords", picked.typed("How much"))
	picked.values.Set("deliver_to", "Hartwell")
	picked.values.Set("list_stacking", "yes")
	read := picked.press("Read it back")
	require.Equal(t, http.StatusOK, read.status, read.body)
	for _, line := range []string{"At $300.00 per cord the wood is $600.00.", "Delivery: $25.00.", "Stacking: $120.00.", "$745.00 in all."} {
		assert.Contains(t, read.text(), line)
	}
	assert.Contains(t, read.press("Take the order, $745.00").follow().text(), "$745.00")
}

func TestThePriceListIsChangedFromADayOn(t *testing.T) {
	d := priced(t)
	assert.Contains(t, d.get("/prices").text(), "$300.00 per cord Red oak, seasoned")
	like := d.get("/prices").doc.Find(`a[href^="/prices/new?like="]`).First().AttrOr("href", "")
	odd := d.get(like).fill("Price", "3000").press("Save")
	require.Equal(t, http.StatusUnprocessableEntity, odd.status)
	assert.Contains(t, odd.text(), "far from the price now")
	require.Equal(t, http.StatusSeeOther, odd.choose("3000.00 USD is as I mean it").press("Save").status)
	assert.Contains(t, d.get("/prices").text(), "$3,000.00 per cord")
	like = d.get("/prices").doc.Find(`a[href^="/prices/new?like="]`).First().AttrOr("href", "")
	require.Equal(t, http.StatusSeeOther, d.get(like).fill("Price", "3200").fill("From", "2027-01-01").press("Save").status)
	page := d.get("/prices")
	assert.Contains(t, page.text(), "$3,000.00 per cord")
	assert.Contains(t, page.text(), "1 January 2027 red oak, seasoned: $3,200.00 per cord")
	id := strings.TrimPrefix(like, "/prices/new?like=")
	require.Equal(t, http.StatusOK, d.postJSON("/prices/"+id+"/end", `{}`).status)
	assert.NotContains(t, d.get("/prices").doc.Find("main > ul").First().Text(), "Red oak")
	pdf := d.get("/prices.pdf")
	assert.Equal(t, "application/pdf", pdf.header.Get("Content-Type"))
}

func TestThePriceListFitsAPhone(t *testing.T) {
	d := priced(t)
	p := newPhone(t, d)
	for _, path := range []string{"/prices", "/prices/new", "/orders/new"} {
		p.open(path)
		p.shot("price" + strings.ReplaceAll(path, "/", "-"))
		p.fits()
	}
	p.tap("button", "Red oak, seasoned $300.00 per cord")
	p.until(`document.querySelector("#species") && document.querySelector("#species").value === "red oak"`)
}
