package web_test

import (
	"fmt"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A shortage that the seller grants is agreed on, brought, and closed by a receipt
// that says so.
func TestAShortageIsSettledWithWood(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	assert.NotContains(t, d.get(path).text(), "Settle the shortage")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	assert.Contains(t, d.get(path).text(), "Settle the shortage")
	agree := d.get(path + "/settlement")
	agree.fill("How much is owed", "10 cu ft").choose("Wood: a second load")
	again := agree.press("Record what was agreed")
	require.Equal(t, http.StatusUnprocessableEntity, again.status, "how the buyer agreed is asked for")
	assert.Equal(t, "10 cu ft", again.labelled("How much is owed").AttrOr("value", ""))
	require.Equal(t, http.StatusSeeOther, again.choose("Spoken").press("Record what was agreed").status)
	assert.Contains(t, d.get(path).text(), "to be brought")

	bring := d.get(path + "/settlement")
	assert.Contains(t, bring.text(), "about 41 to 64 pieces")
	assert.Contains(t, bring.text(), "$21.88, at the price agreed")
	paper := bring.fill("How much was brought", "12 cu ft").press("Make the receipt").follow()
	assert.Contains(t, paper.text(), "Settles receipt 1: owed 0.08 cord (10 ft³), brought 0.09 cord (12 ft³), nothing more owed.")
	assert.Contains(t, paper.text(), "spoken")
	assert.Contains(t, d.get(path).text(), "settled with wood")
	assert.Contains(t, d.getJSON(path+"/settlement").body, `"choice":"wood"`)
}

func TestAShortageIsSettledWithMoney(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	agree := d.get(path+"/settlement").fill("How much is owed", "16 cu ft").choose("Money").choose("In writing")
	require.Equal(t, http.StatusSeeOther, agree.press("Record what was agreed").status)
	give := d.get(path + "/settlement")
	assert.Equal(t, "35.00", give.labelled("Amount given").AttrOr("value", ""))
	paper := give.choose("Taken off what is owed for the order").press("Make the receipt that closes it").follow()
	assert.Contains(t, paper.text(), "$35.00 given for it, nothing more owed")
	assert.Contains(t, d.get(path).text(), "Owes $245.00")
	assert.Contains(t, d.get(path+"/payments").text(), "Given for wood that was missing$35.00")
}

// typeLoad types a row of 16 in pieces 24 in high into a measuring page with no script.
func typeLoad(p *answer, inches string) *answer {
	p.choose("None").choose("with a straightedge")
	p.values.Set("stowed", "checked")
	p.values.Set("unit", "in")
	p.fill("Smallest mark read on the tape", "1/4")
	for i := range 5 {
		p.fill(fmt.Sprintf("Piece %d", i+1), "16")
	}
	p.fill("Row 1, length", inches)
	for i := range 3 {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), "24")
	}
	return p
}

