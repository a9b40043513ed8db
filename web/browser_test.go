package web_test

import (
	"context"
	"errors"
	"fmt"
	"net"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A phone is a real browser at the size of a phone, on a real listener.
type phone struct {
	t    *testing.T
	ctx  context.Context
	base string
	bare bool // scripts are switched off
}

func newPhone(t *testing.T, d *desk) *phone {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	return newPhoneOn(t, d, listener)
}

// oneBrowser starts the browser that all phones share: starting one takes longer than
// most of what they do. Each has a profile of its own, so that none sees another's
// cookies and drafts.
var oneBrowser = sync.OnceValues(func() (context.Context, error) {
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if found, err := exec.LookPath(name); err == nil {
			path = found
			break
		}
	}
	if path == "" {
		return nil, exec.ErrNotFound
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.Flag("disable-background-networking", true))
	allocator, _ := chromedp.NewExecAllocator(context.Background(), options...)
	ctx, cancel := chromedp.NewContext(allocator)
	closeBrowser = cancel
	return ctx, chromedp.Do(ctx, chromedp.Navigate("about:blank"))
})

// closeBrowser ends the browser, where one was started.
var closeBrowser = func() {}

// newPhoneOn is a phone whose every word goes through a listener.
func newPhoneOn(t *testing.T, d *desk, listener net.Listener) *phone {
	t.Helper()
	browser, err := oneBrowser()
	if errors.Is(err, exec.ErrNotFound) {
		if os.Getenv("CI") == "true" {
			t.Fatal("no chromium is installed, and CI=true asks for the browser tests")
		}
		t.Skip("no chromium is installed; install it to run the browser tests")
	}
	require.NoError(t, err)
	served := make(chan error, 1)
	go func() { served <- d.server.Serve(listener) }()
	t.Cleanup(func() {
		ctx, cancel := context.WithTimeout(context.Background(), 10*time.Second)
		defer cancel()
		assert.NoError(t, d.server.Shutdown(ctx))
		assert.NoError(t, <-served)
	})
	own, cancel := chromedp.NewContext(browser, chromedp.WithNewBrowserContext())
	ctx, cancelTime := context.WithTimeout(own, 2*time.Minute)
	t.Cleanup(func() { cancelTime(); cancel() })
	require.NoError(t, chromedp.Do(ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile)))
	return &phone{t: t, ctx: ctx, base: "http://" + listener.Addr().String()}
}

// unscripted switches the pages' own scripts off.
func (p *phone) unscripted() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	require.NoError(p.t, err)
	p.bare = true
}

func (p *phone) open(path string) {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+path)))
	p.fits()
}

// ask evaluates an expression in the page. The debugger may do so where the
// page's own scripts are switched off.
func ask[T any](p *phone, expression string) T {
	p.t.Helper()
	got, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression))
	require.NoError(p.t, err)
	return got
}

// find is the expression of the one visible thing of a kind with that text; a
// label gives its field.
func find(kind, text string) string {
	return fmt.Sprintf(`(() => {
		const told = (e) => { const c = e.cloneNode(true); for (const h of c.querySelectorAll("[aria-hidden]")) h.remove(); return c.textContent.trim(); };
		const all = [...document.querySelectorAll(%s)].filter((e) => !e.hidden && told(e) === %s);
		if (all.length !== 1) throw new Error(all.length + " found for " + %s);
		return all[0].control ?? all[0];
	})()`, strconv.Quote(kind), strconv.Quote(text), strconv.Quote(text))
}

// mark gives what find finds an attribute to be clicked or typed into by. On a page that
// goes step by step it goes to the step first, as by a link to it.
func (p *phone) mark(kind, text string) chromedp.CSS {
	p.t.Helper()
	ask[bool](p, `(() => { for (const e of document.querySelectorAll("[data-test]")) delete e.dataset.test;
		const e = `+find(kind, text)+`; for (let d = e.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
		const menu = e.closest("[popover]"); if (menu && !e.checkVisibility()) menu.showPopover();
		if (document.querySelector(".stepping") && !e.checkVisibility()) location.hash = "#" + (e.closest(".step")?.id ?? (e.value === "row+" ? "row-1" : "panel"));
		e.dataset.test = ""; e.scrollIntoView({block: "center"}); return true; })()`)
	return `[data-test]`
}

