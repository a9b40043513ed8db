package web_test

import (
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// draws draws a line in the box for a signature as a finger does.
func (p *phone) draws() {
	p.t.Helper()
	ask[bool](p, `(() => { const b = document.getElementById("sign"); b.scrollIntoView({block: "center"}); b.setPointerCapture = () => {};
		const r = b.getBoundingClientRect();
		const touch = (kind, x, y) => b.dispatchEvent(new PointerEvent(kind, {clientX: r.left + x, clientY: r.top + y, pointerId: 1, bubbles: true}));
		touch("pointerdown", 20, 20);
		for (let i = 1; i < 20; i++) touch("pointermove", 20 + i * 8, 20 + (i % 3) * 10);
		touch("pointerup", 180, 20); return true; })()`)
}

// At the door: what the receipt will say, paid in cash, signed with a finger, one button; the
// receipt shows all three and the order owes nothing.
func TestPhoneDeliversPaidAndSigned(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	p := newPhone(t, d)
	p.open(order + "/deliver")
	p.shot("deliver")
	p.tap("label", "Cash")
	p.draws()
	p.until(`document.querySelector("button.main").textContent === "Delivered, $280.00 in cash"`)
	p.until(`document.querySelector("#panel").innerText.includes("Paid on delivery, cash")`)
	assert.Equal(t, d.orders()[0].Customer.Name, ask[string](p, find("label", "Received by")+`.value`), "who signs is put in")
	p.fits()
	p.shot("deliver-signed")
	p.press("button", "Delivered, $280.00 in cash")
	assert.Contains(t, p.text(), "Signed on the screen")
	assert.Positive(t, ask[int](p, `document.querySelector(".drawn path").getTotalLength()|0`))
	p.shot("deliver-receipt")
	p.open(order)
	assert.NotContains(t, p.text(), "Take $280.00")
	p.open(order + "/payments")
	assert.Contains(t, strings.ToLower(p.text()), "cash")
}

// Half of it is paid at the door by card: the button says how much comes, the receipt takes
// it off, and the rest is the order's next step.
func TestPhoneDeliversPaidInPart(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	p := newPhone(t, d)
	p.open(order + "/deliver")
	p.tap("label", "Card")
	p.fill("How much, if not all", "100")
	p.until(`document.querySelector("button.main").textContent === "Delivered, $100.00 by card"`)
	p.until(`document.querySelector("#panel").innerText.includes("Paid on delivery, card")`)
	p.fits()
	p.shot("deliver-part")
	p.press("button", "Delivered, $100.00 by card")
	assert.Contains(t, p.text(), "$180.00")
	p.open(order)
	assert.Contains(t, p.text(), "Take $180.00")
}

// A receipt is sent as its words by e-mail, and as its file by what the phone shares with.
func TestPhoneSendsAReceipt(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	mail := d.get("/receipts/1").doc.Find(`a[href^="mailto:"]`).AttrOr("href", "")
	letter, err := url.Parse(mail)
	require.NoError(t, err)
	assert.Contains(t, letter.Query().Get("body"), "1 cord (128 ft³) of red oak, delivered on 20 November 2026.\r\n")
	assert.Contains(t, letter.Query().Get("body"), "To pay: $280.00\r\n")
	p := newPhone(t, d)
	_, err = chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
		Source: `window.shared = null; navigator.canShare = () => true; navigator.share = async (what) => { window.shared = what; };`})
	require.NoError(t, err)
	p.open("/receipts/1")
	p.until(`document.querySelector("[data-send]").checkVisibility()`)
	p.until(`(document.querySelector("[data-send]").click(), window.shared?.files?.[0]?.size > 1000)`)
	assert.Equal(t, "receipt-1.pdf", ask[string](p, `window.shared.files[0].name`))
	assert.Contains(t, ask[string](p, `window.shared.text`), "Receipt 1, Alder Lane Firewood")
}
