package web_test

import (
	"net/http"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sellUnder picks a rule set on the shop page.
func sellUnder(t *testing.T, d *desk, code string) {
	t.Helper()
	p := d.get("/shop")
	p.values.Set("rule_set", code)
	require.Equal(t, http.StatusSeeOther, p.press("Save the shop").status)
}

func TestRulesAreShownInPlainWords(t *testing.T) {
	d := withShop(t)
	list := d.get("/rules")
	require.Equal(t, http.StatusOK, list.status)
	assert.Contains(t, list.text(), "Massachusetts")
	assert.Contains(t, list.text(), "A reading of the law, not legal advice.")
	one := d.get("/rules/maine")
	assert.Contains(t, one.text(), "Loose cord of pieces of 24 in: 195 ft³")
	assert.Contains(t, one.text(), "Maine Forest Service, January 2017")
	assert.Contains(t, one.text(), "A reading of the law, not legal advice.")
	assert.Equal(t, http.StatusNotFound, d.get("/rules/atlantis").status)
	assert.Contains(t, d.getJSON("/rules/maine").body, `"code":"maine"`)
}

func TestTheShopPicksItsRulesByName(t *testing.T) {
	d := withShop(t)
	sellUnder(t, d, "massachusetts")
	shop := d.get("/shop")
	assert.Equal(t, 1, shop.doc.Find(`a[href="/rules/massachusetts"]`).Length(), "with a link to what they say")
	assert.Contains(t, d.get("/rules/massachusetts").text(), "The shop sells under these rules.")
	form := d.get("/orders/new")
	assert.Zero(t, form.doc.Find(`[name="price_per_cord"]`).Length(), "no price by a unit the rules do not know")
	assert.NotContains(t, form.text(), "cord")
}

// Massachusetts General Laws, chapter 94, section 298.
func TestAnOrderInCordsIsReadBackInCubicFeet(t *testing.T) {
	d := withShop(t)
	sellUnder(t, d, "massachusetts")
	form := d.get("/orders/new").fill("Customer", "Ada Quill").fill("Address", "7 Ferry Lane").
		fill("How much", "1 cord").fill("Species", "red oak").fill("Price per cubic foot", "2.50")
	asked := form.press("Read it back")
	require.Equal(t, http.StatusOK, asked.status)
	assert.Contains(t, asked.text(), "128 ft³ stacked")
	order := asked.press("Take the order, $320.00").follow()
	require.Equal(t, http.StatusOK, order.status, order.text())
	assert.Contains(t, order.text(), "128 ft³ stacked for Ada Quill")
	assert.Contains(t, order.text(), "$320.00 ($2.50 per cubic foot)")
	assert.NotContains(t, order.text(), "cord")
}

// EN ISO 17225-5, from memory: it is said whether wood is stacked or loose.
func TestMeasuringAsksStackedOrLooseWhereTheRulesKnowBoth(t *testing.T) {
	d := withShop(t)
	sellUnder(t, d, "europe")
	doc := func(sold string) string {
		return `{"format":1,"sold":"` + sold + `","stack":{"kind":"rows","nominal":"33 cm","rows":[{"length":"4 m","heights":["1 m","1 m","1 m"]}]}}`
	}
	assert.Contains(t, d.postJSON("/measure", doc("1.3 m³")).body, "stacked or loose?")
	assert.Contains(t, d.postJSON("/measure", doc("1.3 m³ stacked")).body, `"finding"`)
}

// Minnesota Statutes, section 239.092.
func TestWhereTheWoodWasCutIsAskedWhereTheRulesDo(t *testing.T) {
	d := withShop(t)
	assert.Zero(t, d.get("/orders/new").doc.Find("#origin").Length())
	sellUnder(t, d, "minnesota")
	order := d.get("/orders/new").fill("Customer", "Ada Quill").fill("Address", "7 Ferry Lane").fill("How much", "64 cu ft stacked").
		fill("Species", "red oak").fill("Price per cubic foot", "2.50").take().follow()
	refused := d.get(order.doc.Find(`a:contains("Deliver")`).AttrOr("href", "")).press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	link := refused.doc.Find(`a[href$="#origin"]`)
	require.Equal(t, 1, link.Length(), "with a link to the field")
	path := link.AttrOr("href", "")
	changed := d.get(path[:len(path)-len("#origin")]).fill("Cut in", "Slate County, Minnesota").save().follow()
	assert.Contains(t, changed.text(), "Slate County, Minnesota")
	form := d.get(changed.doc.Find(`a:contains("Deliver")`).AttrOr("href", ""))
	assert.Contains(t, form.text(), "Asked for where seller and buyer don’t both see the wood measured (Minnesota Statutes, section 239.092(a)(1)).")
	unnamed := form.press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, unnamed.status)
	assert.Equal(t, 1, unnamed.doc.Find(`#faults a[href="#measured_by"]`).Length(), "with a link to the field")
	receipt := unnamed.fill("Who measured the wood", "Nora Feld").fill("Address of who measured", "1 Mill Road").press("Make the receipt").follow()
	assert.Contains(t, receipt.text(), "Slate County, Minnesota")
	assert.Contains(t, receipt.text(), "Nora Feld, 1 Mill Road")
	correction := d.get("/receipts/1/correct").fill("Who measured the wood", "Wren Tully").fill("Why", "named the wrong one").press("Make the corrected receipt").follow()
	assert.Contains(t, correction.text(), "Measured by: was Nora Feld, 1 Mill Road, is Wren Tully, 1 Mill Road")
	sellUnder(t, d, "us-model")
	assert.Zero(t, d.get("/orders/new").doc.Find("#measured_by").Length())
}

