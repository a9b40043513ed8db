package web_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHandingOverMakesTheReceipt(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 1/3 cords")
	part := d.get(path+"/deliver").fill("Delivered", "1 cord").press("Make the receipt").follow()
	require.Equal(t, http.StatusOK, part.status)
	assert.Contains(t, part.text(), "1 cord (128 ft³) delivered")
	assert.Contains(t, part.text(), "Alder Lane Firewood")
	assert.Contains(t, part.text(), "stated by seller, not measured")
	assert.Contains(t, d.get(path).text(), "Still to bring: 1/3 cord")

	rest := d.get(path + "/deliver").press("Make the receipt").follow()
	assert.Contains(t, rest.text(), "1/3 cord")
	assert.Zero(t, d.get(path).doc.Find(`a[href$="/deliver"]`).Length(), "nothing is left to deliver")

	pdf := d.get("/receipts/1/pdf")
	assert.Equal(t, "application/pdf", pdf.header.Get("Content-Type"))
	assert.True(t, strings.HasPrefix(pdf.body, "%PDF-"))
	assert.Equal(t, pdf.body, d.get("/receipts/1/pdf").body, "the bytes stored at issue")

	var receipt struct {
		Seal    string
		Receipt struct {
			Facts struct{ Number int }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(d.getJSON("/receipts/1").body), &receipt))
	assert.Equal(t, 1, receipt.Receipt.Facts.Number)
	seal := part.doc.Find("dd.seal").Text()
	assert.NotEmpty(t, seal)
	assert.Equal(t, receipt.Seal, seal)
}

func TestTheSameHandoverTwiceMakesOneReceipt(t *testing.T) {
	d := withShop(t)
	p := d.get(d.takeOrder("1 cord") + "/deliver")
	first, second := p.press("Make the receipt"), p.press("Make the receipt")
	assert.Equal(t, http.StatusSeeOther, second.status)
	assert.Equal(t, first.header.Get("Location"), second.header.Get("Location"))
	assert.Equal(t, http.StatusNotFound, d.get("/receipts/2").status)
}

func TestNoReceiptWithoutTheFirmsName(t *testing.T) {
	d := newDesk(t)
	require.Equal(t, http.StatusSeeOther, d.get("/shop").fill("Time zone", "America/New_York").fill("Currency", "USD").press("Save the shop").status)
	path := d.takeOrder("1 cord")
	p := d.get(path + "/deliver")
	assert.Contains(t, p.text(), "The receipt needs the firm's name and address.")
	again := p.press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "Firm", again.doc.Find(`#faults a[href="/shop#name"]`).Text())
	assert.Equal(t, http.StatusNotFound, d.get("/receipts/1").status)
}

func TestDeliveryThatIsNotUnderstoodStaysAsTyped(t *testing.T) {
	d := withShop(t)
	again := d.get(d.takeOrder("1 cord")+"/deliver").fill("Delivered", "most of it").fill("Day", "2026-02-30").press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "most of it", again.labelled("Delivered").AttrOr("value", ""))
	assert.Equal(t, "2026-02-30", again.labelled("Day").AttrOr("value", ""))
}
