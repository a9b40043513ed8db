package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A form that is shown again sends the same request: a second press of a mended form
// does what the first would have done, once.
func TestAFormShownAgainKeepsItsRequest(t *testing.T) {
	d := withShop(t)
	form := d.get("/orders/new")
	request := form.values.Get("request")
	require.NotEmpty(t, request)
	again := form.fill("Customer", "Ada Moss").fill("How much", "a good deal").press("Read it back")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, request, again.values.Get("request"))
}

// Each receipt of an order names the batch its own load was drawn from.
func TestEachReceiptNamesItsOwnBatch(t *testing.T) {
	d := withShop(t)
	d.putUp("north bay", "2 cords")
	d.putUp("south bay", "2 cords")
	order := d.takeOrder("1 cord")
	for _, bay := range []string{"south bay", "north bay"} {
		p := d.get(order + "/deliver").choosing(bay)
		p.values.Set("delivered", "1/2 cord")
		require.Equal(t, http.StatusSeeOther, p.press("Make the receipt").status)
	}
	for _, li := range d.get(order).doc.Find("li").EachIter() {
		for receipt, bay := range map[string]string{"/receipts/1": "south bay", "/receipts/2": "north bay"} {
			if li.Find(`a[href="`+receipt+`"]`).Length() > 0 {
				assert.Contains(t, li.Text(), "Drawn from batch "+bay, receipt)
			}
		}
	}
}
