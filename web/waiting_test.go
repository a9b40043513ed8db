package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Somebody is put on the waiting list without a price, and taken off it as an order
// once the price is said.
func TestSomebodyWaitsAndIsTaken(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new?wait=yes")
	p.fill("Customer", "Ada Moss").fill("How much", "2 cords").fill("Species", "ash").fill("Waits for", "until dry").fill("Wanted by", "2027-09-01")
	list := p.press("Put it on the waiting list").follow()
	assert.Contains(t, list.text(), "2 cords (256 ft³) wanted")
	assert.Contains(t, list.text(), "Until dry. Wanted by 1 September 2027.")
	assert.Empty(t, d.orders())
	again := list.press("Say the price and take it")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "Ada Moss", again.labelled("Customer").AttrOr("value", ""))
	require.Equal(t, http.StatusSeeOther, again.fill("Price per cord", "280").take().status)
	require.Len(t, d.orders(), 1)
	assert.Contains(t, d.get("/waiting").text(), "Nobody is waiting.")
	assert.Contains(t, d.get("/waiting").text(), "taken as an order")
}

func TestAPricedWishIsReadBackAndTaken(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Species", "ash").fill("Price per cord", "280")
	require.Equal(t, http.StatusSeeOther, p.press("Put it on the waiting list").status)
	assert.Contains(t, d.get("/").text(), "Waiting list")
	read := d.get("/waiting").press("Take it at $280.00")
	assert.Contains(t, read.text(), "That’s 1 cord (128 ft³) of ash, in pieces 16 in long, for Ada Moss.")
	assert.Empty(t, d.orders(), "it is read back first")
	assert.Equal(t, http.StatusSeeOther, read.press("Take the order, $280.00").status)
	assert.Len(t, d.orders(), 1)
}

// The same again opens the form as the order was, without its deposit.
func TestTheSameAgain(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path+"/deliver").press("Make the receipt").status)
	link := d.get(path).doc.Find("a:contains('Order the same again')").AttrOr("href", "")
	p := d.get(link)
	assert.Contains(t, p.text(), "The same as order 1.")
	assert.Equal(t, "280.00", p.labelled("Price per cord").AttrOr("value", ""))
	require.Equal(t, http.StatusSeeOther, p.take().status)
	orders := d.orders()
	require.Len(t, orders, 2)
	assert.Equal(t, orders[0].Customer.Address, orders[1].Customer.Address)
	assert.Equal(t, orders[0].Price, orders[1].Price)
}
