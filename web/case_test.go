package web_test

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shortStack is a row that reads well short of a cord.
const shortStack = `{"format":1,"apart":"none","tape":"1/4 in","top":"straightedge","stowed":"checked","stack":{"kind":"rows",
	"pieces":["16 in","15 1/2 in","16 1/4 in","15 3/4 in","16 in"],"rows":[{"length":"20 ft","heights":["44 in","45 in","44 in","43 in"]}]}}`

// handedOver takes an order through the pages, hands it over and gives the order's path.
func (d *desk) handedOver(quantity string) string {
	d.t.Helper()
	order := d.takeOrder(quantity)
	require.Equal(d.t, http.StatusSeeOther, d.get(order+"/deliver").press("Make the receipt").status)
	return order
}

// buyersLink makes the link of a receipt through its page and gives the buyer's path.
func (d *desk) buyersLink(receipt int) string {
	d.t.Helper()
	path := fmt.Sprintf("/receipts/%d/case", receipt)
	p := d.get(path)
	p.form = p.doc.Find(`form[action="` + path + `/link"]`)
	p.values = formValues(p.form)
	made := d.post(path+"/link", p.values)
	require.Equal(d.t, http.StatusCreated, made.status, made.body)
	link, has := made.doc.Find("#link a").Attr("href")
	require.True(d.t, has, made.body)
	return link
}

func TestBuyerComesByTheLinkToHisReceiptAlone(t *testing.T) {
	d := withShop(t)
	p := d.get("/orders/new")
	p.fill("Customer", "Bram Stokes").fill("Phone", "555-0199").fill("How much", "2 cords").fill("Species", "white birch").fill("Price per cord", "280")
	p.fill("Address", "3 Quarry Road").fill("Notes for the driver", "beware of the dog")
	his, _, _ := strings.Cut(p.take().header.Get("Location"), "?")
	require.Equal(t, http.StatusSeeOther, d.get(his+"/deliver").press("Make the receipt").status)
	mine := d.handedOver("1 cord") // Ada Moss, receipt 2
	link := d.buyersLink(2)
	other := d.buyersLink(1)

	for _, path := range []string{link, link + "/receipt", link + "/edit", link + "/measure"} {
		for _, page := range []*answer{d.get(path), d.getJSON(path)} {
			require.Equal(t, http.StatusOK, page.status, path)
			for _, hidden := range []string{"Bram", "555-0199", "dog", "birch", strings.TrimPrefix(mine, "/orders/"), "Alder Lane Firewood</a>"} {
				assert.NotContains(t, page.body, hidden, path)
			}
			assert.Equal(t, "no-referrer", page.header.Get("Referrer-Policy"), path)
		}
		page := d.get(path)
		page.doc.Find("a[href]").Each(func(_ int, a *goquery.Selection) {
			href := a.AttrOr("href", "")
			for _, inside := range []string{"/orders", "/receipts", "/sheets", "/shop", "/bodies"} {
				assert.False(t, strings.HasPrefix(href, inside), "%s leads to %s", path, href)
			}
			assert.NotEqual(t, "/", href, path)
		})
	}
	assert.Contains(t, d.get(link).text(), "1 cord (128 ft³), not measured yet")
	assert.Contains(t, d.get(link+"/receipt").text(), "red oak")
	for _, pdf := range []string{link + "/pdf?paper=a4", link + "/receipt/pdf"} {
		assert.Equal(t, "application/pdf", d.get(pdf).header.Get("Content-Type"), pdf)
	}
	saved := d.postJSON(link+"/measure", shortStack)
	require.Equal(t, http.StatusCreated, saved.status, saved.body)
	assert.NotContains(t, d.get(other).body, "Short", "another buyer's link shows nothing of it")
	assert.Equal(t, http.StatusNotFound, d.get(other+"/tallies/1").status)
	assert.Equal(t, http.StatusOK, d.get(link+"/tallies/1").status)
	assert.NotContains(t, d.log.String(), strings.TrimPrefix(link, "/buyer/"), "the code is in no log")
}

