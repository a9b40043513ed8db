package web_test

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders/act"
	"wellstowed/orders/minute"
	"wellstowed/web"
)

// takingBack is a desk whose deliveries wait a minute, with what moves its clock on.
func takingBack(t *testing.T) (d *desk, later func(time.Duration)) {
	d = withShop(t)
	now := testClock()
	clock := func() time.Time { return now }
	d.server = d.serverOf(clock, func(c *web.Config) { c.Minute = minute.New(d.db.Minutes(), d.service, clock) })
	return d, func(by time.Duration) { now = now.Add(by) }
}

func (d *desk) receipts(order string) int {
	d.t.Helper()
	h, err := d.service.History(d.t.Context(), act.Actor{Person: "Odell", Role: act.Owner}, strings.TrimPrefix(order, "/orders/"))
	require.NoError(d.t, err)
	return len(h.Receipts)
}

func TestADeliveryCanBeTakenBackForAMinute(t *testing.T) {
	d, later := takingBack(t)
	order := d.takeOrder("1 cord")
	form := d.get(order+"/deliver").set("paid_by", "cash").set("signed_by", "Ada Moss")
	put := form.press("Make the receipt") // with scripts the button says how it was paid
	require.Equal(t, http.StatusSeeOther, put.status, "%s", put.body)
	page := put.follow()
	assert.Contains(t, page.text(), "1 cord (128 ft³) delivered")
	assert.Contains(t, page.text(), "$280.00 paid, cash")
	assert.Zero(t, page.doc.Find(`meta[http-equiv="refresh"]`).Length(), "nobody is moved on while reading")
	assert.Regexp(t, `numbered at \d\d:\d\d:\d\d [A-Z]+`, page.text(), "to the second")
	assert.Equal(t, order+"/delivered", page.doc.Find("#numbered a").AttrOr("href", ""), "without scripts too it can be looked at again")
	assert.Zero(t, d.receipts(order))
	assert.Equal(t, http.StatusSeeOther, d.get(order+"/deliver").status, "it isn’t delivered twice")
	again := page.inForm("/back").press("Take it back")
	require.Equal(t, http.StatusOK, again.status, "%s", again.body)
	assert.Equal(t, "Ada Moss", again.doc.Find("#signed_by").AttrOr("value", ""), "what was filled in is there")
	assert.Equal(t, 1, again.doc.Find(`input[name="paid_by"][value="cash"][checked]`).Length())
	again = d.get(order + "/deliver").press("Make the receipt")
	require.Equal(t, http.StatusSeeOther, again.status)
	later(minute.Long)
	assert.Equal(t, "/receipts/1", d.get(order+"/delivered").header.Get("Location"))
	assert.Equal(t, "/receipts/1", d.get(order+"/delivered").header.Get("Location"), "and afterwards too")
	assert.Equal(t, 1, d.receipts(order))
}

// What would say something else by now is not numbered, and its page says so.
func TestADeliveryThatWouldSaySomethingElseIsShown(t *testing.T) {
	d, later := takingBack(t)
	order := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(order+"/deliver").press("Make the receipt").status)
	require.Equal(t, http.StatusSeeOther, d.get(order+"/payments").fill("Amount", "20").choose("Cash").press("Record it").status)
	later(minute.Long)
	page := d.get(order + "/delivered")
	assert.Equal(t, http.StatusConflict, page.status)
	assert.Contains(t, page.text(), "What the receipt would say has changed since it was delivered")
	assert.Contains(t, d.get("/").text(), "and not numbered yet: look")
	assert.Equal(t, http.StatusOK, page.inForm("/back").press("Take it back").status)
	assert.Zero(t, d.receipts(order))
}

// Whenever another numbers it while its page is asked for, the page leads on to the receipt.
func TestADeliveryNumberedMeanwhileIsShown(t *testing.T) {
	for nth := 1; ; nth++ {
		d := withShop(t)
		now, left := testClock(), 0
		clock := func() time.Time { return now }
		others := minute.New(d.db.Minutes(), d.service, clock)
		counted := func() time.Time {
			if left--; left == 0 {
				require.NoError(t, others.NumberDue(t.Context()))
			}
			return now
		}
		d.server = d.serverOf(counted, func(c *web.Config) { c.Minute = minute.New(d.db.Minutes(), d.service, counted) })
		order := d.takeOrder("1 cord")
		require.Equal(t, http.StatusSeeOther, d.get(order+"/deliver").press("Make the receipt").status)
		now, left = now.Add(minute.Long), nth
		page := d.get(order + "/delivered")
		if page.header.Get("Location") == order+"/delivered" {
			page = d.get(order + "/delivered")
		}
		assert.Equal(t, "/receipts/1", page.header.Get("Location"), "at the clock's look %d", nth)
		assert.Equal(t, 1, d.receipts(order))
		if left > 0 { // the page doesn't look so often
			return
		}
	}
}

// On a phone the drawn name is there again once a delivery was taken back, and the receipt can
// be numbered before the minute is over.
func TestPhoneTakesADeliveryBack(t *testing.T) {
	d, _ := takingBack(t)
	order := d.takeOrder("1 cord")
	p := newPhone(t, d)
	p.open(order + "/deliver")
	p.tap("label", "Cash")
	p.draws()
	p.until(`document.querySelector("button.main").textContent === "Delivered, $280.00 in cash"`)
	drawn := ask[string](p, `document.getElementById("signature").value`)
	p.press("button", "Delivered, $280.00 in cash")
	assert.Contains(t, p.text(), "you can take it back")
	p.shot("delivered")
	p.press("button", "Take it back")
	assert.Equal(t, drawn, ask[string](p, `document.getElementById("signature").value`))
	p.press("button", "Delivered, $280.00 in cash")
	p.press("button", "Number it now")
	assert.Contains(t, p.text(), "1 cord (128 ft³) delivered")
	assert.Contains(t, p.text(), "Signed on the screen")
}

// Once the minute is over the page says that the receipt is numbered and links to it; it stays
// where it is.
func TestPhoneIsToldThatADeliveryIsNumbered(t *testing.T) {
	d, later := takingBack(t)
	order := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(order+"/deliver").press("Make the receipt").status)
	p := newPhone(t, d)
	p.open(order + "/delivered")
	assert.Contains(t, p.text(), "Is it numbered yet?")
	p.fits()
	later(minute.Long)
	ask[bool](p, `document.dispatchEvent(new Event("visibilitychange"))`) // the phone is taken up again
	p.until(`document.querySelector("#numbered a").textContent === "Numbered: open the receipt"`)
	assert.Equal(t, order+"/delivered", ask[string](p, `location.pathname`))
	assert.NotContains(t, p.text(), "Take it back", "that is too late")
	p.shot("numbered")
	p.press("a", "Numbered: open the receipt")
	assert.Equal(t, "/receipts/1", ask[string](p, `location.pathname`))
}
