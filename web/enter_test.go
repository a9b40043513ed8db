package web_test

import (
	"crypto/sha256"
	"fmt"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// written is the state of the database's files: a write moves it, reading does not.
func (d *desk) written() string {
	d.t.Helper()
	state := ""
	for _, name := range []string{d.path, d.path + "-wal"} {
		content, err := os.ReadFile(name)
		require.NoError(d.t, err)
		state += fmt.Sprintf("%x ", sha256.Sum256(content))
	}
	return state
}

// actingPages are the pages whose forms issue, take, settle, pay, void, erase or change
// something, on a desk where each is open to it.
func actingPages(d *desk) []string {
	d.t.Helper()
	waiting := d.takeOrder("1 cord")
	sold := d.takeOrder("1 cord")
	handed := d.get(sold + "/deliver").press("Make the receipt")
	require.Equal(d.t, http.StatusSeeOther, handed.status, "%s", handed.body)
	receipt := strings.Split(handed.header.Get("Location"), "?")[0]
	pay := d.get(sold+"/payments").fill("Amount", "20").choose("Cash").press("Record it")
	require.Equal(d.t, http.StatusSeeOther, pay.status, "%s", pay.body)
	owed := d.get(sold+"/settlement").fill("How much is owed", "8 cu ft").choose("Wood: a second load").choose("Spoken")
	settled := owed.press("Record what was agreed")
	require.Equal(d.t, http.StatusSeeOther, settled.status, "%s", settled.body)
	wish := d.get("/orders/new?wait=yes").fill("Customer", "Iris Fell").fill("How much", "1 cord").fill("Species", "oak")
	require.Equal(d.t, http.StatusSeeOther, wish.press("Put it on the waiting list").status)
	return []string{
		"/orders/new", waiting + "/edit", waiting + "/deliver", waiting + "/measure", waiting + "/moisture", "/waiting",
		receipt + "/void", receipt + "/correct", sold + "/payments", sold + "/settlement", sold + "/settlement/measure",
		"/shop", "/charges", "/bodies", "/batches/new", "/audits/new?receipt=1", "/buying/case/new", "/lots",
	}
}

// Enter in a field presses the first button of its form. In every form that one is the
// button that never acts.
func TestTheFirstButtonOfEveryFormNeverActs(t *testing.T) {
	d := withShop(t)
	for _, path := range actingPages(d) {
		page := d.get(path)
		require.Equal(t, http.StatusOK, page.status, path)
		page.doc.Find("main form[method=post]").Each(func(_ int, form *goquery.Selection) {
			assert.Equal(t, "enter", form.Find("button").First().AttrOr("name", ""), "%s: %s", path, form.AttrOr("action", ""))
			before := d.written()
			values := formValues(form)
			values.Set("enter", "yes")
			again := d.post(form.AttrOr("action", ""), values)
			assert.Equal(t, before, d.written(), "%s: %s was acted on", path, form.AttrOr("action", ""))
			assert.NotEqual(t, http.StatusSeeOther, again.status, "%s: %s", path, form.AttrOr("action", ""))
		})
	}
}

// fieldsOfPage numbers the fields of the page's forms that take a key, all unfolded.
const fieldsOfPage = `(() => {
	for (const d of document.querySelectorAll("details")) d.open = true;
	window.fields = [...document.querySelectorAll("form[method=post] input:not([type=hidden]), form[method=post] select")].filter((e) => e.checkVisibility());
	return window.fields.length;
})()`

// enter presses Enter in a field that fieldsOfPage numbered.
func (p *phone) enter(i int) {
	p.t.Helper()
	ask[bool](p, fmt.Sprintf(`(() => { window.before = true; window.fields[%d].focus(); return true; })()`, i))
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.KeyEvent("\r")))
}

// A person who presses Enter, or a phone's Go key, in any field of any form that does
// something has done nothing by it.
func TestPhoneEnterNeverActs(t *testing.T) {
	d := withShop(t)
	pages := actingPages(d)
	p := newPhone(t, d)
	before := d.written()
	for _, path := range pages {
		p.open(path)
		for i := range ask[int](p, fieldsOfPage) {
			p.enter(i)
			assert.True(t, ask[bool](p, `window.before === true`), "%s: Enter left the page from %s", path, ask[string](p, `document.activeElement.outerHTML.slice(0, 90)`))
		}
	}
	assert.Equal(t, before, d.written(), "Enter was acted on")
}

// The same without scripts, where a browser sends the form by its first button.
func TestPhoneEnterNeverActsWithoutScripts(t *testing.T) {
	d := withShop(t)
	pages := actingPages(d)
	p := newPhone(t, d)
	p.unscripted()
	before := d.written()
	for _, path := range pages {
		p.open(path)
		count := ask[int](p, fieldsOfPage)
		for i := range count {
			if !ask[bool](p, fmt.Sprintf(`window.fields[%d].matches("[type=text], [type=tel]")`, i)) {
				continue // what else Enter does there is the browser's; the first button is the same
			}
			p.enter(i)
			p.until(`!window.before && document.readyState === "complete"`)
			if ask[int](p, fieldsOfPage) != count { // else it is the same page again
				p.open(path)
				ask[int](p, fieldsOfPage)
			}
		}
		assert.Equal(t, before, d.written(), "%s: Enter was acted on", path)
	}
}