func TestWithdrawnLinkShowsNothing(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	old := d.buyersLink(1)
	link := d.buyersLink(1)
	sent := d.get(link + "?say=claim").values
	withdraw := d.get("/receipts/1/case")
	withdraw.form = withdraw.doc.Find(`form[action$="/withdraw"]`)
	require.Equal(t, http.StatusSeeOther, d.post("/receipts/1/case/withdraw", formValues(withdraw.form)).status)
	for _, gone := range []string{old, link, "/buyer/AAAAAAAAAAAAAAAAAAAAAAAAAA", "/buyer/x%00"} {
		for _, path := range []string{"", "/receipt", "/receipt/pdf", "/pdf", "/edit", "/measure", "/tallies/1"} {
			page := d.get(gone + path)
			require.Equal(t, http.StatusNotFound, page.status, gone+path)
			for _, hidden := range []string{"Ada", "Mill Road", "128", "oak"} {
				assert.NotContains(t, page.body, hidden, gone+path)
			}
		}
		assert.Equal(t, http.StatusNotFound, d.postJSON(gone+"/measure", shortStack).status)
		assert.Equal(t, http.StatusNotFound, d.postJSON(gone+"/entries", `{"kind":"claim","text":"x"}`).status)
		assert.Equal(t, http.StatusNotFound, d.postJSON(gone+"/edit", `{"used":"no"}`).status)
	}
	sent.Set("kind", "claim")
	assert.Equal(t, http.StatusNotFound, d.post(link+"/entries", sent).status)
	assert.Zero(t, d.get(link).doc.Find(`a[href="/"]`).Length(), "a buyer is not led into the shop")
	assert.Contains(t, d.get("/receipts/1/case").text(), "None holds.")
	assert.NotContains(t, d.log.String(), strings.TrimPrefix(link, "/buyer/"))
}

// A code is on the answer to the request that made it, and on no page after.
func TestCodeIsShownOnce(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	code := strings.TrimPrefix(d.buyersLink(1), "/buyer/")
	for _, path := range []string{"/", "/receipts/1", "/receipts/1/case"} {
		assert.NotContains(t, d.get(path).body, code, path)
		assert.NotContains(t, d.getJSON(path).body, code, path)
	}
	p := d.get("/receipts/1/case")
	p.form = p.doc.Find(`form[action$="/link"]`)
	values := formValues(p.form)
	require.Equal(t, http.StatusCreated, d.post("/receipts/1/case/link", values).status)
	again := d.post("/receipts/1/case/link", values)
	assert.Equal(t, http.StatusConflict, again.status, "the same request cannot show it twice")
}

func TestNothingIsChosenBeforehand(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	link := d.buyersLink(1)
	require.Equal(t, http.StatusCreated, d.postJSON(link+"/measure", shortStack).status)
	for _, path := range []string{link, link + "/edit", "/buying/case/new", link + "?say=claim"} {
		assert.Zero(t, d.get(path).doc.Find("input[type=radio][checked]").Length(), path)
	}
	p := d.get(link).press("Send to the seller").follow()
	assert.Contains(t, p.text(), "On 20 November 2026 you delivered 1 cord (128 ft³). Stacked and measured it was")
	assert.Contains(t, d.get("/").text(), "Receipt 1: the buyer waits for your answer")
	seller := d.get("/receipts/1/case")
	assert.Contains(t, seller.text(), "The buyer measured:Short by")
	assert.Zero(t, seller.doc.Find("input[type=radio][checked]").Length())
	settle := seller.doc.Find(`a[href$="/settlement"]`).AttrOr("href", "")
	assert.Equal(t, http.StatusOK, d.get(settle).status, "the seller settles it on the order")
}