func (p *phone) fill(label, text string) {
	p.t.Helper()
	field := p.mark("label", label)
	ask[string](p, `document.querySelector("[data-test]").value = ""`)
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.SendKeys(field, text)), label)
}

func (p *phone) tap(kind, text string) {
	p.t.Helper()
	require.NoError(p.t, chromedp.Do(p.ctx, chromedp.Click(p.mark(kind, text))), text)
}

// press taps what leads to another page and waits for that page.
func (p *phone) press(kind, text string) {
	p.t.Helper()
	ask[bool](p, `window.before = true`)
	p.tap(kind, text)
	p.until(`!window.before && document.readyState === "complete"`)
	p.fits()
}

// until waits for a condition in the page.
func (p *phone) until(condition string) {
	p.t.Helper()
	require.Eventually(p.t, func() bool {
		got, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](condition))
		return err == nil && got
	}, 20*time.Second, 20*time.Millisecond, condition)
}

func (p *phone) text() string {
	return strings.ReplaceAll(ask[string](p, `document.querySelector("main").innerText`), "\u00a0", " ")
}

// fits checks that nothing runs off the side and that everything to be tapped,
// but for a link inside a sentence, is large enough for a glove.
func (p *phone) fits() {
	p.t.Helper()
	assert.LessOrEqual(p.t, ask[int](p, `document.documentElement.scrollWidth`), ask[int](p, `screen.width`), "runs off the side: %s", ask[string](p, `location.pathname`))
	small := ask[[]string](p, `[...document.querySelectorAll("a, button, input:not([type=hidden]), select, textarea, summary")]
		.filter((e) => e.checkVisibility() && !e.matches(".skip, p a, dd a"))
		.map((e) => [e.matches("[type=radio], [type=checkbox]") ? e.closest("label") : e, e])
		.filter(([e]) => { const b = e.getBoundingClientRect(); return b.height < 47.9 || b.width < 47.9; })
		.map(([e]) => e.outerHTML.slice(0, 120))`)
	assert.Empty(p.t, small, "below 48 px on %s", ask[string](p, `location.pathname`))
}

// sellOneAndAThird takes an order, hands it over and opens its measuring page.
func (p *phone) sellOneAndAThird() {
	p.t.Helper()
	p.open("/orders/new")
	p.fill("Customer", "Ada Moss")
	p.fill("Address", "12 Mill Road")
	p.fill("How much", "1 1/3 cords")
	p.fill("Species", "red oak")
	p.fill("Price per cord", "280")
	p.press("button", "Read it back")
	p.press("button", "Take the order, $373.33")
	require.Contains(p.t, p.text(), "1 1/3 cords (171 ft³)")
	p.press("a", "Deliver")
	p.press("button", "Make the receipt")
	require.Contains(p.t, p.text(), "1 1/3 cords (171 ft³) delivered")
	p.press("a", "Back to the order")
	p.press("a", "Measure the stack")
}

// addRow adds a row; only without scripts that takes a page.
func (p *phone) addRow() {
	p.t.Helper()
	if p.bare {
		p.press("button", "Add a row")
	} else {
		p.tap("button", "Add a row")
	}
}

// readThreeRows types three uneven rows that hold about a cord.
func (p *phone) readThreeRows() {
	p.t.Helper()
	rows := [][]string{{"96", "48", "47", "48.5", "46.5"}, {"95 in", "47", "48", "46", "47.5"}, {"8 ft 1/2 in", "46.5", "45", "46", "44.5"}}
	for i, piece := range []string{"16", "15.5", "16.25", "15.75", "16.5"} {
		p.fill(fmt.Sprintf("Piece %d", i+1), piece)
	}
	p.tap("label", "None")
	for r, row := range rows {
		if r > 0 {
			p.addRow()
		}
		p.fill(fmt.Sprintf("Row %d, length", r+1), row[0])
		for i, h := range row[1:] {
			p.fill(fmt.Sprintf("Row %d, height %d", r+1, i+1), h)
		}
	}
}

func TestPhoneFromOrderToSheet(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.sellOneAndAThird()
	p.readThreeRows()
	p.until(`document.getElementById("running").textContent.includes("short")`)
	p.fits()
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "Short by")
	assert.Equal(t, 2, ask[int](p, `document.querySelectorAll("figure svg").length`))
	assert.GreaterOrEqual(t, ask[float64](p, `parseFloat(getComputedStyle(document.querySelector(".answer")).fontSize)`), 32.0)
	assert.Zero(t, ask[int](p, `localStorage.length`), "the draft is done with")
	for _, path := range []string{"/", "/shop", "/measure", "/how-to-measure", "/nowhere"} {
		p.open(path)
	}
}

