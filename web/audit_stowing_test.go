package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// From the second check of a delivery on the page asks whether the wood was stacked again;
// the sheet says what was answered, and an auditor reads it beside the others.
func TestASecondCheckSaysWhetherTheWoodWasStackedAgain(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	assert.Contains(t, d.get("/audits/stowing").text(), "Too few to say: 0 of the 30 pairs")
	first := d.get(path + "/measure")
	assert.Zero(t, first.doc.Find("#again").Length(), "there is nothing to have been stacked again")
	require.Equal(t, http.StatusOK, typeExample(first).press("Save and make the sheet").follow().status)

	second := d.get(path + "/measure")
	assert.Contains(t, second.doc.Find("#again").Text(), "The wood was stacked again")
	sheet := typeExample(second).set("stacked", "again").set("stacked_by", "buyer").press("Save and make the sheet").follow()
	require.Equal(t, http.StatusOK, sheet.status, sheet.text())

	text := d.get("/audits/stowing").text()
	assert.Contains(t, text, "Order 1, checks 1 and 2")
	assert.Contains(t, text, "stacked again by the buyer")
	assert.Contains(t, text, "It measures 0.0 % more")
	assert.Contains(t, d.get("/audits").doc.Find(`a[href="/audits/stowing"]`).Text(), "How tightly people stack")
	assert.Contains(t, d.getJSON("/audits/stowing").body, `"second":2`)
	again := d.get(path + "/measure?from=2")
	assert.Zero(t, again.doc.Find(`#again option[value="again"][selected]`).Length(), "each check is asked anew")
}