func TestOwnRecordReadsWordsBack(t *testing.T) {
	assert.Zero(t, newDesk(t).get("/buying/case/new").doc.Find("#price").Length(), "in no currency that anybody said")
	d := withShop(t)
	assert.Contains(t, d.get("/buying/cases").text(), "Nothing recorded yet.")
	p := d.get("/buying/case/new").fill("How much was bought", "two face cords").fill("Piece length", "16 in").fill("Delivered on", "2026-11-18")
	p.fill("Seller’s name", "Dell Road Wood").fill("Your name", "Ada Moss").fill("What it cost", "200").choose("By cheque")
	p.values.Set("ticket.price", "no")
	asked := p.press("Keep this record")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Contains(t, asked.text(), "so it’s sold as 2/3 cord (85 ft³)")
	assert.Equal(t, "no", asked.values.Get("ticket.price"), "what was ticked stays")
	kept := asked.choose("Yes, that was bought").press("Keep this record")
	shown := kept.follow()
	assert.Contains(t, shown.text(), "2/3 cord (85 ft³), not measured yet")
	assert.Contains(t, shown.text(), "Delivered 2 days ago")
	assert.Contains(t, shown.text(), "price of the amount delivered: not on it")
	assert.NotContains(t, shown.body, "face cord")
	path, _, _ := strings.Cut(kept.header.Get("Location"), "?")
	assert.Equal(t, "2/3 cord", d.get(path+"/edit").values.Get("quantity"))
	assert.Equal(t, "no", d.get(path+"/edit").values.Get("ticket.price"))
	assert.Contains(t, d.get("/buying/cases").text(), "Dell Road Wood")
	for _, wrong := range []string{"/buying/case/nonsense", "/buying/case/01890000-0000-7000-8000-000000000000", path + "/tallies/1", path + "/tallies/x"} {
		assert.Equal(t, http.StatusNotFound, d.get(wrong).status, wrong)
	}
}

func TestBuyingPageUnderOtherRules(t *testing.T) {
	d := newDesk(t)
	page := d.get("/buying?rules=massachusetts")
	assert.Contains(t, page.text(), "“128 ft³, ranked and well stowed”")
	assert.NotContains(t, page.doc.Find("main li").Text(), "cord")
	assert.Equal(t, "application/pdf", d.get("/buying.pdf?"+url.Values{"rules": {"maine"}, "paper": {"a4"}}.Encode()).header.Get("Content-Type"))
	assert.Equal(t, http.StatusNotFound, d.get("/buying?rules=atlantis").status)
	assert.Contains(t, d.get("/how-to-measure").body, `href="/buying"`)
}

// The whole road on a phone: from the link to the seller's answer and the buyer's reply.
func TestPhoneFromLinkToAnswer(t *testing.T) {
	d := withShop(t)
	d.handedOver("1 cord")
	p := newPhone(t, d)
	p.open("/receipts/1")
	p.press("a", "The buyer’s page")
	p.press("button", "Make the buyer’s link")
	link := ask[string](p, `document.querySelector("#link a").getAttribute("href")`)
	p.open(link)
	p.press("a", "What an office would ask")
	p.tap("label", "By cheque")
	p.press("button", "Save")
	p.press("a", "Measure the stack")
	for i, piece := range []string{"16", "15.5", "16.25", "15.75", "16.5"} {
		p.fill(fmt.Sprintf("Piece %d", i+1), piece)
	}
	p.tap("label", "None")
	p.fill("Row 1, length", "18 ft")
	for i, h := range []string{"44", "45", "44", "43"} {
		p.fill(fmt.Sprintf("Row 1, height %d", i+1), h)
	}
	p.step("panel")
	p.until(`document.getElementById("running").textContent.includes("short")`)
	p.press("button", "Save these readings")
	assert.Contains(t, p.text(), "Next: tell the seller")
	p.tap("label", "The wood that is missing")
	p.press("button", "Send to the seller")
	assert.Contains(t, p.text(), "The seller has been told")
	p.open("/")
	p.press("a", "Receipt 1: the buyer waits for your answer")
	p.tap("label", "Bring the wood that is missing")
	p.fill("In your words", "I bring it on Friday.")
	p.press("button", "Send the answer")
	p.open(link)
	assert.Contains(t, p.text(), "I bring it on Friday.")
	p.tap("label", "I accept it")
	p.press("button", "Send the reply")
	assert.Contains(t, p.text(), "You accepted the seller’s answer.")
	p.open("/receipts/1/case")
	assert.Contains(t, p.text(), "Accepts the seller’s answer.")
	for _, path := range []string{"/buying", "/buying/cases", "/buying/case/new", link + "/receipt", link + "/tallies/1", link + "?say=office"} {
		p.open(path)
	}
}

