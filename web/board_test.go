package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// takeFor takes an order for a day through the page and gives its path.
func (d *desk) takeFor(name, quantity, day string) string {
	d.t.Helper()
	p := d.get("/orders/new").fill("Customer", name).fill("Address", "12 Mill Road\nHartwell").fill("How much", quantity)
	made := p.fill("Species", "red oak").fill("Price per cord", "280").fill("When", day).take()
	require.Equal(d.t, http.StatusSeeOther, made.status, "%s", made.body)
	path, _, _ := strings.Cut(made.header.Get("Location"), "?")
	return path
}

func TestTheBoardIsTheFirstPage(t *testing.T) {
	d := withShop(t)
	assert.Contains(t, d.get("/").text(), "Nothing to do yet.")
	d.takeFor("Ada Moss", "1 cord", "today")
	d.takeFor("Bo Lund", "1 1/3 cords", "today")
	undated := d.takeFor("Cy Reed", "2/3 cord", "")
	page := d.get("/")
	today := page.doc.Find("#today")
	assert.Contains(t, today.Find(".grp").Text(), "2 1/3 cords")
	assert.Equal(t, 2, today.Find("li").Length())
	assert.Equal(t, 1, page.doc.Find(`#undated .next[href="`+undated+`#day"]`).Length())
	assert.Contains(t, page.doc.Find(".jump").Text(), "2Today")
	assert.Contains(t, d.getJSON("/").body, `"step":"set day"`)
}

// A day that may be two is asked about beside what was typed, and nothing typed is lost.
func TestAnAmbiguousDayIsAskedAbout(t *testing.T) {
	d := withShop(t)
	asked := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Price per cord", "280").fill("When", "12/5").take()
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Equal(t, "12/5", asked.labelled("When").AttrOr("value", ""))
	assert.Contains(t, asked.doc.Find("#day-fault").Text(), "It may be ")
	path := d.takeFor("Ada Moss", "1 cord", "")
	again := d.get(path).inForm(path+"/day").fill("When", "when it snows").press("Set the day")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "when it snows", again.labelled("When").AttrOr("value", ""))
	set := again.inForm(path+"/day").fill("When", "tomorrow morning").press("Set the day")
	require.Equal(t, http.StatusSeeOther, set.status, set.body)
	assert.Contains(t, d.get(path).text(), "in the morning")
	assert.Equal(t, path+"/deliver", d.get(path).doc.Find("a.main").AttrOr("href", ""))
	assert.Contains(t, d.get("/").doc.Find("#tomorrow").Text(), "in the morning")
}

// At a desk an order's line is typed on the board; its form then says what was understood.
func TestALineTypedOnTheBoardIsANewOrder(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new?line=" + url.QueryEscape("2 cords seasoned oak at $300"))
	assert.Equal(t, "2 cords seasoned oak at $300", p.typed("How much"))
	assert.Contains(t, p.doc.Find("#panel").Text(), "$300.00")
	assert.Equal(t, "/orders/new", d.get("/").doc.Find("#line").Closest("form").AttrOr("action", ""))
}

func TestPhoneSetsADayFromTheBoard(t *testing.T) {
	d := withShop(t)
	d.takeFor("Winifred Hale-Osei of Upper Yoke", "1/2 cord", "today at 9")
	d.takeFor("Gideon Marchetti", "2 cords", "tomorrow morning")
	d.takeFor("Bo Lund", "180 cu ft", "in 4 days")
	d.takeFor("Cy Reed", "2/3 cord", "")
	p := newPhone(t, d)
	p.open("/")
	p.shot("board")
	p.press("a", "Set a day, Cy Reed")
	p.fill("When", "tomorrow")
	p.shot("order-day")
	p.press("button", "Set the day")
	assert.Contains(t, p.text(), "Deliver")
	p.open("/")
	assert.NotContains(t, p.text(), "No day yet")
	assert.Contains(t, ask[string](p, `document.querySelector("#tomorrow").innerText`), "Cy Reed")
	small := ask[int](p, `[...document.querySelectorAll("main a")].filter(a => a.getBoundingClientRect().height < 48).length`)
	assert.Zero(t, small, "every target is for a gloved thumb")
	require.NoError(t, chromedp.Do(p.ctx, chromedp.EmulateViewport(1280, 800)))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+"/")))
	p.shotAsIs("board-desk")
}

func TestOrdersAreFoundFromTheBoard(t *testing.T) {
	d := withShop(t)
	d.takeFor("Ada Moss", "1 cord", "today")
	path := d.takeFor("Bo Lund", "1 cord", "today")
	board := d.get("/")
	assert.Equal(t, "/orders", board.doc.Find("form[role=search]").AttrOr("action", ""))
	found := d.get("/orders?find=lund")
	assert.Equal(t, 1, found.doc.Find(".orders li").Length())
	assert.Equal(t, 1, found.doc.Find(`.orders a[href="`+path+`"]`).Length())
	assert.Equal(t, "lund", found.doc.Find("#find").AttrOr("value", ""))
	assert.Contains(t, d.get("/orders?find=nobody").text(), "No order is found by that.")
	assert.Equal(t, "geo:0,0?q=12+Mill+Road%2C+Hartwell", d.get(path).doc.Find(`a:contains("Map")`).AttrOr("href", ""))
}

func TestPhonesAreDialledByTheirFigures(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("Phone", "+1 (555) 010-0199").fill("How much", "1 cord").fill("Price per cord", "280")
	page := p.take().follow()
	assert.Equal(t, "tel:+15550100199", page.doc.Find(`a:contains("Call")`).AttrOr("href", ""))
	assert.Equal(t, "sms:+15550100199", page.doc.Find(`a:contains("Text")`).AttrOr("href", ""))
}
