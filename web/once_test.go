package web_test

import (
	"errors"
	"net"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A yardSignal is a listener whose answers get lost while it is lost: what was sent has
// arrived, and nothing comes back.
type yardSignal struct {
	net.Listener
	lost atomic.Bool
}

type yardConn struct {
	net.Conn
	signal *yardSignal
}

func (s *yardSignal) Accept() (net.Conn, error) {
	conn, err := s.Listener.Accept()
	if err != nil {
		return nil, err
	}
	return yardConn{conn, s}, nil
}

func (c yardConn) Write(b []byte) (int, error) {
	if c.signal.lost.Load() {
		return 0, errors.Join(errors.New("no signal"), c.Conn.Close())
	}
	return c.Conn.Write(b)
}

// withoutWorker makes the phone one whose browser keeps nothing for a page, as in a
// private window.
func (p *phone) withoutWorker() {
	p.t.Helper()
	_, err := chromedp.Call(p.ctx, network.Enable, network.EnableParams{})
	require.NoError(p.t, err)
	_, err = chromedp.Call(p.ctx, network.SetBypassServiceWorker, network.SetBypassServiceWorkerParams{Bypass: true})
	require.NoError(p.t, err)
}

func (p *phone) fillOrder() {
	p.t.Helper()
	p.open("/orders/new")
	p.fill("Customer", "Cut Line")
	p.fill("How much", "1 cord")
	p.fill("Species", "red oak")
	p.fill("Price per cord", "280")
}

// A seller in the yard takes an order, the server saves it, and the answer is lost.
func TestPhoneALostAnswerMakesNoSecondOrder(t *testing.T) {
	d := withShop(t)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	signal := &yardSignal{Listener: listener}
	p := newPhoneOn(t, d, signal)
	p.withoutWorker()
	p.fillOrder()
	p.press("button", "Read it back")
	signal.lost.Store(true)
	p.tap("button", "Take the order, $280.00")
	p.until(`location.protocol === "chrome-error:"`)
	require.Len(t, d.orders(), 1, "it was saved")

	signal.lost.Store(false)
	p.open("/orders/new")
	p.until(`document.getElementById("customer_name").value === "Cut Line"`)
	assert.Contains(t, p.text(), "no answer came back")
	p.press("button", "Read it back")
	assert.Contains(t, p.text(), "for Cut Line")
	assert.Len(t, d.orders(), 1, "and is not saved twice")
	assert.Zero(t, ask[int](p, `localStorage.length`), "the draft is done with")
}

// The same, and the seller changes something before sending it again.
func TestPhoneALostAnswerAndAChangeAreBothKept(t *testing.T) {
	d := withShop(t)
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	signal := &yardSignal{Listener: listener}
	p := newPhoneOn(t, d, signal)
	p.withoutWorker()
	p.fillOrder()
	p.press("button", "Read it back")
	signal.lost.Store(true)
	p.tap("button", "Take the order, $280.00")
	p.until(`location.protocol === "chrome-error:"`)
	signal.lost.Store(false)

	p.open("/orders/new")
	p.until(`document.getElementById("customer_name").value === "Cut Line"`)
	p.fill("How much", "2 cords")
	p.press("button", "Read it back")
	assert.Contains(t, p.text(), "You saved this already")
	p.press("button", "Save it as a change to order 1")
	p.press("button", "Save the change, $560.00")
	require.Len(t, d.orders(), 1)
	assert.Equal(t, "2 cords", d.orders()[0].Words)
}

// A seller saves an order, goes back, corrects it and sends it again.
func TestPhoneBackLosesNoChange(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.fillOrder()
	p.press("button", "Read it back")
	p.press("button", "Take the order, $280.00")
	ask[bool](p, `history.go(-2), true`)
	p.until(`location.pathname === "/orders/new" && document.readyState === "complete"`)
	if ask[string](p, `document.getElementById("customer_name").value`) == "" {
		t.Skip("this browser made the page afresh, so there is nothing of the first order on it")
	}
	// the driver does not know the elements of a page that came back, its scripts do
	ask[bool](p, `(() => { const f = `+find("label", "How much")+`; f.value = "2 cords"; f.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	ask[bool](p, `(() => { `+find("button", "Read it back")+`.click(); return true; })()`)
	p.until(`document.querySelector("main")?.innerText.includes("You saved this already")`)
	assert.Contains(t, p.text(), "order 1: 1 cord (128 ft³) for Cut Line, $280.00.")
	p.press("button", "Save it as a change to order 1")
	p.press("button", "Save the change, $560.00")
	assert.Contains(t, p.text(), "2 cords (256 ft³) for Cut Line")
	assert.Len(t, d.orders(), 1)
}

func TestAnOrderSentAgainChangedSaysWhatWasSaved(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Species", "ash").fill("Price per cord", "280")
	saved := p.take().header.Get("Location")

	again := p.fill("How much", "2 cords").press("Read it back")
	require.Equal(t, http.StatusConflict, again.status)
	assert.Contains(t, again.text(), "order 1: 1 cord (128 ft³) for Ada Moss, $280.00.")
	assert.Equal(t, "2 cords", again.typed("How much"), "what was typed is kept")
	assert.Contains(t, again.text(), "Saved meanwhile: 1 cord")
	path, _, _ := strings.Cut(saved, "?")
	assert.Equal(t, 1, again.doc.Find(`.faults a[href="`+path+`"]`).Length())

	other := again.press("Take it as another order").press("Take the order, $560.00")
	require.Equal(t, http.StatusSeeOther, other.status)
	require.NotEqual(t, saved, other.header.Get("Location"))
	changed := again.press("Save it as a change to order 1")
	require.Equal(t, http.StatusConflict, changed.status, "its request made the other order")
	require.Equal(t, http.StatusSeeOther, changed.save().status)
	assert.Len(t, d.orders(), 2)
	assert.Equal(t, "2 cords", d.orders()[1].Words)
}

func TestAKeySentAgainWithOtherContentIsAProblemWithWhatWasSaved(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	key := "0199a000-0000-7000-8000-000000000001"
	pay := func(amount string) *answer {
		req := jsonRequest(order+"/payments", `{"paid":"`+amount+`","paid_by":"cash"}`)
		req.Header.Set("Idempotency-Key", key)
		return d.do(req)
	}
	require.Equal(t, http.StatusCreated, pay("5").status)
	refused := pay("500")
	require.Equal(t, http.StatusConflict, refused.status)
	assert.Equal(t, "application/problem+json", refused.header.Get("Content-Type"))
	assert.Contains(t, refused.body, `"saved":{"at":"2026-11-20T15:04:05Z","did":"add payment","path":"`+order+`/payments","as":{`)
	assert.Contains(t, refused.body, `"minor":500,`)
	require.Equal(t, http.StatusCreated, pay("5").status, "the same content is answered as before")
	assert.NotContains(t, d.getJSON(order+"/payments").body, `"minor":50000`)
}

// Whatever form of the shop's is sent again changed says that something was saved, and
// is saved by one more press.
func TestFormsSentAgainChangedAreSavedByOneMorePress(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	for _, row := range []struct{ path, button, field, first, second string }{
		{"/shop", "Save the shop", "Firm", "Alder Lane Firewood", "Alder Lane Wood"},
		{order + "/edit", "Save the change", "Species", "white ash", "sugar maple"},
		{order + "/payments", "Record it", "Amount", "5", "7"},
	} {
		p := d.get(row.path).fill(row.field, row.first)
		if row.field == "Amount" {
			p.choose("Cash")
		}
		require.Equal(t, http.StatusSeeOther, p.press(row.button).status, row.path)
		again := p.fill(row.field, row.second).press(row.button)
		require.Equal(t, http.StatusConflict, again.status, row.path)
		assert.Contains(t, again.text(), "You saved this already, at", row.path)
		require.Equal(t, row.second, again.labelled(row.field).AttrOr("value", ""), row.path)
		again.form = again.doc.Find(`form[action="` + row.path + `"]`)
		again.values = formValues(again.form)
		require.Equal(t, http.StatusSeeOther, again.press(row.button).status, row.path)
	}
	assert.Contains(t, d.get("/shop").body, "Alder Lane Wood")
	assert.Equal(t, "sugar maple", d.orders()[0].Species)
	body := d.getJSON(order + "/payments").body
	assert.Contains(t, body, `"minor":500,`)
	assert.Contains(t, body, `"minor":700,`)
}