// NIST Handbook 130, section 2.4.3.
func TestLooseWoodIsRefusedWithItsRule(t *testing.T) {
	d := withShop(t)
	form := d.get("/orders/new").fill("Customer", "Ada Quill").fill("Address", "7 Ferry Lane").fill("How much", "180 cu ft loose").
		fill("Species", "red oak").fill("or price for all of the wood", "210")
	refused := form.take()
	require.Equal(t, http.StatusUnprocessableEntity, refused.status)
	assert.Equal(t, "180 cu ft loose", refused.typed("How much"), "as typed")
	for _, says := range []string{"let no wood be sold loose", "section 2.4.3", "108 ft³ to 130 ft³ once stacked", "to plan with and not to sell by"} {
		assert.Contains(t, refused.text(), says)
	}

	sellUnder(t, d, "maine")
	path := d.takeOrder("180 cu ft loose")
	assert.NotContains(t, d.get(path).text(), "cannot be delivered")
	sellUnder(t, d, "us-model")
	order := d.get(path)
	assert.Contains(t, order.text(), "It cannot be delivered as 180 ft³ loose under the shop’s rules")
	assert.Equal(t, path+"/edit#quantity", order.doc.Find(".do .main").AttrOr("href", ""), "what to do now")
	stopped := d.get(path + "/deliver").press("Make the receipt")
	require.Equal(t, http.StatusUnprocessableEntity, stopped.status)
	link := stopped.doc.Find(`.faults a[href="` + path + `/edit#quantity"]`)
	require.Equal(t, 1, link.Length(), "with a link to where it is changed")
	changed := d.get(path+"/edit").fill("How much", "1 cord").save().follow()
	assert.NotContains(t, changed.text(), "cannot be delivered")
}