// Words that name no measure are kept where the buyer ticks it, and the stack is then
// measured and held against nothing.
func TestOwnRecordKeepsWordsThatNameNoMeasure(t *testing.T) {
	d := newDesk(t)
	p := d.get("/buying/case/new").fill("How much was bought", "a truckload").fill("Delivered on", "2026-11-18").fill("Your name", "Ada Moss")
	assert.Zero(t, p.doc.Find("[name=as_words]").Length(), "asked only where the words name no measure")
	asked := p.press("Keep this record")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status)
	assert.Zero(t, asked.doc.Find("[name=as_words][checked]").Length())
	assert.Equal(t, "a truckload", asked.values.Get("quantity"))
	kept := asked.choose("Keep the words as they were said, without an amount: the wood is measured, and neither short nor full").press("Keep this record")
	require.Equal(t, http.StatusSeeOther, kept.status, kept.body)
	path, _, _ := strings.Cut(kept.header.Get("Location"), "?")
	shown := kept.follow().text()
	assert.Contains(t, shown, "Sold as “a truckload”: those words name no lawful measure.")
	assert.Contains(t, shown, "Ask the seller to write down the amount in cords. A cord is 128 ft³")
	assert.Contains(t, d.get(path+"/measure").text(), "Sold as “a truckload”: those words name no lawful measure.")
	edit := d.get(path + "/edit")
	assert.Empty(t, edit.values.Get("quantity"), "the rules bar the word, so it’s quoted and no value")
	assert.Equal(t, "yes", edit.values.Get("as_words"))

	saved := d.postJSON(path+"/measure", shortStack)
	require.Equal(t, http.StatusCreated, saved.status, saved.body)
	shown = d.get(path).text()
	assert.Contains(t, shown, "give or take")
	assert.Contains(t, shown, "Next: ask the seller for the amount in writing. Until then this can be neither short nor full.")
	assert.NotContains(t, shown, "Short by")
	assert.Contains(t, d.getJSON(path).body, `"as_words":true`)
	assert.Contains(t, d.getJSON(path).body, `"bought":"“a truckload”"`)
	assert.Equal(t, http.StatusOK, d.get(path+"/pdf?paper=letter").status)

	// The seller writes the amount down.
	changed := d.get(path+"/edit").fill("How much was bought", "1 cord").press("Save")
	require.Equal(t, http.StatusSeeOther, changed.status, changed.body)
	require.Equal(t, http.StatusCreated, d.postJSON(path+"/measure", shortStack).status)
	assert.Contains(t, d.get(path).text(), "Short by")
}

// A term that is read back may be kept in its words, shown between quotation marks alone.
func TestOwnRecordKeepsTermsInside(t *testing.T) {
	d := newDesk(t)
	p := d.get("/buying/case/new").fill("How much was bought", "two face cords").fill("Piece length", "16 in").fill("Delivered on", "2026-11-18")
	asked := p.press("Keep this record")
	assert.Contains(t, asked.text(), "so it’s sold as 2/3 cord (85 ft³)")
	kept := asked.choose("Keep the words as they were said, without an amount: the wood is measured, and neither short nor full").press("Keep this record")
	require.Equal(t, http.StatusSeeOther, kept.status, kept.body)
	path, _, _ := strings.Cut(kept.header.Get("Location"), "?")
	assert.Contains(t, kept.follow().text(), "Sold as “two face cords”: those words name no lawful measure.")
	for _, page := range []string{path, path + "/edit", path + "/measure"} {
		assert.NotContains(t, strings.ReplaceAll(d.get(page).body, "“two face cords”", ""), "face cord", page)
	}
	edit := d.get(path + "/edit")
	assert.Contains(t, edit.text(), "Left empty, they stay.")
	require.Equal(t, http.StatusSeeOther, edit.choose("By cheque").press("Save").status)
	assert.Contains(t, d.getJSON(path).body, `"as_words":true`)
}
