package web_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestOrderIsTakenInTheCustomersWords(t *testing.T) {
	d := withShop(t)
	page := d.get(d.takeOrder("1 1/3 cords"))
	require.Equal(t, http.StatusOK, page.status)
	assert.Contains(t, page.text(), "1 1/3 cords")
	assert.Contains(t, page.text(), "Ada Moss")
	assert.Contains(t, page.text(), "$373.33", "4/3 × 280.00, rounded once")
	assert.Contains(t, d.get("/").text(), "Ada Moss")
}

func TestWhatIsWrongStandsBesideItsFieldAndNothingTypedIsLost(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Bo <Reed>").fill("How much", "a good deal").fill("Price per cord", "28o")
	again := p.take()
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	for label, typed := range map[string]string{"Customer": "Bo <Reed>", "How much": "a good deal", "Price per cord": "28o"} {
		field := again.labelled(label)
		assert.Equal(t, typed, field.AttrOr("value", field.Text()), label)
	}
	for _, label := range []string{"How much", "Price per cord"} {
		field := again.labelled(label)
		told := field.AttrOr("aria-describedby", "")
		require.NotEmpty(t, told, label)
		assert.Contains(t, strings.Fields(told), field.AttrOr("name", "")+"-fault", "the fault is read out with the field")
		for _, id := range strings.Fields(told) {
			assert.NotEmpty(t, again.doc.Find("#"+id).Text(), "%s: %s", label, id)
		}
		link := again.doc.Find(`#faults a[href="#` + field.AttrOr("id", "") + `"]`)
		assert.Equal(t, label, link.Text(), "the summary links to the field")
	}
	assert.Empty(t, d.orders())
}

// A term that is no legal quantity is read back with its price, needs a yes, and
// stands on no page but in the field it was typed into.
func TestBarredTermIsReadBackAndNeverPrinted(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "two face cords of 16 inch")
	p.fill("Species", "ash").fill("Price per cord", "300")
	asked := p.press("Read it back")
	require.Equal(t, http.StatusOK, asked.status)
	assert.Contains(t, asked.text(), "That’s 2/3 cord (85 ft³) of ash, in pieces 16 in long, for Ada Moss.")
	assert.Contains(t, asked.text(), "That name isn’t a legal measure of wood, so it’s sold as 2/3 cord (85 ft³).")
	assert.Contains(t, asked.text(), "$200.00 in all.")
	said := asked.values.Get("confirmed")
	asked.values.Del("confirmed")
	require.Equal(t, http.StatusOK, asked.press("Take the order, $200.00").status, "without a yes it asks again")
	assert.Empty(t, d.orders())
	asked.values.Set("confirmed", said)
	made := asked.press("Take the order, $200.00")
	page := made.follow()
	require.Equal(t, http.StatusOK, page.status)
	path := strings.Split(made.header.Get("Location"), "?")[0]
	for _, printed := range []*answer{page, d.get("/"), d.get(path + "/edit"), d.get(path + "/deliver"), d.getJSON(path), d.getJSON("/")} {
		assert.NotContains(t, strings.ToLower(printed.body), "face cord")
	}
	assert.NotContains(t, strings.ToLower(asked.text()), "face cord", "only the field holds it")
	refused := d.postJSON("/orders", `{"customer_name":"Ada Moss","quantity":"two face cords of 16 inch","price_per_cord":"300"}`)
	assert.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.NotContains(t, strings.ToLower(refused.body), "face cord")
}

func TestTheSameFormTwiceMakesOneOrder(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Species", "ash").fill("Price per cord", "280")
	read := p.press("Read it back")
	first, second := read.press("Take the order, $280.00"), read.press("Take the order, $280.00")
	assert.Equal(t, http.StatusSeeOther, first.status)
	assert.Equal(t, first.header.Get("Location"), second.header.Get("Location"))
	assert.Len(t, d.orders(), 1)
}

func TestTheSameKeyTwiceMakesOneOrder(t *testing.T) {
	d := withShop(t)
	var bodies []string
	for range 2 {
		req := jsonRequest("/orders", d.confirmed(`{"customer_name":"A","quantity":"1 cord","species":"ash","piece_length":"16 in","price_per_cord":"1"}`))
		req.Header.Set("Idempotency-Key", "0199a000-0000-7000-8000-000000000001")
		bodies = append(bodies, d.do(req).body)
	}
	assert.Equal(t, bodies[0], bodies[1])
	assert.Len(t, d.orders(), 1)
	req := jsonRequest("/orders", `{}`)
	req.Header.Set("Idempotency-Key", "mine")
	assert.Equal(t, http.StatusUnprocessableEntity, d.do(req).status)
}

