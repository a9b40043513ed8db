package web_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// As many readings as were taken go in without a page being loaded: typing into the last
// place makes the next. A draft puts them all back.
func TestPhoneTypesAsManyReadingsAsItTakes(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	order := d.takeOrder("1 cord")
	p.open(order + "/measure")
	ask[bool](p, `window.before = true`)
	p.tap("label", "None")
	p.fill("Row 1, length", "24 ft")
	for i := range 7 {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), fmt.Sprint(44+i%2))
	}
	for i := range 8 {
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
	p.until(`document.getElementById("running").textContent.includes("of 1 cord")`)
	assert.True(t, ask[bool](p, `window.before`), "no page was loaded")
	assert.Equal(t, "stack.rows[0].heights[7]", ask[string](p, find("label", "Row 1, height 8")+`.name`))
	assert.False(t, ask[bool](p, `document.querySelector("button[value='heights+0']").checkVisibility()`), "no button is needed")
	p.fits()

	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+order+"/measure")))
	p.until(`document.getElementById("stack.rows[0].heights[6]")?.value === "44" && document.getElementById("stack.pieces[7]")?.value === "16"`)
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "44 in\n45 in\n44 in\n45 in\n44 in\n45 in\n44 in")
}

func TestPhoneTypesAsManyDiametersAsItTakes(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.open("/measure?kind=round")
	ask[bool](p, `window.before = true`)
	for i := range 6 {
		p.fill(fmt.Sprintf("Diameter %d", i+1), "84")
		p.fill(fmt.Sprintf("Height %d", i+1), "60")
	}
	p.until(`document.querySelector("#panel .answer:not(.quiet)") !== null`)
	assert.True(t, ask[bool](p, `window.before`), "no page was loaded")
}
