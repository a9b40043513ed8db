package web_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shedRequest fills the storage form for a cord in a shed.
func shedRequest(d *desk) *answer {
	p := d.get("/storage")
	require.Equal(d.t, http.StatusOK, p.status, p.body)
	p.values.Set("place", "shed")
	p.values.Set("wood", "heavy")
	return p.fill("How much", "1 cord").fill("Width, along the back", "14").fill("Depth, from back to front", "5").fill("Clear height", "7")
}

func TestStoragePageShowsThePlans(t *testing.T) {
	d := newDesk(t)
	p := shedRequest(d).press("Show the best plans")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Contains(t, p.text(), "1 cord (128 ft³) finds room here.")
	assert.Contains(t, p.text(), "2 rows, each 13 ft 2 in long and 44 in high.")
	assert.Equal(t, p.doc.Find("section.plan").Length()+2, p.doc.Find("figure svg").Length(), "each plan is drawn, the pressure once since all are as high, and how it dries")
	assert.NotZero(t, p.doc.Find("section.plan").Length())
	for _, want := range []string{"40 psf", "runners concentrate it", "qualified person", "snow load", "local fire code", "waist height", "kPa"} {
		assert.Contains(t, p.text(), want)
	}
	assert.NotRegexp(t, `(?i)\bsafe`, p.text())
	assert.Equal(t, "14", p.labelled("Width, along the back").AttrOr("value", ""), "what was typed stays")
	assert.Equal(t, "shed", p.values.Get("place"))

	href := p.doc.Find(`a[href^="/storage.pdf"]`).First().AttrOr("href", "")
	pdf := d.get(href)
	require.Equal(t, http.StatusOK, pdf.status, pdf.body)
	assert.Equal(t, "application/pdf", pdf.header.Get("Content-Type"))
	assert.True(t, strings.HasPrefix(pdf.body, "%PDF-"))
	posted := shedRequest(d)
	assert.Equal(t, pdf.body, d.post("/storage.pdf", posted.values).body, "the form gives the same paper")
	asked := d.postJSON("/storage.pdf", `{"quantity":"1 cord","piece_length":"16 in","place":"shed","wood":"heavy","width":"14 ft","depth":"5 ft","height":"7 ft","stacked":"2026-11-20"}`)
	assert.Equal(t, pdf.body, asked.body, "and so does a program's question")
}

func TestStoragePageSaysHowMuchFits(t *testing.T) {
	p := newDesk(t).get("/storage")
	p.values.Set("place", "alcove")
	p = p.fill("How much", "1 1/2 cords").fill("Width, along the back", "6").fill("Depth, from back to front", "3").fill("Clear height", "7").press("Show the best plans")
	assert.Contains(t, p.text(), "0.2 cord (26.1 ft³) finds room here; 1.3 cords (165.9 ft³) does not.")
	assert.Equal(t, 1, p.doc.Find("section.plan").Length())
}

