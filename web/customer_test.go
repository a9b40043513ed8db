package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// takeOfCustomer takes an order of a customer by name, and gives the order's and the
// customer's pages.
func (d *desk) takeOfCustomer(name, address string) (order, customer string) {
	d.t.Helper()
	order = d.takeFor(name, "1 cord", "")
	a := d.get(order+"/edit").fill("Address", address).press("Save the change")
	require.Equal(d.t, http.StatusSeeOther, a.status, "%s", a.body)
	customer = d.get(order).doc.Find(`a[href^="/customers/"]`).AttrOr("href", "")
	require.NotEmpty(d.t, customer)
	return order, customer
}

func TestCustomerIsFoundAndOrdersAgain(t *testing.T) {
	d := withShop(t)
	_, page := d.takeOfCustomer("Ada Corwin", "14 Orchard Steps\nHollin Gap")
	d.takeFor("Bo Lund", "2 cords", "")
	found := d.get("/customers?find=orchard")
	assert.Contains(t, found.text(), "Ada Corwin")
	assert.NotContains(t, found.text(), "Bo Lund")
	ada := d.get(page)
	assert.Equal(t, "Ada Corwin", ada.doc.Find("h1").Text())
	assert.Contains(t, ada.text(), "Owes nothing.")
	again := ada.doc.Find("p.do a").AttrOr("href", "")
	form := d.get(again)
	assert.Equal(t, "Ada Corwin", form.doc.Find("#customer_name").AttrOr("value", ""))
	assert.Equal(t, strings.TrimPrefix(page, "/customers/"), form.doc.Find("input[name=customer_id]").AttrOr("value", ""))
	pick := d.get("/customers?for=order&find=ada")
	assert.Equal(t, "/orders/new?customer="+strings.TrimPrefix(page, "/customers/"), pick.doc.Find("ul.papers a").AttrOr("href", ""))
	empty := d.get(pick.doc.Find("ul.papers a").AttrOr("href", ""))
	assert.Equal(t, "14 Orchard Steps\nHollin Gap", strings.TrimSpace(empty.doc.Find("#customer_address").Text()))
}

func TestHowToGetInIsKeptAndShownWhereItIsNeeded(t *testing.T) {
	d := withShop(t)
	order, page := d.takeOfCustomer("Ada Corwin", "14 Orchard Steps")
	form := d.get(page+"/edit").fill("How to get in", "Gate 9 ft wide,\nlow wire at the shed").fill("Where it is, in degrees", "north of the shed")
	wrong := form.press("Keep it")
	require.Equal(t, http.StatusUnprocessableEntity, wrong.status)
	assert.Contains(t, wrong.text(), "44.0512, -72.2034")
	assert.Contains(t, wrong.body, "low wire at the shed", "what was typed is kept")
	kept := wrong.fill("Where it is, in degrees", "44.0512 -72.2034").press("Keep it")
	require.Equal(t, http.StatusSeeOther, kept.status, "%s", kept.body)
	for _, shows := range []string{page, order, order + "/deliver"} {
		assert.Contains(t, d.get(shows).text(), "low wire at the shed", shows)
	}
	assert.Equal(t, "geo:44.051200%2C-72.203400", d.get(page).doc.Find(`a[href^="geo:"]`).AttrOr("href", ""))

	// Somebody else changed it meanwhile: both are shown, and nothing is lost.
	mine := d.get(page+"/edit").fill("Stacking", "two rows against the shed")
	require.Equal(t, http.StatusSeeOther, d.get(page+"/edit").fill("Stacking", "thrown off").press("Keep it").status)
	both := mine.press("Keep it")
	require.Equal(t, http.StatusConflict, both.status)
	assert.Contains(t, both.text(), "thrown off")
	require.Equal(t, http.StatusSeeOther, both.press("Keep it").status)
	assert.Contains(t, d.get(page).text(), "two rows against the shed")
}

func TestTheSamePersonTwiceBecomesOne(t *testing.T) {
	d := withShop(t)
	_, ada := d.takeOfCustomer("Ada Corwin", "14 Orchard Steps")
	_, a := d.takeOfCustomer("A. Corwin", "14 Orchard Steps")
	p := d.get(ada).inForm("/merge")
	nobody := p.press("Make them one")
	require.Equal(t, http.StatusUnprocessableEntity, nobody.status)
	assert.Contains(t, nobody.text(), "No other customer was picked")
	require.Equal(t, http.StatusSeeOther, d.get(ada).inForm("/merge").set("from", strings.TrimPrefix(a, "/customers/")).press("Make them one").status)
	assert.Equal(t, http.StatusNotFound, d.get(a).status)
	assert.Equal(t, 2, d.get(ada).doc.Find("ol.orders li").Length())
}

func TestListOfCustomersIsLookedAtFirst(t *testing.T) {
	d := withShop(t)
	d.takeOfCustomer("Ada Corwin", "14 Orchard Steps")
	list := "Name,Street,Phone,Colour of the house\nAda Corwin,14 Orchard Steps,,red\nBo Lund,12 Mill Road,555 0888,\n"
	look := d.get("/customers/import").fill("The list, as CSV", list).press("Show what would come of it")
	require.Equal(t, http.StatusOK, look.status)
	for _, says := range []string{"1 new customer", "Nothing is kept yet.", "Bo Lund, 12 Mill Road, 555 0888", "Line 2, Ada Corwin: kept already", "Colour of the house"} {
		assert.Contains(t, look.text(), says)
	}
	assert.NotContains(t, d.get("/customers").text(), "Bo Lund")
	require.Equal(t, http.StatusSeeOther, look.press("Keep this customer").status)
	assert.Contains(t, d.get("/customers").text(), "Bo Lund")
	faulty := d.get("/customers/import").fill("The list, as CSV", "Name\nBo\n\"open").press("Show what would come of it")
	require.Equal(t, http.StatusUnprocessableEntity, faulty.status)
	assert.Contains(t, faulty.text(), "Line 3")
}

// While the name is typed on a phone, who is kept is offered, and one tap fills the rest.
func TestPhoneFindsTheCustomerWhileTyping(t *testing.T) {
	d := withShop(t)
	_, page := d.takeOfCustomer("Ada Corwin", "14 Orchard Steps\nHollin Gap")
	p := newPhone(t, d)
	p.open("/orders/new")
	p.fill("Customer", "corw")
	p.until(`!document.getElementById("found").hidden`)
	p.shot("customer-found")
	p.tap("button", "Ada Corwin 14 Orchard Steps")
	assert.Equal(t, "Ada Corwin\n14 Orchard Steps\nHollin Gap", ask[string](p, `document.getElementById("customer_name").value + "\n" + document.getElementById("customer_address").value`))
	assert.Equal(t, strings.TrimPrefix(page, "/customers/"), ask[string](p, `document.querySelector("[name=customer_id]").value`))
	assert.True(t, ask[bool](p, `document.getElementById("found").hidden`))
	p.fill("Customer", "Ada Lund")
	assert.Empty(t, ask[string](p, `document.querySelector("[name=customer_id]").value`), "another name is another customer")
	p.fits()
}