func TestOlderFormIsToldWhatTheOtherSaved(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	mine, theirs := d.get(path+"/edit"), d.get(path+"/edit")
	require.Equal(t, http.StatusSeeOther, theirs.fill("Species", "white ash").press("Save the change").status)
	again := mine.fill("Species", "sugar maple").press("Save the change")
	require.Equal(t, http.StatusConflict, again.status)
	assert.Equal(t, "sugar maple", again.labelled("Species").AttrOr("value", ""))
	assert.Contains(t, again.text(), "white ash")
	require.Equal(t, http.StatusSeeOther, again.press("Save the change").status, "seen and sent again, it is meant")
	assert.Equal(t, "sugar maple", d.orders()[0].Species)
}

func TestCancelledOrderStaysInTheList(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	require.Equal(t, http.StatusSeeOther, d.get(path).press("Cancel order 1").status)
	assert.Contains(t, d.get("/orders").text(), "cancelled")
	assert.Zero(t, d.get(path).doc.Find(`a[href$="/deliver"]`).Length())
}

// A form and a JSON body with the same words come to the same order.
func TestFormAndJSONMakeTheSameOrder(t *testing.T) {
	d := withShop(t)
	d.takeOrder("1 1/3 cords")
	made := d.orderJSON(`{"customer_name":"Ada Moss","customer_address":"12 Mill Road\nHartwell","quantity":"1 1/3 cords",
		"species":"red oak","piece_length":"16 in","seasoning":"seasoned","price_per_cord":"280"}`)
	require.Equal(t, http.StatusCreated, made.status, made.body)
	assert.Equal(t, "application/json", made.header.Get("Content-Type"))
	list := d.orders()
	require.Len(t, list, 2)
	for i := range list {
		list[i].ID, list[i].Number, list[i].Customer.ID = "", 0, ""
	}
	assert.Equal(t, list[0], list[1])
}

func TestJSONFaultsAreProblems(t *testing.T) {
	d := withShop(t)
	rows := []struct{ name, body, field string }{
		{"no quantity that is understood", `{"customer_name":"A","quantity":"lots","species":"ash","piece_length":"16 in","price_per_cord":"1"}`, "quantity"},
		{"a field that does not exist", `{"customer":"A"}`, ""},
		{"a number where text is wanted", `{"quantity":1}`, ""},
		{"cut off", `{"quantity":"1 cord"`, ""},
		{"two bodies", `{} {}`, ""},
		{"bytes that are no text", "{\"customer_name\":\"\xff\"}", ""},
	}
	for _, row := range rows {
		a := d.postJSON("/orders", row.body)
		assert.Equal(t, http.StatusUnprocessableEntity, a.status, row.name)
		assert.Equal(t, "application/problem+json", a.header.Get("Content-Type"), row.name)
		var p struct {
			Status int
			Detail string
			Fields []struct{ Field, Wrong, Accepted string }
		}
		require.NoError(t, json.Unmarshal([]byte(a.body), &p), row.name)
		assert.Equal(t, a.status, p.Status, row.name)
		assert.NotEmpty(t, p.Detail, row.name)
		if row.field != "" {
			require.NotEmpty(t, p.Fields, row.name)
			assert.Equal(t, row.field, p.Fields[0].Field, row.name)
			assert.NotEmpty(t, p.Fields[0].Accepted, row.name)
		}
	}
	assert.Empty(t, d.orders())
}

func TestListGoesOnByNumber(t *testing.T) {
	d := withShop(t)
	for range 52 {
		a := d.orderJSON(`{"customer_name":"A","quantity":"1 cord","species":"ash","piece_length":"16 in","price_per_cord":"1"}`)
		require.Equal(t, http.StatusCreated, a.status, a.body)
	}
	first := d.get("/orders")
	assert.Equal(t, 50, first.doc.Find(".orders li").Length())
	older := first.doc.Find(`a:contains("Older orders")`).AttrOr("href", "")
	require.NotEmpty(t, older)
	assert.Equal(t, 2, d.get(older).doc.Find(".orders li").Length())
}

// orders are all orders, newest first.
func (d *desk) orders() []orders.Order {
	d.t.Helper()
	list, err := d.service.Orders(d.t.Context(), act.Actor{Person: "owner", Role: act.Owner}, 0, 100)
	require.NoError(d.t, err)
	return list.Orders
}

// An order taken in a hurry says what is still missing, and nothing is left blank.
func TestAnOrderWithoutASpeciesSaysSo(t *testing.T) {
	d := withShop(t)
	made := d.get("/orders/new").fill("Customer", "Ada Moss").fill("How much", "1 cord").fill("Price per cord", "280").take().follow()
	assert.Contains(t, made.text(), "species not said, 16 in pieces")
}
