package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Readings that are kept before their order is known outlive the program, are saved on an
// order by one press, and are gone from the list then.
func TestReadingsAreKeptBeforeTheirOrderIsKnown(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	kept := typeExample(d.get("/measure").fill("Sold", "2 cords")).press("Keep the readings for later")
	require.Equal(t, http.StatusSeeOther, kept.status, "%s", kept.body)
	d.restart(testClock)
	list := d.get("/loose")
	assert.Contains(t, list.text(), "In rows", "%s", list.text())
	assert.NotContains(t, list.text(), "2 cords", "what was sold is the order’s to say")
	sheet := list.inForm("/attach").press("Order 1: Ada Moss, 1 cord (128 ft³)").follow()
	require.Equal(t, http.StatusOK, sheet.status, "%s", sheet.text())
	assert.Contains(t, sheet.doc.Find(".answer").Text(), "Short by 0.04 cord", "of what the order says was sold")
	assert.Contains(t, d.get(order).text(), "sheet 1")
	assert.Contains(t, d.get("/loose").text(), "None are kept.")
}

// What the order's form would ask is asked there, with the readings in it, and nothing is
// lost meanwhile.
func TestKeptReadingsThatAreNotWholeAreFinishedOnTheOrdersForm(t *testing.T) {
	d := withShop(t)
	d.takeOrder("1 cord")
	kept := d.get("/measure").set("stack.rows[0].length", "96").press("Keep the readings for later")
	require.Equal(t, http.StatusSeeOther, kept.status, "%s", kept.body)
	there := d.get("/loose").inForm("/attach").press("Order 1: Ada Moss, 1 cord (128 ft³)")
	require.Equal(t, http.StatusUnprocessableEntity, there.status)
	assert.Equal(t, "96", there.labelled("Row 1, length").AttrOr("value", ""))
	require.Equal(t, http.StatusSeeOther, d.get("/loose").inForm("/drop").press("Erase these readings").status)
	assert.Contains(t, d.get("/loose").text(), "None are kept.")
	nothing := d.get("/measure").press("Keep the readings for later")
	assert.Equal(t, http.StatusUnprocessableEntity, nothing.status)
	assert.Contains(t, d.get("/loose").text(), "None are kept.")
}
