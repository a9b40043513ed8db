package web_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A phone's pad of digits has no foot, no prime, no slash and no space, so no field that
// takes a length asks for it; each says its unit, tied to it for those who can't see.
func TestEveryLengthSaysItsUnitAndTakesFeet(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	for _, path := range []string{"/measure", order + "/measure", "/measure?kind=load", "/measure?kind=heap", "/measure?kind=bin", "/measure?kind=round", "/measure?kind=packaged"} {
		p := d.get(path)
		lengths := p.doc.Find("form.measure .length input")
		assert.GreaterOrEqual(t, lengths.Length(), 4, path)
		lengths.Each(func(_ int, f *goquery.Selection) {
			name := f.AttrOr("name", "")
			assert.Empty(t, f.AttrOr("inputmode", ""), "%s %s", path, name)
			assert.Contains(t, strings.Fields(f.AttrOr("aria-describedby", "")), name+"-unit", path)
			assert.Equal(t, "in", p.doc.Find(`[id="`+name+`-unit"]`).Text(), "%s %s", path, name)
		})
		assert.Equal(t, 1, p.doc.Find(`[name="unit"]`).Length(), "one unit for the whole page")
	}
	for _, path := range []string{"/storage", "/trips", "/bodies"} {
		d.get(path).doc.Find("input[inputmode=decimal]").Each(func(_ int, f *goquery.Selection) {
			assert.NotRegexp(t, "width|depth|height|length|shoulder|sides", f.AttrOr("name", ""), path)
		})
	}
}

// A row length typed as 96 is 96 inches, said back as 8 ft; it was 96 feet, and "Full".
func TestABareRowLengthIsInInches(t *testing.T) {
	d := withShop(t)
	p := d.get("/measure").fill("Sold", "1/2 cord").fill("Row 1, length", "96")
	for i := range 4 {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), "48")
	}
	shown := p.fill("Piece 1", "16").press("Show the answer")
	require.Equal(t, http.StatusOK, shown.status)
	assert.Equal(t, "0.33 of 1/2 cord: can’t tell yet", shown.doc.Find("#running").Text(), "what is here, of what was sold, then the result")
	assert.Equal(t, "8 ft", shown.doc.Find(`[id="stack.rows[0].length-echo"]`).Text())
	metric := shown.press("Use centimetres")
	assert.Equal(t, "96 in", metric.labelled("Row 1, length").AttrOr("value", ""), "what was read stays what it was")
	assert.Equal(t, "cm", metric.doc.Find(`[id="stack.rows[0].length-unit"]`).Text())
	assert.Equal(t, shown.doc.Find("#running").Text(), metric.press("Show the answer").doc.Find("#running").Text())
}

// What stops a form from being saved takes no answer off the page that can be given.
func TestAFullPageErrorKeepsTheAnswer(t *testing.T) {
	d := withShop(t)
	short := typeExample(d.get("/measure").fill("Sold", "a great deal")).press("Show the answer")
	require.Equal(t, http.StatusUnprocessableEntity, short.status)
	assert.Contains(t, short.doc.Find("#panel .answer").Text(), "0.96 cord", "what is here is known all the same")
	assert.Contains(t, short.doc.Find("#faults").Text(), "Sold")
}

// typeRow types one row that is a third of a cord into the open measuring page.
func (p *phone) typeRow() {
	p.t.Helper()
	p.fill("Row 1, length", "96")
	for i := range 4 {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), "48")
	}
	for i := range 5 {
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
}

// While one types, what a bare number means is said at once, and an answer that no
// longer fits the fields is crossed out: when a reading changes, can't be read, or no
// connection lets it be answered.
func TestPhoneAStaleAnswerIsCrossedOut(t *testing.T) {
	p := newPhone(t, withShop(t))
	// a browser that can't run the program: only the server answers
	_, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: "delete window.WebAssembly"})
	require.NoError(t, err)
	p.open("/measure")
	p.fill("Sold", "1/2 cord")
	p.typeRow()
	p.until(`document.getElementById("running").textContent.includes("0.33")`)
	p.until(`document.getElementById("stack.rows[0].length-echo").textContent === "8 ft"`)
	stale := `(() => { const a = document.querySelector("#panel .answer:not(.quiet)"); return !!a && getComputedStyle(a).textDecorationLine === "line-through"; })()`
	p.until(`!(` + stale + `)`) // what was typed last may still be on its way

	p.fill("Row 1, height 2", "480")
	p.until(`document.getElementById("running").textContent.includes("up to 20 ft")`)
	p.step("panel")
	p.until(stale)
	p.until(`document.getElementById("stale").textContent.includes("20 ft")`)
	p.fill("Row 1, height 2", "48")
	p.step("panel")
	p.until(`!(` + stale + `) && document.getElementById("running").textContent.includes("0.33")`)

	p.fill("Sold", "a heap of wood")
	p.until(`!document.querySelector("#panel .answer").textContent.includes("Short")`)
	p.fill("Sold", "1/2 cord")
	p.until(`document.getElementById("running").textContent.includes("0.33 of 1/2 cord")`)

	ask[bool](p, `window.fetch = () => Promise.reject(new TypeError("no connection")), true`)
	p.fill("Row 1, height 3", "47")
	p.until(stale)
	p.until(`document.getElementById("running").textContent.includes("No connection")`)
}