// One road: a cord and a half of green oak, an alcove of 6 × 3 ft and a porch. What
// fits where, what it weighs, and when it burns well stand on one page.
func TestStorageFromAlcoveToPorch(t *testing.T) {
	d := newDesk(t)
	p := d.get("/storage")
	assert.Equal(t, "2026-11-20", p.labelled("Stacked on").AttrOr("value", ""), "today")
	p.values.Set("place", "alcove")
	p = p.fill("How much", "1 1/2 cords").fill("Species", "oak").fill("Width, along the back", "6").fill("Depth, from back to front", "3").fill("Clear height", "7").press("Show the best plans")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Equal(t, 1, p.doc.Find(`a[href="#then"]`).Length(), "what is left has somewhere to go")
	_, open := p.doc.Find("details#then").Attr("open")
	assert.True(t, open)
	p.values.Set("then_place", "porch")
	p = p.fill("Its width", "20").fill("Its depth", "6").press("Show the best plans")
	require.Equal(t, http.StatusOK, p.status, p.body)
	text := p.text()
	for _, want := range []string{
		"1 1/2 cords (192 ft³) finds room: 0.2 cord (26.1 ft³) in an alcove, 1.3 cords (165.9 ft³) on a porch or deck.",
		"green", "lb", "It burns well from about", "2027", "A plan: then measure.", "15 species in the table go by that name",
		"On a porch or deck: 1.3 cords (165.9 ft³) finds room here.", "ask a qualified person before wood stands on a porch or deck",
	} {
		assert.Contains(t, text, want)
	}
	hrefs := p.doc.Find(`a[href^="/storage.pdf"]`).Map(func(_ int, a *goquery.Selection) string { return a.AttrOr("href", "") })
	require.Greater(t, len(hrefs), 1)
	for _, href := range []string{hrefs[0], hrefs[len(hrefs)-1]} {
		assert.Equal(t, "application/pdf", d.get(href).header.Get("Content-Type"), href)
	}
	data := d.postJSON("/storage", `{"quantity":"1 1/2 cords","piece_length":"16 in","species":"oak","place":"alcove","width":"6 ft","depth":"3 ft","height":"7 ft","stacked":"2026-11-20",
		"then_place":"porch","then_width":"20 ft","then_depth":"6 ft"}`)
	var got struct {
		Fits  bool
		Burns struct {
			From struct{ Soonest, Likely, Latest string }
		} `json:"burns_well"`
		Then []struct {
			Fits  bool
			Place string
		}
	}
	require.NoError(t, json.Unmarshal([]byte(data.body), &got), data.body)
	assert.False(t, got.Fits)
	require.Len(t, got.Then, 1)
	assert.True(t, got.Then[0].Fits)
	assert.Less(t, got.Burns.From.Soonest, got.Burns.From.Likely)
	assert.Less(t, got.Burns.From.Likely, got.Burns.From.Latest)
	bad := p.fill("Its width", "wide").press("Show the best plans")
	require.Equal(t, http.StatusUnprocessableEntity, bad.status)
	assert.Equal(t, 1, bad.doc.Find(`#faults a[href="#then_width"]`).Length())
}

func TestStorageFaultsStandBesideTheirFields(t *testing.T) {
	p := newDesk(t).get("/storage")
	p.values.Set("place", "alcove")
	again := p.fill("How much", "a truckload").fill("Width, along the back", "wide").press("Show the best plans")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "wide", again.labelled("Width, along the back").AttrOr("value", ""))
	for _, name := range []string{"quantity", "width", "depth", "height"} {
		assert.Equal(t, 1, again.doc.Find("#"+name+"-fault").Length(), name)
		assert.Equal(t, 1, again.doc.Find(`#faults a[href="#`+name+`"]`).Length(), name)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, newDesk(t).get("/storage.pdf?quantity=1+cord").status)
	assert.Equal(t, http.StatusUnprocessableEntity, newDesk(t).get("/storage.pdf?quantity=1+cord&piece_length=16+in&place=wall&width=40+ft&depth=6+ft&plan=9").status)
}

// A term that is no legal quantity is understood, and stands nowhere but in the
// field it was typed into.
func TestStorageNeverPrintsABarredTerm(t *testing.T) {
	p := newDesk(t).get("/storage")
	p.values.Set("place", "wall")
	p = p.fill("How much", "two face cords").fill("Width, along the back", "40").fill("Depth, from back to front", "4").press("Show the best plans")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Contains(t, p.text(), "2/3 cord (85 ft³) finds room here.")
	assert.Equal(t, 1, strings.Count(strings.ReplaceAll(p.body, "+", " "), "face cord"), "in its field alone")
}

func TestReceiptLeadsToStorage(t *testing.T) {
	d := withShop(t)
	receipt := d.get(d.takeOrder("1 cord") + "/deliver").press("Make the receipt").follow()
	href, has := receipt.doc.Find(`a[href^="/storage?"]`).Attr("href")
	require.True(t, has)
	p := d.get(href)
	assert.Equal(t, "1 cord", p.labelled("How much").AttrOr("value", ""))
	assert.NotEmpty(t, p.labelled("Piece length").AttrOr("value", ""))
	assert.Equal(t, "red oak", p.labelled("Species").AttrOr("value", ""))
}

func TestTripsPage(t *testing.T) {
	d := newDesk(t)
	form := func() *answer {
		p := d.get("/trips").fill("How much", "1 cord").fill("Bed length", "8").fill("Bed width", "5").fill("Height of the sideboards", "20")
		p.values.Set("wood", "heavy")
		return p
	}
	refused := form().press("Show the trips")
	require.Equal(t, http.StatusUnprocessableEntity, refused.status, "no payload is ever guessed")
	assert.Equal(t, 1, refused.doc.Find("#placard-fault").Length())
	p := form().fill("Placard: people and load", "1500").fill("People who ride along", "180").press("Show the trips")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Contains(t, p.text(), "6 trips: weight decides.")
	assert.Contains(t, p.text(), "1,320 lb of wood may be carried, by the placard")
}

