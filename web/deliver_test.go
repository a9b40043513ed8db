package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// saveShortTally measures an order's stack at seven eighths of a cord before it is handed
// over, and gives the sheet's finding.
func (d *desk) saveShortTally(order string) {
	d.t.Helper()
	doc := `{"format": 1, "apart": "none", "tape": "1/4 in", "top": "straightedge", "stowed": "checked", "by": "seller",
		"stack": {"kind": "rows", "pieces": ["16 in", "16 1/4 in", "15 3/4 in", "16 in", "16 in"], "rows": [
		{"length": "96 in", "heights": ["48 in", "48 in", "48 in", "48 in"]},
		{"length": "96 in", "heights": ["48 in", "48 in", "48 in", "48 in"]},
		{"length": "60 in", "heights": ["48 in", "48 in", "48 in", "48 in"]}]}}`
	saved := d.postJSON(order+"/measure?read_by=Wren", doc)
	require.Equal(d.t, http.StatusCreated, saved.status, saved.body)
}

func (d *desk) history(order string) orders.History {
	d.t.Helper()
	h, err := d.service.History(d.t.Context(), act.Actor{Person: "owner", Role: act.Owner}, strings.TrimPrefix(order, "/orders/"))
	require.NoError(d.t, err)
	return h
}

// A stack that was measured short is proposed as it was measured, and its price follows;
// for more, the page asks why, and the receipt says both.
func TestHandingOverAShortStack(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	d.saveShortTally(order)
	p := d.get(order + "/deliver")
	assert.Contains(t, p.text(), "Measured before: 7/8 cord (112 ft³), short by 1/8 cord (16 ft³)")
	assert.Equal(t, "7/8 cord", p.labelled("Delivered").AttrOr("value", ""))
	assert.Contains(t, p.text(), "To pay$245.00", "seven eighths of 280")

	full := p.fill("Delivered", "1 cord").press("Make the receipt")
	assert.Equal(t, http.StatusUnprocessableEntity, full.status)
	assert.Contains(t, full.text(), "Sheet 1 finds 7/8 cord (112 ft³) there and 1/8 cord (16 ft³) short, and this would say 1 cord (128 ft³)")
	assert.Empty(t, d.history(order).Loads)
	made := full.fill("Why it is more than was measured", "A row was left on the trailer").press("Make the receipt").follow()
	assert.Contains(t, made.text(), "1 cord (128 ft³) delivered")
	assert.Contains(t, made.text(), "Short by 1/8 cord (16 ft³) of what was ordered, by sheet 1. More is delivered, the seller says: A row was left on the trailer")

	other := d.takeOrder("1 cord")
	d.saveShortTally(other)
	asProposed := d.get(other + "/deliver").press("Make the receipt").follow()
	assert.Contains(t, asProposed.text(), "7/8 cord (112 ft³) delivered")
	assert.Contains(t, asProposed.text(), "$245.00")
}

// What looks like a slip is asked about on the page and in JSON, and one tick answers it.
func TestOddLoadsAreAskedOnThePage(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1/3 cord")
	p := d.get(order+"/deliver").fill("Delivered", "2 cords").fill("Day", "2025-11-27")
	asked := p.press("Make the receipt")
	assert.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Contains(t, asked.text(), "2 cords (256 ft³) is delivered in all, and 1/3 cord (43 ft³) was ordered")
	assert.Contains(t, asked.text(), "27 November 2025 is before the day the order was taken, 20 November 2026")
	assert.Equal(t, "2 cords", asked.labelled("Delivered").AttrOr("value", ""), "what was typed stays")
	assert.Empty(t, d.history(order).Loads)
	other := asked.choose("Yes, I have read this; make the receipt all the same")
	other.fill("Delivered", "3 cords")
	assert.Equal(t, http.StatusUnprocessableEntity, other.press("Make the receipt").status, "a yes to two cords is none to three")
	made := asked.fill("Delivered", "2 cords").press("Make the receipt").follow()
	assert.Contains(t, made.text(), "What was asked before it was made")
	byProgram := d.postJSON(order+"/deliver", `{"delivered":"2 cords"}`)
	assert.Equal(t, http.StatusUnprocessableEntity, byProgram.status)
	assert.Contains(t, byProgram.body, "was ordered")
}

// Showing what the receipt will say makes none, and a truck that is picked puts in what
// it holds.
func TestLookingAtAReceiptMakesNone(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("2 cords")
	_, err := d.service.AddBody(t.Context(), act.Act{Actor: act.Actor{Person: "owner", Role: act.Owner}, Request: "0190b6a0-0000-7000-8000-000000000001"},
		yard.BodyRequest{Name: "Red truck", Line: "second board", Arrangement: "ranked", Length: "8", Width: "4", Height: "24", TapedBy: "Wren"})
	require.NoError(t, err)
	before := d.written()
	p := d.get(order + "/deliver")
	filled := p.press("Red truck, second board: " + "1/2 cord (64 ft³)")
	assert.Equal(t, http.StatusOK, filled.status, filled.body)
	assert.Equal(t, "1/2 cord", filled.labelled("Delivered").AttrOr("value", ""))
	assert.Contains(t, filled.text(), "To pay$140.00")
	wrong := filled.fill("Delivered", "1 cord").press("Show what the receipt will say")
	assert.Contains(t, wrong.text(), "It is 1 cord (128 ft³), and the truck or trailer filled to its line holds 1/2 cord (64 ft³)")
	assert.Equal(t, before, d.written())
	made := wrong.fill("Delivered", "1/2 cord").press("Make the receipt").follow()
	assert.Contains(t, made.text(), "1/2 cord (64 ft³) delivered")
}

// The address that an order lacks is asked where the wood is handed over.
func TestTheAddressIsTypedAtTheYard(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Species", "red oak").fill("Price per cord", "280")
	order := p.choose("seasoned").take().follow()
	path := order.doc.Find(`a[href$="/deliver"]`).AttrOr("href", "")
	load := d.get(path)
	missing := load.press("Make the receipt")
	assert.Equal(t, http.StatusUnprocessableEntity, missing.status)
	made := missing.fill("Address", "12 Mill Road\nHartwell").press("Make the receipt").follow()
	assert.Contains(t, made.text(), "12 Mill Road")
}