// Minnesota Statutes, section 239.33: 120 cubic feet, ranked, of sawed and split wood.
func TestACordThatHangsOnTheWoodIsReadBack(t *testing.T) {
	d := withShop(t)
	sellUnder(t, d, "minnesota")
	form := d.get("/orders/new").fill("Customer", "Ada Quill").fill("Address", "7 Ferry Lane").fill("How much", "1 cord").
		fill("Species", "red oak").fill("or price for all of the wood", "280").fill("Cut in", "Slate County, Minnesota")
	asked := form.take()
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Contains(t, asked.text(), "How is the wood prepared?")
	read := asked.fill("How much", "1 cord sawed and split").press("Read it back")
	assert.Contains(t, read.text(), "A cord of sawed and split wood is 120 ft³ here (Minnesota Statutes, section 239.33); that is 120 ft³ stacked.")
	assert.Contains(t, read.text(), "The wood is $280.00 for the whole.")
	order := read.press("Take the order, $280.00").follow()
	const says = "A cord of sawed and split wood is 120 ft³ here, stacked (Minnesota Statutes, section 239.33)."
	assert.Contains(t, order.text(), says)
	edit := d.get(order.doc.Find(`a:contains("Change the order")`).AttrOr("href", ""))
	assert.Equal(t, "1 cord sawed and split", edit.typed("How much"))
	receipt := d.get(order.doc.Find(`a:contains("Deliver")`).AttrOr("href", "")).fill("Who measured the wood", "Nora Feld").fill("Address of who measured", "1 Mill Road").press("Make the receipt").follow()
	assert.Contains(t, receipt.text(), "120 ft³ stacked delivered")
	assert.Contains(t, receipt.text(), says)

	doc := func(sold string) string {
		return `{"format":1,"sold":"` + sold + `","stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"22 ft","heights":["4 ft","4 ft","4 ft"]}]}}`
	}
	assert.Contains(t, d.postJSON("/measure", doc("1 cord")).body, "how is the wood prepared?")
	assert.Contains(t, d.postJSON("/measure", doc("1 cord sawed")).body, `"word":"no-shortage"`, "117 of 110 cubic feet")
}

// A shop's own file is checked on a page: each fault with its line, what was typed kept,
// and one without a fault is shown in plain words with how it is put to use.
func TestOwnRulesAreCheckedOnAPage(t *testing.T) {
	d := withShop(t)
	sellUnder(t, d, "maine")
	link := d.get("/rules").doc.Find(`a[href="/rules/check"]`)
	require.Equal(t, 1, link.Length())
	form := d.get("/rules/check")
	assert.Contains(t, form.values.Get("file"), `"extends": "maine"`, "the example goes on top of the shop's own rules")

	good := form.press("Check it")
	require.Equal(t, http.StatusOK, good.status, good.text())
	assert.Contains(t, good.text(), "No fault was found in “Our valley’s ordinance”")
	assert.Contains(t, good.text(), "wellstowed serve --rules our-valley.json")
	assert.Contains(t, good.text(), "Maine Forest Service, January 2017", "with all that it extends")
	assert.Contains(t, good.text(), "town office, section 3")
	assert.Equal(t, http.StatusNotFound, d.get("/rules/our-valley").status, "nothing is saved")

	bad := form.set("file", "{\"code\": \"x\", \"name\": \"X\",\n\"units\": [{\"name\": \"cord\", \"unit\": \"cord\", \"basis\": \"ranked\"}],\n\"barred\": [{\"name\": \"heap\", \"source\": \"town\", \"status\": \"hearsay\"}]}").press("Check it")
	require.Equal(t, http.StatusUnprocessableEntity, bad.status)
	wrongs := bad.doc.Find("#wrongs li")
	assert.Contains(t, wrongs.Text(), "Line 2: units[0].source: is missing")
	assert.Contains(t, wrongs.Text(), `Line 3: barred[0].status: "hearsay" is none of`)
	assert.Greater(t, wrongs.Length(), 4)
	assert.Contains(t, bad.values.Get("file"), "hearsay", "what was typed is kept")

	for _, nothing := range []string{"", "nonsense", "[]"} {
		again := form.set("file", nothing).press("Check it")
		require.Equal(t, http.StatusUnprocessableEntity, again.status, nothing)
		assert.Contains(t, again.doc.Find("#wrongs").Text(), "Line 1: ")
	}
	asProgram := d.postJSON("/rules/check", `{"code": "x"}`)
	require.Equal(t, http.StatusUnprocessableEntity, asProgram.status)
	assert.Contains(t, asProgram.body, `"line":1,"reason":"`)
}
