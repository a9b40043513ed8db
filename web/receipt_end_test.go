package web_test

import (
	"encoding/json"
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A receipt's page leads to correcting it; the form holds what was printed; both
// receipts then name each other, and the old PDF is the bytes that were issued.
func TestAReceiptIsCorrectedFromItsPage(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	receipt := d.get(path + "/deliver").press("Make the receipt").follow()
	require.Equal(t, 1, receipt.doc.Find(`a[href="/receipts/1/correct"]`).Length())
	before := d.get("/receipts/1/pdf").body

	p := d.get("/receipts/1/correct")
	assert.Equal(t, "1 cord", p.labelled("Delivered").AttrOr("value", ""))
	refused := p.fill("Delivered", "0.9 cord").press("Make the corrected receipt")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.Equal(t, "0.9 cord", refused.labelled("Delivered").AttrOr("value", ""), "what was typed stays")
	assert.Equal(t, 1, refused.doc.Find(`#faults a[href="#reason"]`).Length())

	now := refused.fill("Why", "The last row was not unloaded").press("Make the corrected receipt").follow()
	assert.Contains(t, now.text(), "Corrects receipt 1 of 20 November 2026.")
	assert.Contains(t, now.text(), "Delivered: was 1 cord (128 ft³), is 0.9 cord (115.2 ft³)")
	assert.Contains(t, now.text(), "Why: The last row was not unloaded")

	old := d.get("/receipts/1")
	assert.Contains(t, old.text(), "Corrected by receipt 2.")
	assert.Equal(t, 1, old.doc.Find(`a[href="/receipts/2"]`).Length())
	assert.Zero(t, old.doc.Find(`a[href="/receipts/1/correct"]`).Length())
	assert.Equal(t, before, d.get("/receipts/1/pdf?as=issued").body, "the paper as it was issued stays")
	assert.NotEqual(t, before, d.get("/receipts/1/pdf").body, "printed again, it says what ended it")
	assert.Equal(t, "/receipts/1", d.get("/receipts/1/correct").header.Get("Location"), "which says why not")
	assert.Contains(t, d.get(path).text(), "Still to bring: 0.1 cord")
}

func TestAReceiptIsMadeVoidFromItsPage(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	d.get(path + "/deliver").press("Make the receipt")
	first, second := d.get("/receipts/1/void"), d.get("/receipts/1/void")
	void := first.fill("Why", "The load came back").press("Make it void").follow()
	assert.Contains(t, void.text(), "Makes receipt 1 of 20 November 2026 void.")
	assert.Contains(t, void.text(), "1 cord (128 ft³) delivered on 20 November 2026")
	assert.Contains(t, d.get("/receipts/1").text(), "Void: receipt 2 says why.")
	order := d.get(path).text()
	assert.Contains(t, order, "Receipt 1 made void: The load came back")
	assert.Equal(t, 1, d.get(path).doc.Find(`a[href$="/deliver"]`).Length(), "the wood is due again")

	late := second.fill("Why", "The load came back").press("Make it void")
	assert.Equal(t, http.StatusConflict, late.status)
	assert.Contains(t, late.text(), "Receipt 1 no longer counts; receipt 2 says why.")
	assert.Equal(t, http.StatusNotFound, d.get("/receipts/3").status)

	var got struct {
		Ended   struct{ Number int }
		Receipt struct{ Facts struct{ Number int } }
	}
	require.NoError(t, json.Unmarshal([]byte(d.getJSON("/receipts/1").body), &got))
	assert.Equal(t, 2, got.Ended.Number)
}
