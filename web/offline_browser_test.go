package web_test

import (
	"errors"
	"fmt"
	"net"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/web"
)

// A cutSignal is a listener that nothing gets through to while it is cut.
type cutSignal struct {
	net.Listener
	cut atomic.Bool
}

type cutConn struct {
	net.Conn
	signal *cutSignal
}

func (s *cutSignal) Accept() (net.Conn, error) {
	conn, err := s.Listener.Accept()
	if err != nil {
		return nil, err
	}
	return cutConn{conn, s}, nil
}

func (c cutConn) Read(b []byte) (int, error) {
	n, err := c.Conn.Read(b)
	if err == nil && c.signal.cut.Load() {
		return 0, errors.Join(errors.New("no signal"), c.Conn.Close())
	}
	return n, err
}

// inTheYard is a phone that keeps its pages, and what cuts its signal.
func inTheYard(t *testing.T, d *desk) (*phone, *cutSignal) {
	t.Helper()
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	signal := &cutSignal{Listener: listener}
	p := newPhoneOn(t, d, signal)
	p.open("/")
	p.copies("/offline")
	return p, signal
}

// later gives what a promise in the page comes to.
func later[T any](p *phone, promise string) T {
	p.t.Helper()
	p.waits(`(async () => { window.got = await ` + promise + `; return true; })()`)
	return ask[T](p, `window.got`)
}

// copies waits until the phone has copies of pages.
func (p *phone) copies(paths ...string) {
	p.t.Helper()
	p.waits(`(async () => {
		if (!navigator.serviceWorker.controller) return false;
		for (const path of ` + quoted(paths) + `) if (!await caches.match(path)) return false;
		return true;
	})()`)
}

func quoted(list []string) string { return `["` + strings.Join(list, `","`) + `"]` }

// The day's pages open without signal and say since when they are; what isn't kept is
// said by a page of ours.
func TestPhoneOpensTheDayWithoutSignal(t *testing.T) {
	d := withShop(t)
	order := d.takeFor("Ada Moss", "1 cord", "today")
	p, signal := inTheYard(t, d)
	p.open("/")
	p.copies("/", "/measure", "/how-to-measure", order, order+"/measure", order+"/payments", order+"/deliver")
	assert.False(t, ask[bool](p, `document.getElementById("copy").checkVisibility()`))

	signal.cut.Store(true)
	for _, path := range []string{"/", order, order + "/measure", "/how-to-measure"} {
		p.open(path)
		p.until(`document.getElementById("copy").checkVisibility()`)
		assert.Regexp(t, `No signal. This page is as of \d+:\d\d`, ask[string](p, `document.getElementById("copy").innerText`), path)
	}
	p.open("/rules")
	assert.Contains(t, p.text(), "This page isn’t on this phone.")
	p.until(`document.getElementById("opens").innerText.includes("Ada Moss")`)
	assert.Empty(t, ask[string](p, `document.querySelector("input[name=csrf]")?.value ?? ""`))

	signal.cut.Store(false)
	p.open("/rules")
	assert.Contains(t, p.text(), "Vermont")
}

// No copy holds a form's token, and the pages of links, people and the shop have none.
func TestPhoneCopiesNoSecret(t *testing.T) {
	d := withShop(t)
	d.takeFor("Ada Moss", "1 cord", "today")
	p, _ := inTheYard(t, d)
	for _, path := range []string{"/shop", "/people", "/me", "/audits", "/orders/new", "/"} {
		p.open(path)
	}
	p.copies("/orders/new")
	kept := later[[]string](p, `(async () => { const all = []; const cache = await caches.open("copies");
		for (const r of await cache.keys()) { all.push(new URL(r.url).pathname); if (/name="csrf" value="[^"]/.test(await (await cache.match(r)).text())) all.push("a token on " + r.url); }
		return all; })()`)
	assert.Contains(t, kept, "/orders/new")
	for _, path := range kept {
		assert.NotRegexp(t, `^/(shop|people|me|audits)$|token`, path)
	}
}

