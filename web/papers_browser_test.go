package web_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts"
)

// A stack measured short binds its ticket: what was measured is proposed and priced, more
// needs the seller's words, and what is odd is asked about.
func TestPhoneDeliversAShortStack(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	d.saveShortTally(order)
	p := newPhone(t, d)
	p.open(order + "/deliver")
	assert.Contains(t, p.text(), "short by 1/8 cord (16 ft³)")
	assert.Equal(t, "7/8 cord", ask[string](p, find("label", "Delivered")+`.value`))
	assert.Contains(t, p.text(), "$245.00")
	p.fill("Delivered", "1 cord")
	p.press("button", "Make the receipt")
	assert.Contains(t, p.text(), "Sheet 1 finds 7/8 cord (112 ft³) there")
	p.fill("Why it is more than was measured", "A row was left on the trailer")
	p.fill("Delivered", "3 cords")
	p.press("button", "Make the receipt")
	assert.Contains(t, p.text(), "3 cords (384 ft³) is delivered in all, and 1 cord (128 ft³) was ordered")
	p.fill("Delivered", "1 cord")
	p.press("button", "Make the receipt")
	assert.Contains(t, p.text(), "1 cord (128 ft³) delivered")
	assert.Contains(t, p.text(), "More is delivered, the seller says: A row was left on the trailer")
}

// A correction and a void are papers of their own title, and each old one says what ended it.
func TestPhoneCorrectsAReceiptAndMakesItVoid(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	p := newPhone(t, d)
	p.open("/receipts/1/correct")
	p.fill("Delivered", "0.9 cord")
	p.fill("Why", "The last row was not unloaded")
	p.press("button", "Make the corrected receipt")
	assert.Contains(t, p.text(), "Corrects receipt 1 of 20 November 2026.")
	p.open("/receipts/1")
	assert.Contains(t, p.text(), "Corrected by receipt 2.")
	p.open("/receipts/2/void")
	p.fill("Why", "The load came back")
	p.press("button", "Make it void")
	assert.Contains(t, p.text(), "Makes receipt 2 of 20 November 2026 void.")
	p.open("/receipts/2")
	assert.Contains(t, p.text(), "Void: receipt 3 says why.")
}

// A clock behind the last paper is said on every page, and a paper waits for a yes.
func TestPhoneIsAskedWhetherTheClockIsRight(t *testing.T) {
	d := withShop(t)
	first, second := d.takeOrder("1 cord"), d.takeOrder("1 cord")
	painter, err := receipts.New()
	require.NoError(t, err)
	ahead := orders.New(d.db, painter, func() time.Time { return testClock().AddDate(0, 0, 3) })
	_, err = ahead.Deliver(t.Context(), act.Act{Actor: act.Actor{Person: "Odell", Role: act.Owner}, Request: uuid.NewString()},
		first[len("/orders/"):], orders.LoadRequest{})
	require.NoError(t, err)
	p := newPhone(t, d)
	p.open(second + "/deliver")
	assert.Contains(t, ask[string](p, `document.body.innerText`), "but the last paper was issued on 23 November 2026.")
	p.press("button", "Make the receipt")
	assert.Equal(t, "This computer’s clock says it is 20 November 2026, but the last paper was issued on 23 November 2026.",
		ask[string](p, `document.querySelector("#faults li").innerText.trim()`))
	p.tap("label", "The clock is right: today is 20 November 2026")
	p.press("button", "Make the receipt")
	assert.Contains(t, p.text(), "1 cord (128 ft³) delivered")
}

// What the seller's words can't measure is kept as words, and two answers that contradict
// each other are refused by name.
func TestPhoneKeepsARecordOfATruckload(t *testing.T) {
	p := newPhone(t, withShop(t))
	p.open("/buying/case/new")
	p.fill("How much was bought", "a truckload")
	p.fill("Your name", "Ada Moss")
	ask[bool](p, `(() => { const on = `+find("label", "Delivered on")+`; on.value = "2026-11-18"; on.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`)
	p.press("button", "Keep this record")
	p.tap("label", "Keep the words as they were said, without an amount: the wood is measured, and neither short nor full")
	p.press("button", "Keep this record")
	assert.Contains(t, p.text(), "Sold as “a truckload”: those words name no lawful measure.")
}

func TestPhoneIsToldThatTwoAnswersContradict(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	p := newPhone(t, d)
	p.open(d.buyersLink(1) + "/edit")
	ask[bool](p, `(document.querySelector("input[name=used][value=yes]").click(), true)`)
	p.press("button", "Save")
	p.press("a", "Measure the stack")
	p.tap("label", "None")
	p.fill("Row 1, length", "24 ft")
	for i := range 4 {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), "44")
	}
	for i := range 5 {
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
	p.press("button", "Save these readings")
	assert.Contains(t, ask[string](p, `document.querySelector("#faults").innerText`), "It says none, and under what an office would ask it says that some was used")
	p.tap("label", "Not known")
	p.press("button", "Save these readings")
	assert.Zero(t, ask[int](p, `document.querySelectorAll("#faults").length`))
}

// Wood in a container is held against cords as a range with a next step; loose wood never
// stands on a gauge of cords; a package is so many cubic feet.
func TestPhoneHoldsOtherKindsAgainstWhatWasSold(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open("/measure?kind=round")
	p.fill("Sold", "1 cord")
	for i := range 3 {
		p.fill(fmt.Sprintf("Diameter %d", i+1), "84")
		p.fill(fmt.Sprintf("Height %d", i+1), "60")
	}
	p.until(`document.querySelector("#panel figure.gauge") !== null`)
	p.fits()
	assert.Contains(t, p.text(), "Once stacked")
	assert.Contains(t, p.text(), "What to do")
	p.open("/measure?kind=load")
	p.tap("label", "Thrown in")
	p.tap("label", "Heights read from the floor")
	p.fill("Length", "96")
	p.fill("Width", "60")
	for i := range 4 {
		p.fill(fmt.Sprintf("Height %d", i+1), "45")
	}
	p.until(`document.querySelector("#panel .answer:not(.quiet)") !== null`)
	p.fits()
	assert.NotContains(t, ask[string](p, `document.querySelector("#panel figure.gauge")?.textContent ?? ""`), "cord")
	p.open("/measure?kind=packaged")
	p.tap("label", "Boxed")
	for label, value := range boxFilling() {
		p.fill(label, value)
	}
	p.until(`document.querySelector("#panel .answer:not(.quiet)") !== null`)
	p.fits()
	assert.Contains(t, ask[string](p, `document.querySelector("#panel .answer").textContent`), "ft³")
	assert.NotContains(t, ask[string](p, `document.querySelector("#panel .answer").textContent`), "cord")
}
