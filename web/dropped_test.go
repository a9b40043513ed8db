package web_test

import (
	"encoding/json"
	"net/http"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A field that a form doesn't have, and one that is sent twice, are refused by name in
// every form that does something: nothing that is sent is dropped without a word.
func TestNoFormDropsAFieldSilently(t *testing.T) {
	d := withShop(t)
	for _, path := range append(actingPages(d), "/measure?kind=heap", "/storage", "/trips", "/winter") {
		d.get(path).doc.Find("form[method=post]").Each(func(_ int, f *goquery.Selection) {
			action := f.AttrOr("action", "")
			if f.Find("input:not([type=hidden]), textarea, select").Length() == 0 {
				return // it asks for nothing
			}
			before := d.written()
			values := formValues(f)
			values.Set("do", "save")
			values.Set("elsewhere", "left at the Fells")
			a := d.post(action, values)
			assert.Equal(t, http.StatusUnprocessableEntity, a.status, "%s: an unknown field", action)
			assert.Contains(t, a.text(), "“elsewhere” isn’t a field here", action)
			values.Del("elsewhere")
			for name := range values {
				values[name] = append(values[name], values[name]...)
				break
			}
			a = d.post(action, values)
			assert.NotEqual(t, http.StatusSeeOther, a.status, "%s: a field twice", action)
			assert.Contains(t, a.body, "was sent twice", action)
			assert.Equal(t, before, d.written(), "%s was acted on", action)
		})
	}
}

func TestJSONDropsNothingSilently(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1 cord")
	before := d.written()
	for _, row := range []struct{ name, path, body, field, code string }{
		{"the last of two amounts would win", order + "/payments", `{"paid":"5","paid":"7","paid_by":"cash"}`, "paid", "duplicate-field"},
		{"a name in other letters", order + "/payments", `{"Paid":"5","paid_by":"cash"}`, "Paid", "unknown-field"},
		{"a field that is not there", order + "/deliver", `{"deliverd":"1/2 cord"}`, "deliverd", "unknown-field"},
		{"inside another", "/waiting", `{"order":{"customer_name":"A","quantity":"1 cord","quantity":"2 cords"}}`, "order.quantity", "duplicate-field"},
		{"a number where text belongs", order + "/payments", `{"paid":5,"paid_by":"cash"}`, "paid", "wrong-type"},
		{"what is said of waiting, in an order", "/orders", `{"customer_name":"A","quantity":"1 cord","species":"ash","piece_length":"16 in","price_per_cord":"1","wanted_by":"2026-12-01"}`, "wanted_by", "waits"},
	} {
		a := d.postJSON(row.path, row.body)
		assert.Equal(t, http.StatusUnprocessableEntity, a.status, "%s: %s", row.name, a.body)
		var p struct {
			Fields []struct{ Field, Code string }
		}
		require.NoError(t, json.Unmarshal([]byte(a.body), &p), row.name)
		require.NotEmpty(t, p.Fields, "%s: %s", row.name, a.body)
		assert.Equal(t, row.field, p.Fields[0].Field, row.name)
		assert.Equal(t, row.code, p.Fields[0].Code, row.name)
	}
	assert.Equal(t, before, d.written())
}

// What is said of waiting is neither dropped nor taken when the order is taken.
func TestAnOrderThatIsTakenDoesNotWait(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new").fill("Customer", "Iris Fell").fill("How much", "1 cord").fill("Species", "oak").fill("Price per cord", "280")
	p.fill("Waits for", "until dry").fill("Wanted by", "someday")
	again := p.take()
	assert.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Contains(t, again.text(), "Waits for: An order that is taken doesn’t wait")
	assert.Contains(t, again.text(), "Wanted by: An order that is taken doesn’t wait")
	assert.Equal(t, "until dry", again.labelled("Waits for").AttrOr("value", ""))
	assert.Empty(t, d.orders())
	assert.Equal(t, http.StatusSeeOther, again.fill("Waits for", "").fill("Wanted by", "").take().status)
}