// A seller beside a loaded trailer: what does not go with what was chosen is out of
// sight, and the answer comes while typing.
func TestPhoneMeasuresALoad(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	p := newPhone(t, d)
	p.open(order + "/measure")
	p.press("a", "On a truck or trailer")
	seen := func(id string) bool {
		return ask[bool](p, `document.getElementById(`+strconv.Quote(id)+`).checkVisibility()`)
	}
	assert.False(t, seen("stack.length"))
	p.tap("label", "Thrown in")
	p.tap("label", "Heights read from the floor")
	assert.True(t, seen("stack.length"))
	assert.False(t, seen("stack.calibrated.volume"))
	p.fill("Length", "96")
	p.fill("Width", "60")
	for i, h := range []string{"44", "45", "46", "47"} {
		p.fill(fmt.Sprintf("Height %d", i+1), h)
	}
	p.until(`document.getElementById("running").textContent.includes("Once stacked, likely")`)
	assert.Contains(t, p.text(), "Can’t be told until it’s stacked")
	assert.Contains(t, p.text(), "Likely 0.65 to 0.9 of the 1 cord.")
	p.fits()
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "Heights of the fill")
	assert.Equal(t, 2, ask[int](p, `document.querySelectorAll("figure svg").length`))
	for _, kind := range []string{"heap", "bin", "round", "packaged", "load"} {
		p.open("/measure?kind=" + kind)
	}
}

func TestPhoneWithoutScripts(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.unscripted()
	p.sellOneAndAThird()
	p.readThreeRows()
	two := ask[string](p, `document.getElementById("running").textContent`)
	p.press("button", "Show the answer")
	assert.Contains(t, p.text(), "Short by")
	assert.NotEqual(t, two, ask[string](p, `document.getElementById("running").textContent`), "the third row counts once it is sent")
	p.press("button", "Save and make the sheet")
	assert.Contains(t, p.text(), "Short by")
}

func TestPhoneKeepsADraft(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.open("/measure")
	p.fill("Row 1, length", "96")
	p.addRow()
	p.fill("Row 2, length", "7 ft 3 in")
	p.open("/how-to-measure")
	ask[bool](p, `window.before = true`)
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+"/measure")))
	p.until(`document.getElementById("stack.rows[1].length")?.value === "7 ft 3 in"`)
	assert.Equal(t, "96", ask[string](p, `document.getElementById("stack.rows[0].length").value`))
}

// At a desk all rule sets stand side by side without scrolling sideways.
func TestRulesSideBySideFitADesk(t *testing.T) {
	p := newPhone(t, withShop(t))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.EmulateViewport(1280, 900)))
	require.NoError(t, chromedp.Do(p.ctx, chromedp.Navigate(p.base+"/rules")))
	wide := ask[[]int](p, `[...document.querySelectorAll(".wide")].map((e) => e.scrollWidth - e.clientWidth)`)
	assert.Equal(t, []int{0, 0}, wide)
}

// At 320 px, which is also a page at 400 % on a desk, nothing runs off the side.
func TestPagesReflow(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 1/3 cords")
	require.Equal(t, 303, d.get(order+"/deliver").press("Make the receipt").status)
	sheet := d.postJSON(order+"/measure", `{"format":1,"apart":"none",`+exampleStack(t)+`}`)
	require.Equal(t, 201, sheet.status, sheet.body)
	p := newPhone(t, d)
	require.NoError(t, chromedp.Do(p.ctx, chromedp.EmulateViewport(320, 568, chromedp.EmulateMobile)))
	for _, path := range []string{
		"/", "/orders/new", order, order + "/edit", order + "/measure", "/receipts/1", "/sheets/1", "/measure", "/how-to-measure", "/shop", "/wood", "/wood?species=red+oak&moisture=green", order + "/moisture", "/storage", "/trips", "/winter", "/lots", "/bodies", "/buying", "/buying/cases", "/buying/case/new", "/receipts/1/case",
	} {
		p.open(path)
		assert.Equal(t, 1, ask[int](p, `document.querySelectorAll("h1").length`), path)
	}
}