func TestHandingOverLeadsToTrips(t *testing.T) {
	d := withShop(t)
	href, has := d.get(d.takeOrder("1 1/3 cords") + "/deliver").doc.Find(`a[href^="/trips?"]`).Attr("href")
	require.True(t, has)
	p := d.get(href)
	assert.Equal(t, "1 1/3 cords", p.labelled("How much").AttrOr("value", ""))
	assert.Equal(t, "red oak", p.labelled("Species").AttrOr("value", ""))
}

func TestWinterPage(t *testing.T) {
	d := newDesk(t)
	p := d.get("/winter")
	p.values.Set("fuel", "propane")
	p.values.Set("wood", "heavy")
	p = p.fill("How much of it", "250").press("Show how much wood")
	require.Equal(t, http.StatusOK, p.status, p.body)
	assert.Contains(t, p.text(), "0.7 to 1.3 cords for the winter.")
	assert.Contains(t, p.text(), "USDA Forest Products Laboratory")
	href, has := p.doc.Find(`a[href^="/storage?"]`).Attr("href")
	require.True(t, has)
	assert.Equal(t, "1 1/2 cords", d.get(href).labelled("How much").AttrOr("value", ""), "the most it may be, in whole quarters")
	assert.Contains(t, p.text(), "It burns well after", "green wood, no month said")
	dated := p.fill("To burn well by", "October 2027").press("Show how much wood")
	assert.Contains(t, dated.text(), "To burn well by October 2027, stack it by")
	assert.NotContains(t, dated.text(), "The likely day is past")
	late := p.fill("To burn well by", "2027-02").press("Show how much wood")
	assert.Contains(t, late.text(), "too late for that with green wood")
	again := p.fill("How much of it", "lots").press("Show how much wood")
	require.Equal(t, http.StatusUnprocessableEntity, again.status)
	assert.Equal(t, "lots", again.labelled("How much of it").AttrOr("value", ""))
}

func TestPlanningAnswersPrograms(t *testing.T) {
	d := newDesk(t)
	var got struct {
		Fits    bool
		Layouts []struct {
			Rows  int
			Green struct{ Low, High float64 } `json:"green_psf"`
		}
	}
	a := d.postJSON("/storage", `{"quantity":"1 cord","piece_length":"16 in","place":"wall","width":"40 ft","depth":"6 ft"}`)
	require.NoError(t, json.Unmarshal([]byte(a.body), &got), a.body)
	assert.True(t, got.Fits)
	assert.Equal(t, 1, got.Layouts[0].Rows)
	assert.Greater(t, got.Layouts[0].Green.High, got.Layouts[0].Green.Low)
	assert.Equal(t, http.StatusUnprocessableEntity, d.postJSON("/storage", `{"quantity":"1 cord"}`).status)
	assert.Contains(t, d.postJSON("/trips", `{"quantity":"1 cord","piece_length":"16 in","loaded":"thrown","bed_length":"8 ft","bed_width":"5 ft","bed_sides":"20 in","gross":"26000 lb","scale":"12000 lb"}`).body, `"trips":4`)
	assert.Contains(t, d.postJSON("/winter", `{"fuel":"wood","amount":"3","climate":"cold","appliance":"new stove"}`).body, `"low":3`)
}

func TestPlanningPagesHaveNoCodeInline(t *testing.T) {
	d := newDesk(t)
	shown := d.post("/storage", url.Values{"csrf": shedRequest(d).values["csrf"], "quantity": {"1 cord"}, "piece_length": {"16 in"}, "place": {"wall"}, "width": {"40 ft"}, "depth": {"6 ft"}})
	for _, a := range []*answer{shown, d.get("/storage"), d.get("/trips"), d.get("/winter")} {
		require.Equal(t, http.StatusOK, a.status)
		assert.Zero(t, a.doc.Find("[style], style, [onclick], script:not([src])").Length())
		assert.Equal(t, 1, a.doc.Find("h1").Length())
	}
}