func TestWorkerAndManifestAreServed(t *testing.T) {
	d := withShop(t)
	worker := d.get("/sw.js")
	require.Equal(t, http.StatusOK, worker.status)
	assert.Contains(t, worker.header.Get("Content-Type"), "javascript")
	assert.Equal(t, "no-cache", worker.header.Get("Cache-Control"))
	manifest := d.getJSON("/manifest.webmanifest")
	assert.Equal(t, "application/manifest+json", manifest.header.Get("Content-Type"))
	for _, icon := range []string{"icon-180.png", "icon-192.png", "icon-512.png"} {
		assert.Equal(t, "image/png", d.get("/static/"+icon).header.Get("Content-Type"))
	}
	assert.Contains(t, d.get("/").header.Get("Content-Security-Policy"), "manifest-src 'self'")
}

// A day's work is written without signal, waits in sight, and goes up once, in order,
// when signal is back.
func TestPhoneWritesADayWithoutSignal(t *testing.T) {
	d := withShop(t)
	ada, bo := d.takeFor("Ada Moss", "1 cord", "today"), d.takeFor("Bo Lund", "1/2 cord", "today")
	p, signal := inTheYard(t, d)
	p.open("/")
	p.copies(ada+"/payments", ada+"/deliver", bo, "/orders/new")

	signal.cut.Store(true)
	p.open(ada + "/deliver")
	p.press("button", "Make the receipt")
	p.goesUp("Delivery, receipt number to follow: 1 cord, Ada Moss")
	p.open(ada + "/payments")
	p.fill("Amount", "130.00")
	p.tap("label", "Cash")
	p.press("button", "Record it")
	p.goesUp("Payment: 130.00, Ada Moss")
	p.open(bo)
	p.fill("When", "tomorrow")
	p.press("button", "Set the day")
	p.goesUp("Day: tomorrow, Bo Lund")
	p.fits()
	assert.Contains(t, p.text(), "3 waiting, 0 to decide")
	p.open("/")
	p.until(`document.getElementById("waits").innerText.startsWith("3")`)
	assert.Equal(t, 2, ask[int](p, `document.querySelectorAll(".book .waits").length`))
	assert.Empty(t, d.history(ada).Payments, "nothing has gone up yet")

	signal.cut.Store(false)
	p.open("/outbox")
	p.until(`document.getElementById("none").checkVisibility()`)
	h := d.history(ada)
	require.Len(t, h.Loads, 1)
	require.Len(t, h.Payments, 1)
	assert.Equal(t, int64(13000), h.Payments[0].Amount.Minor)
	assert.NotEqual(t, d.history(ada).Order.Day, d.history(bo).Order.Day)
	p.open("/")
	assert.False(t, ask[bool](p, `document.getElementById("waits").checkVisibility()`))
}

// goesUp waits until the list of what waits has a line.
func (p *phone) goesUp(line string) {
	p.t.Helper()
	p.until(`location.pathname === "/outbox" && [...document.querySelectorAll("#going strong")].some((e) => e.textContent === "` + line + `")`)
}

// The server saves a payment and its answer is lost: the phone sends it again by itself,
// and it is there once.
func TestPhoneALostAnswerGoesUpOnce(t *testing.T) {
	d := withShop(t)
	order := d.takeFor("Ada Moss", "1 cord", "today")
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	signal := &yardSignal{Listener: listener}
	p := newPhoneOn(t, d, signal)
	p.open("/")
	p.copies("/offline")
	p.open(order + "/payments")
	p.fill("Amount", "130.00")
	p.tap("label", "Cash")
	signal.lost.Store(true)
	p.press("button", "Record it")
	p.goesUp("Payment: 130.00, Ada Moss")
	require.Len(t, d.history(order).Payments, 1, "it was saved")

	signal.lost.Store(false)
	p.open("/outbox")
	p.until(`document.getElementById("none").checkVisibility()`)
	assert.Len(t, d.history(order).Payments, 1, "and isn’t saved twice")
}

