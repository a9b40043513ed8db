package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A part payment is written down on the order's page; the order and the list then say
// what is owed, and taking it back keeps both entries.
func TestPaymentsAreWrittenDownAndTakenBack(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	p := d.get(path + "/payments")
	assert.Equal(t, "280.00", p.labelled("Amount").AttrOr("value", ""), "what is owed is offered")
	require.Equal(t, http.StatusSeeOther, p.fill("Amount", "160").choose("Cash").press("Record it").status)
	assert.Contains(t, d.get(path).text(), "Owes $120.00")
	assert.Contains(t, d.get("/orders").text(), "owes $120.00")
	assert.Contains(t, d.get("/orders?owing=yes").text(), "owes $120.00")
	assert.Contains(t, d.getJSON(path+"/payments").body, `"due":{"minor":12000,"currency":"USD"}`)
	again := d.get(path + "/payments").press("Take back $160.00")
	require.Equal(t, http.StatusUnprocessableEntity, again.status, "a reason is asked for")
	require.Equal(t, http.StatusSeeOther, again.fill("Why", "wrong order").press("Take back $160.00").status)
	text := d.get(path + "/payments").text()
	assert.Contains(t, text, "Owes $280.00")
	assert.Contains(t, text, "Counter-entry: wrong order")
	assert.Contains(t, text, "$160.00 cash")
}

// What may be a card's number is refused and stands nowhere in the answer.
func TestACardsNumberIsNotShownAgain(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	p := d.get(path+"/payments").fill("Amount", "20").choose("Card").fill("Number of the cheque, voucher or slip", "4000 0000 0000 0002")
	again := p.press("Record it")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Contains(t, again.text(), "may be a card’s number")
	assert.NotContains(t, again.body, "0000 0002")
	assert.Equal(t, "20", again.labelled("Amount").AttrOr("value", ""))
}

func TestPaymentsArePrinted(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/payments").fill("Amount", "60").choose("Cash").press("Record it").status)
	assert.Equal(t, 1, d.get(path+"/payments").doc.Find(`a[href$="/payments/pdf"]`).Length())
	paper := d.get(path + "/payments/pdf")
	require.Equal(t, http.StatusOK, paper.status)
	assert.True(t, strings.HasPrefix(paper.body, "%PDF-"))
}
