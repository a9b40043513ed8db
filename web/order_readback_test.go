package web_test

import (
	"net/http"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// An ordinary order in the customer's words is read back whole, with what was carried
// to its fields, and taken as it was read.
func TestEveryOrderIsReadBackBeforeItIsTaken(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("Address", "12 Mill Road\nHartwell")
	p.fill("How much", "2 cords seasoned red oak 18 inch, split small, ring first").fill("Price per cord", "280").fill("Delivery", "25").fill("Deposit paid", "100")
	read := p.press("Read it back")
	require.Equal(t, http.StatusOK, read.status)
	assert.Empty(t, d.orders(), "nothing is taken yet")
	for _, says := range []string{
		"That’s 2 cords (256 ft³) of red oak, in pieces 18 in long, seasoned, split small, for Ada Moss, 12 Mill Road, Hartwell.",
		"At $280.00 per cord the wood is $560.00.", "Delivery: $25.00.", "For the driver: ring first.",
		"$585.00 in all: $100.00 is paid, and $485.00 is left to pay.",
	} {
		assert.Contains(t, read.text(), says)
	}
	require.Equal(t, http.StatusSeeOther, read.press("Take the order, $585.00").status)
	o := d.orders()[0]
	assert.Equal(t, "red oak", o.Species)
	assert.Equal(t, 18*measure.Inch, o.PieceLength)
	assert.Equal(t, yard.Seasoned, o.Seasoning)
	assert.Equal(t, spoken.SmallSplit, o.Split)
	assert.Equal(t, "ring first", o.Notes)
}

// What was confirmed takes the order that was read back, and no other.
func TestAnotherOrderThanWasReadBackIsReadAgain(t *testing.T) {
	d := withShop(t)
	read := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Price per cord", "280").press("Read it back")
	read.values.Set("quantity", "2 cords")
	again := read.press("Take the order, $280.00")
	require.Equal(t, http.StatusOK, again.status)
	assert.Empty(t, d.orders())
	assert.Contains(t, again.text(), "It isn’t what was read back before.")
	require.Equal(t, http.StatusSeeOther, again.press("Take the order, $560.00").status)
}

// From what is read back one way leads to the form, with everything as it was typed.
func TestWhatIsReadBackCanBeChanged(t *testing.T) {
	d := withShop(t)
	read := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "a 1/2 cord").fill("Price per cord", "280").fill("Notes for the driver", "ring\ntwice").press("Read it back")
	form := read.press("Change it")
	require.Equal(t, http.StatusOK, form.status)
	assert.Zero(t, form.doc.Find(".faults").Length(), "nothing is wrong")
	assert.Equal(t, "a 1/2 cord", form.typed("How much"))
	assert.Equal(t, "ring\ntwice", form.labelled("Notes for the driver").Text())
	require.Equal(t, http.StatusSeeOther, form.fill("Customer", "Bo Lund").take().status)
	assert.Equal(t, "Bo Lund", d.orders()[0].Customer.Name)
	assert.Equal(t, "140.00", d.orders()[0].Price.Total().Amount())
}

// A change of what is sold or of its price is read back too; one of the address is not.
func TestAChangedOrderIsReadBack(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/edit").fill("Address", "13 Mill Road").press("Save the change").status)
	read := d.get(path+"/edit").fill("How much", "2 cords").press("Save the change")
	require.Equal(t, http.StatusOK, read.status)
	assert.Equal(t, cordsOf(1), d.orders()[0].Quantity)
	require.Equal(t, http.StatusSeeOther, read.press("Save the change, $560.00").status)
	assert.Equal(t, cordsOf(2), d.orders()[0].Quantity)
}

func cordsOf(n measure.Volume) measure.Quantity {
	return measure.Quantity{Volume: n * measure.Cord, Basis: measure.Ranked}
}

// Words that differ from a field are asked about beside the field.
func TestWordsThatDifferFromAFieldAreAskedAbout(t *testing.T) {
	d := withShop(t)
	asked := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord of oak").fill("Species", "ash").fill("Price per cord", "280").press("Read it back")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Contains(t, asked.doc.Find("#species-fault").Text(), "The words say oak, and this says ash")
	assert.Equal(t, "1 cord of oak", asked.typed("How much"))
}

// A program is told what to read back, and takes the order with it.
func TestAProgramReadsBackToo(t *testing.T) {
	d := withShop(t)
	const order = `{"customer_name":"Ada Moss","quantity":"4 x 4 x 8","species":"ash","piece_length":"16 in","price_per_cord":"280"}`
	asked := d.postJSON("/orders", order)
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Contains(t, asked.body, `"code":"read-back"`)
	assert.Contains(t, asked.body, "1 cord (128 ft³) for $280.00, $280.00 in all; a stack 48 in by 48 in by 8 ft holds 1 cord (128 ft³)")
	assert.Contains(t, d.postJSON("/orders/price", order).body, `"read_back":["That’s`)
	assert.Equal(t, http.StatusCreated, d.orderJSON(order).status)
}

// On a phone what is read back is one screen with its button, and has no field in which
// Enter could do anything.
func TestPhoneReadsAnOrderBackOnOneScreen(t *testing.T) {
	d := withShop(t)
	p := newPhone(t, d)
	p.open("/orders/new")
	p.fill("Customer", "Ada Moss")
	p.fill("Address", "12 Mill Road")
	p.fill("How much", "2 cords seasoned red oak 18 inch, split small")
	p.fill("Price per cord", "280")
	p.press("button", "Read it back")
	assert.LessOrEqual(t, ask[int](p, `document.documentElement.scrollHeight`), ask[int](p, `window.innerHeight`), "it fits one screen")
	assert.Zero(t, ask[int](p, `document.querySelectorAll("main input:not([type=hidden]), main textarea, main select").length`))
	before := d.written()
	require.NoError(t, chromedp.Do(p.ctx, chromedp.KeyEvent("\r")))
	assert.Equal(t, before, d.written(), "Enter was acted on")
	p.press("button", "Take the order, $560.00")
	assert.Contains(t, p.text(), "2 cords (256 ft³)")
	assert.Equal(t, spoken.SmallSplit, d.orders()[0].Split)
}