// Two phones set the day of one order: the later one is asked, and overwrites nothing.
func TestPhoneAConflictShowsBothSides(t *testing.T) {
	d := withShop(t)
	order := d.takeFor("Ada Moss", "1 cord", "today")
	p, signal := inTheYard(t, d)
	p.open("/")
	p.copies(order)
	signal.cut.Store(true)
	p.open(order)
	p.fill("When", "tomorrow")
	p.press("button", "Set the day")
	p.goesUp("Day: tomorrow, Ada Moss")
	page := d.get(order)
	page.form = page.doc.Find(`form[action$="/day"]`)
	page.values = formValues(page.form)
	require.Equal(t, http.StatusSeeOther, page.fill("When", "2026-12-24").press("Set the day").status)
	byDesk := d.history(order).Order

	signal.cut.Store(false)
	p.open("/outbox")
	p.until(`document.querySelector("#deciding h2")?.textContent === "Day: tomorrow, Ada Moss"`)
	p.until(`document.querySelector("[data-side=theirs]")?.innerText.includes("24 December 2026")`)
	assert.Contains(t, ask[string](p, `document.querySelector("[data-side=ours]").innerText`), "tomorrow")
	assert.Contains(t, strings.Join(strings.Fields(p.text()), " "), "0 waiting, 1 to decide")
	assert.Equal(t, byDesk, d.history(order).Order, "nothing is overwritten")
	p.fits()
	p.press("button", "Look and decide")
	assert.Contains(t, p.text(), "24 December")
	assert.Equal(t, "tomorrow", ask[string](p, `document.getElementById("day").value`))
}

// An order written without signal is read back once there is one, and taken once.
func TestPhoneAnOrderWithoutSignalIsReadBackLater(t *testing.T) {
	d := withShop(t)
	p, signal := inTheYard(t, d)
	p.open("/")
	p.copies("/orders/new")
	signal.cut.Store(true)
	p.fillOrder()
	p.press("button", "Read it back")
	p.goesUp("New order: 1 cord, Cut Line")
	signal.cut.Store(false)
	p.open("/outbox")
	p.until(`document.querySelector("#deciding h2")?.textContent === "New order: 1 cord, Cut Line"`)
	assert.Empty(t, d.orders())
	p.press("button", "Look and decide")
	p.press("button", "Take the order, $280.00")
	assert.Len(t, d.orders(), 1)
	p.open("/outbox")
	p.until(`document.getElementById("none").checkVisibility()`)
	p.open("/orders/new")
	assert.Empty(t, ask[string](p, `document.getElementById("customer_name").value`))
}

// A phone that was shut out loses its copies and what waits at its next contact; one
// whose owner signs out is asked first, and then wiped.
func TestPhoneThatIsShutOutForgets(t *testing.T) {
	d := withOwner(t)
	order := d.takeFor("Ada Moss", "1 cord", "today")
	p, signal := inTheYard(t, d)
	p.open("/sign-in")
	p.fill("Your name", "Rosalind Pike")
	p.fill("Password, or a recovery code", ownersPassword)
	p.press("button", "Sign in")
	p.open("/")
	p.copies("/", order, order+"/payments")
	signal.cut.Store(true)
	p.open(order + "/payments")
	p.fill("Amount", "130.00")
	p.tap("label", "Cash")
	p.press("button", "Record it")
	p.goesUp("Payment: 130.00, Ada Moss")
	me := d.get("/me")
	me.form = me.doc.Find(`form[action="/me/sign-out-others"]`)
	me.values = formValues(me.form)
	require.Equal(t, http.StatusSeeOther, me.press("Sign out everywhere else").status)

	signal.cut.Store(false)
	p.open("/")
	p.until(`location.pathname === "/start"`)
	p.forgets(order)
	assert.Empty(t, d.history(order).Payments, "a phone that is out sends nothing")
}

// forgets waits until nothing of the shop is on the phone.
func (p *phone) forgets(order string) {
	p.t.Helper()
	p.waits(`(async () => (await outbox.all()).length === 0 && !await caches.match("` + order + `") && !await caches.match("/") && localStorage.length === 0)()`)
}

