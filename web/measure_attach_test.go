package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Readings that were taken before anybody knew whose wood it is go to the order as they
// were typed, and are saved there.
func TestReadingsOfNoOrderAreTakenToOne(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	p := typeExample(d.get("/measure").fill("Sold", "2 cords"))
	button := p.doc.Find("#attach button")
	require.Equal(t, 1, button.Length(), "the one order there is")
	require.Equal(t, order+"/measure#panel", button.AttrOr("formaction", ""))
	p.values.Set("do", "attach")
	there := d.post(order+"/measure", p.values)
	require.Equal(t, http.StatusOK, there.status, "%s", there.text())
	assert.Contains(t, there.doc.Find("#panel .answer").Text(), "Short by 0.04 cord", "of what the order says was sold")
	assert.Equal(t, "46 1/2", there.labelled("Row 1, height 4").AttrOr("value", ""))
	assert.NotContains(t, d.get(order).text(), "sheet 1", "nothing is saved yet")
	sheet := there.press("Save and make the sheet").follow()
	require.Equal(t, http.StatusOK, sheet.status, "%s", sheet.text())
	assert.Contains(t, sheet.doc.Find(".answer").Text(), "Short by 0.04 cord")
}