// A second load is measured on the page against what is owed: what would still be
// owed is said before it is saved, and the readings stay with the settlement.
func TestASecondLoadIsMeasuredOnThePage(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusConflict, d.get(path+"/settlement/measure").status, "nothing is owed yet")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	agree := d.get(path+"/settlement").fill("How much is owed", "16 cu ft").choose("Wood: a second load").choose("Spoken")
	require.Equal(t, http.StatusSeeOther, agree.press("Record what was agreed").status)
	assert.Equal(t, 1, d.get(path+"/settlement").doc.Find(`a[href$="/settlement/measure"]`).Length())

	p := d.get(path + "/settlement/measure")
	assert.Contains(t, p.text(), "Owed: 1/8 cord (16 ft³)")
	shown := typeLoad(p, "36").press("Show the answer")
	require.Equal(t, http.StatusOK, shown.status, "%s", shown.text())
	assert.Contains(t, shown.text(), "Short by 0.06 cord")
	assert.Contains(t, shown.text(), "0.06 of 1/8 cord is here, 8 ft³ less")
	assert.Contains(t, shown.text(), "1/16 cord (8 ft³) is still owed after this load, by the readings.")
	assert.NotContains(t, d.get(path+"/settlement").text(), "receipt 2", "showing saves nothing")
	paper := shown.press("Save and make the receipt").follow()
	assert.Contains(t, paper.text(), "Towards receipt 1: owed 1/8 cord (16 ft³), brought 1/16 cord (8 ft³); 1/16 cord (8 ft³) still owed.")
	assert.Contains(t, paper.text(), "Measured: 1/16 cord (8 ft³) by a tally of the load")

	owed := d.get(path + "/settlement")
	assert.Contains(t, owed.text(), "still to be brought")
	assert.Contains(t, owed.text(), "give or take")
	kept := d.get(path + "/settlement/measured/2")
	require.Equal(t, http.StatusOK, kept.status)
	assert.Contains(t, kept.text(), "0.06 of 1/8 cord is here, 8 ft³ less")
	assert.Contains(t, d.getJSON(path+"/settlement/measured/2").body, `"short"`)
	assert.Equal(t, http.StatusNotFound, d.get(path+"/settlement/measured/1").status, "receipt 1 settles nothing")

	rest := typeLoad(d.get(path+"/settlement/measure"), "40").press("Show the answer")
	assert.Contains(t, rest.text(), "Saving this closes it: nothing more is owed.")
	paper = rest.press("Save and make the receipt").follow()
	assert.Contains(t, paper.text(), "nothing more owed")
	assert.Contains(t, d.get(path).text(), "settled with wood")
}

// What is wrong stays on the measuring page as typed, and a heap settles no ranked wood.
func TestAMeasuredLoadIsRefusedAsTyped(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	agree := d.get(path+"/settlement").fill("How much is owed", "16 cu ft").choose("Wood: a second load").choose("Spoken")
	require.Equal(t, http.StatusSeeOther, agree.press("Record what was agreed").status)
	p := typeLoad(d.get(path+"/settlement/measure"), "wide")
	p.values.Set("enough", "yes")
	again := p.press("Save and make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "wide", again.labelled("Row 1, length").AttrOr("value", ""))
	assert.Equal(t, 1, again.doc.Find(`input[name="enough"][checked]`).Length())
	assert.Equal(t, http.StatusOK, d.get(path+"/settlement/measure?kind=load").status)
	heap := d.postJSON(path+"/settlement/measure", `{"format": 1, "stack": {"kind": "heap", "shape": "cone", "circumference": "20 ft", "slope": "5 ft"}}`)
	assert.Equal(t, http.StatusUnprocessableEntity, heap.status, heap.body)
}

// Where a delivery was measured short the next step is settling it: on the order's page
// and on the sheet, until it is done.
func TestAShortDeliveryIsSettledNext(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(order+"/deliver").press("Make the receipt").status)
	assert.Equal(t, "Take $280.00", d.get(order).doc.Find("a.main").Text())
	d.saveShortTally(order)
	assert.Equal(t, "Settle the shortage", d.get(order).doc.Find("a.main").Text())
	assert.Equal(t, 1, d.get("/sheets/1").doc.Find(`a[href="`+order+`/settlement"]`).Length())
	p := d.get(order + "/settlement").choose("Money").choose("Spoken").press("Record what was agreed").follow()
	assert.Equal(t, "Settle the shortage", d.get(order).doc.Find("a.main").Text(), "agreed, and not done yet")
	given := p.choose("Cash").press("Make the receipt that closes it")
	require.Equal(t, http.StatusSeeOther, given.status, given.body)
	assert.Equal(t, "Take $280.00", d.get(order).doc.Find("a.main").Text())
}

// A program is told what is wrong as a program reads it, at each step of a settlement.
func TestAProgramIsToldWhatASettlementLacks(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	for verb, body := range map[string]string{"": `{"owed":"much"}`, "/bring": `{"brought":"1 cord"}`, "/give": `{"amount":"5"}`} {
		refused := d.postJSON(path+"/settlement"+verb, body)
		assert.GreaterOrEqual(t, refused.status, http.StatusBadRequest, "settlement%s: %s", verb, refused.body)
		assert.NotEmpty(t, refused.body, "settlement%s", verb)
		assert.Contains(t, refused.header.Get("Content-Type"), "json", "settlement%s", verb)
	}
}
