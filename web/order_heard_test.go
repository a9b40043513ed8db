package web_test

import (
	"net/http"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/spoken"
)

// What may be meant two ways is asked with its answers as buttons, without a script: one
// press answers it, and leads on to what is read back.
func TestADoubtfulLineIsAnsweredWithOnePress(t *testing.T) {
	d := withShop(t)
	asked := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "two 1/2 cords oak, stacked, ring first").fill("Price per cord", "280").press("Read it back")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	panel := asked.doc.Find("#panel").Text()
	for _, says := range []string{"Is that 2 1/2 cords or 1 cord?", "Oak", "To be stacked", "“ring first”"} {
		assert.Contains(t, panel, says)
	}
	read := asked.press("1 cord")
	require.Equal(t, http.StatusOK, read.status, read.text())
	assert.Contains(t, read.text(), "That’s 1 cord")
	require.Equal(t, http.StatusSeeOther, read.press("Take the order, $280.00").status)
	o := d.orders()[0]
	assert.Equal(t, cordsOf(1), o.Quantity)
	assert.Equal(t, spoken.Stacked, o.Stacking)
	assert.Equal(t, "ring first", o.Notes)
}

// A day that may be two is answered with one press where it is set, too.
func TestADoubtfulDayIsAnsweredWithOnePress(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	asked := d.get(path).inForm(path+"/day").fill("When", "12/5").press("Set the day")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	buttons := asked.doc.Find(`button[name=choose]`)
	require.Equal(t, 2, buttons.Length())
	require.Equal(t, http.StatusSeeOther, asked.inForm(path+"/day").press(buttons.Last().Text()).status)
	assert.Equal(t, "12 May 2027", d.orders()[0].Day.String())
}

// On a phone what is understood stands under the line while it is typed, with the total.
func TestPhoneShowsWhatIsUnderstoodWhileItIsTyped(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open("/orders/new")
	p.fill("Price per cord", "280")
	p.fill("How much", "2 cords seasoned oak 18 inch, stacked, ring first")
	require.NoError(t, chromedp.Do(p.ctx, chromedp.WaitVisible(`#panel dl`)))
	panel := ask[string](p, `document.getElementById("panel").innerText`)
	for _, says := range []string{"2 cords (256 ft³)", "Oak, seasoned", "18 in long", "To be stacked", "“ring first”"} {
		assert.Contains(t, panel, says)
	}
	assert.Equal(t, "In all $560.00", ask[string](p, `document.getElementById("running").innerText`))
	assert.Empty(t, d.orders(), "nothing is taken by typing")
	assert.LessOrEqual(t, ask[int](p, `document.documentElement.scrollWidth`), 390)
}

// On a phone a pressed answer goes into the line, and what is understood shows it: nothing is
// sent, and no fault of what is still to be typed is shown.
func TestPhoneAnswersADoubtfulLineInPlace(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open("/orders/new")
	p.fill("Price per cord", "280")
	p.fill("How much", "two 1/2 cords oak")
	require.NoError(t, chromedp.Do(p.ctx, chromedp.WaitVisible(`#panel button[name=choose]`)))
	assert.Equal(t, "Asked about: 1", ask[string](p, `document.getElementById("running").innerText`))
	p.tap("button", "1 cord")
	p.until(`document.getElementById("running").innerText === "In all $280.00"`)
	assert.Equal(t, "/orders/new", ask[string](p, `location.pathname`))
	assert.Zero(t, ask[int](p, `document.querySelectorAll(".fault").length`))
	assert.Equal(t, "panel", ask[string](p, `document.activeElement.id`), "the keyboard goes on from there")
}
