package web_test

import (
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
	assert.NotContains(t, d.get(path).text(), "What is owed")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	assert.Contains(t, d.get(path).text(), "What is owed")
	agree := d.get(path + "/settlement")
	agree.fill("How much is owed", "10 cu ft").choose("Wood: a second load")
	again := agree.press("Write down what was agreed")
	require.Equal(t, http.StatusUnprocessableEntity, again.status, "how the buyer agreed is asked for")
	assert.Equal(t, "10 cu ft", again.labelled("How much is owed").AttrOr("value", ""))
	require.Equal(t, http.StatusSeeOther, again.choose("By word").press("Write down what was agreed").status)
	assert.Contains(t, d.get(path).text(), "to be brought")

	bring := d.get(path + "/settlement")
	assert.Contains(t, bring.text(), "about 41 to 64 pieces")
	assert.Contains(t, bring.text(), "$21.88, at the price agreed")
	paper := bring.fill("How much was brought", "12 cu ft").press("Make the receipt").follow()
	assert.Contains(t, paper.text(), "Settles receipt 1: owed 0.08 cord (10 ft³), brought 0.09 cord (12 ft³), nothing more owed.")
	assert.Contains(t, paper.text(), "by word")
	assert.Contains(t, d.get(path).text(), "settled with wood")
	assert.Contains(t, d.getJSON(path+"/settlement").body, `"choice":"wood"`)
}

func TestAShortageIsSettledWithMoney(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	agree := d.get(path+"/settlement").fill("How much is owed", "16 cu ft").choose("Money").choose("In writing")
	require.Equal(t, http.StatusSeeOther, agree.press("Write down what was agreed").status)
	give := d.get(path + "/settlement")
	assert.Equal(t, "35.00", give.labelled("Amount given").AttrOr("value", ""))
	paper := give.choose("Taken off what is owed for the order").press("Make the receipt that closes it").follow()
	assert.Contains(t, paper.text(), "$35.00 given for it, nothing more owed")
	assert.Contains(t, d.get(path).text(), "Owes $245.00")
	assert.Contains(t, d.get(path+"/payments").text(), "Given for wood that was missing$35.00")
}