func TestPhoneAsksBeforeSigningOutLosesWhatWaits(t *testing.T) {
	d := withOwner(t)
	order := d.takeFor("Ada Moss", "1 cord", "today")
	p, signal := inTheYard(t, d)
	p.open("/sign-in")
	p.fill("Your name", "Rosalind Pike")
	p.fill("Password, or a recovery code", ownersPassword)
	p.press("button", "Sign in")
	p.open("/me")
	p.open("/")
	p.copies("/", order+"/payments")
	signal.cut.Store(true)
	p.open(order + "/payments")
	p.fill("Amount", "130.00")
	p.tap("label", "Cash")
	p.press("button", "Record it")
	p.goesUp("Payment: 130.00, Ada Moss")
	ask[bool](p, `(async () => { const [w] = await outbox.all(); await outbox.put({ ...w, state: "refused" }); document.title = "held"; })() && true`)
	p.until(`document.title === "held"`) // what waits for a decision doesn't go up meanwhile

	signal.cut.Store(false)
	p.open("/me")
	p.tap("button", "Sign out here")
	p.until(`document.body.innerText.includes("Signing out would lose them.")`)
	p.press("button", "Lose them and sign out")
	p.until(`location.pathname === "/sign-in"`)
	p.forgets(order)
}

// A copy is gone after three days.
func TestPhoneCopyExpires(t *testing.T) {
	d := withShop(t)
	order := d.takeFor("Ada Moss", "1 cord", "today")
	p, signal := inTheYard(t, d)
	p.open("/")
	p.copies(order)
	signal.cut.Store(true)
	later[bool](p, `(async () => { const cache = await caches.open("copies"); const old = await cache.match("`+order+`"); const headers = new Headers(old.headers);
		headers.set("Wellstowed-Kept", new Date(Date.now() - 3 * 24 * 3600e3 - 60e3).toISOString()); await cache.put("`+order+`", new Response(await old.text(), { headers })); return true; })()`)
	p.open(order)
	assert.Contains(t, p.text(), "This page isn’t on this phone.")
}

// Over plain http from another machine nothing is kept, and every page says why.
func TestPlainHTTPSaysWhyNothingIsKept(t *testing.T) {
	d := withShop(t)
	assert.Empty(t, d.get("/").doc.Find("footer p:not([hidden])").Text(), "this machine itself keeps pages")
	d.server = d.serverOf(testClock, func(c *web.Config) { c.Hosts = []string{"yard.example"} })
	d.host = "yard.example"
	for _, path := range []string{"/", "/measure", "/orders/new"} {
		assert.Contains(t, d.get(path).doc.Find("footer p:not([hidden])").Text(), "Work without signal is off: browsers keep pages only from an address that begins with https")
	}
}

// Readings taken at the stack without signal make their sheet once it is back, and the
// page that they were typed into is empty again.
func TestPhoneMeasuresWithoutSignal(t *testing.T) {
	d := withShop(t)
	order := d.takeFor("Ada Moss", "1/3 cord", "today")
	p, signal := inTheYard(t, d)
	p.open("/")
	p.copies(order + "/measure")
	signal.cut.Store(true)
	p.open(order + "/measure")
	for i, piece := range []string{"16", "15.5", "16.25", "15.75", "16.5"} {
		p.fill(fmt.Sprintf("Piece %d", i+1), piece)
	}
	p.tap("label", "None")
	p.fill("Row 1, length", "96")
	for i, h := range []string{"48", "47", "48.5", "46.5"} {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), h)
	}
	p.press("button", "Save and make the sheet")
	p.goesUp("Readings: Ada Moss")
	assert.Contains(t, ask[string](p, `document.querySelector("#going dl").textContent`), "Row 1, height 247")
	assert.Zero(t, ask[int](p, `localStorage.length`), "it waits, and is no draft any more")
	signal.cut.Store(false)
	p.open("/outbox")
	p.until(`document.getElementById("none").checkVisibility()`)
	require.Len(t, d.history(order).Tallies, 1)
}
