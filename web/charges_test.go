package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What the shop charges is filled in once; an order's price is worked out with it,
// read back line by line, and only then taken.
func TestThePriceIsReadBackWithItsTaxAndCharges(t *testing.T) {
	d := withShop(t)
	p := d.get("/charges")
	p.fill("Charge for each mile", "2.25").fill("The first of it free", "10").fill("A full load", "1 cord").fill("Charge for less than a full load", "40")
	p.fill("Name of the tax", "Sales tax").fill("Rate", "5.5 %").choose("the wood")
	require.Equal(t, http.StatusSeeOther, p.press("Save the charges").status)
	assert.Equal(t, "5.5 %", d.get("/charges").labelled("Rate").AttrOr("value", ""))

	o := d.get("/orders/new")
	o.fill("Customer", "Ada Moss").fill("How much", "1/2 cord").fill("Species", "ash").fill("Price per cord", "280").fill("Distance", "14")
	asked := o.press("Read it back")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status, "the charge for less than a full load is asked about")
	assert.Contains(t, asked.text(), "for which $40.00 may be charged")
	assert.Empty(t, d.orders())
	priced := asked.press("Charge it")
	require.Equal(t, http.StatusOK, priced.status)
	for _, line := range []string{"At $280.00 per cord the wood is $140.00.", "Distance, 4 mi beyond the first 10 mi, at $2.25 a mile: $9.00.", "Less than a full load of 1 cord (128 ft³): $40.00.", "Sales tax, 5.5 % of $140.00 (wood): $7.70.", "$196.70 in all."} {
		assert.Contains(t, priced.text(), line)
	}
	assert.Empty(t, d.orders(), "nothing was taken")
	taken := priced.press("Take the order, $196.70")
	require.Equal(t, http.StatusSeeOther, taken.status)
	page := taken.follow().text()
	assert.Contains(t, page, "$196.70")
	assert.Contains(t, page, "Sales tax")
}
