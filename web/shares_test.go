package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A stated mix is held against pieces counted, on the page and as data; faults stand
// at their fields, all at once.
func TestSharesAreHeldAgainstPiecesCounted(t *testing.T) {
	d := withShop(t)
	page := d.get("/shares?mix=60+%25+oak%2C+40+%25+maple&counted=oak+600%2C+maple+400")
	assert.Equal(t, http.StatusOK, page.status)
	assert.Contains(t, page.doc.Find(".answer").Text(), "Within the tolerance")
	assert.Contains(t, page.doc.Text(), "within 10 percent", "the rule and its source stand in the working")
	assert.Contains(t, d.getJSON("/shares?mix=60+%25+oak%2C+40+%25+maple&counted=oak+14%2C+maple+6").body, `"word":"not settled"`)
	refused := d.get("/shares?mix=60+%25+oak&counted=oak")
	assert.Equal(t, 2, refused.doc.Find(".field.wrong").Length())
	barred := d.get("/shares?mix=100+%25+oak&counted=3+truckload")
	assert.NotContains(t, barred.doc.Find(".answer, li, .fault").Text(), "truckload")
}

// Shares on an order that do not come to 100 % are refused when it is taken.
func TestOrderRefusesSharesThatDoNotSum(t *testing.T) {
	d := withShop(t)
	order := func(species string) *answer {
		return d.orderJSON(`{"customer_name":"A","quantity":"1 cord","species":"` + species + `","piece_length":"16 in","price_per_cord":"1"}`)
	}
	refused := order("60 % oak, 30 % maple")
	assert.Equal(t, http.StatusUnprocessableEntity, refused.status, refused.body)
	assert.Contains(t, refused.body, "add up to 90 %")
	assert.Equal(t, http.StatusCreated, order("60 % oak, 40 % maple").status)
}
