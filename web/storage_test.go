package web_test

import (
	"encoding/json"
	"net/http"
	"net/url"
	"strings"
	"testing"

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
	assert.Equal(t, p.doc.Find("section.plan").Length()+1, p.doc.Find("figure svg").Length(), "each plan is drawn, and the pressure once: all are as high")
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
	asked := d.postJSON("/storage.pdf", `{"quantity":"1 cord","piece_length":"16 in","place":"shed","wood":"heavy","width":"14 ft","depth":"5 ft","height":"7 ft"}`)
	assert.Equal(t, pdf.body, asked.body, "and so does a program's question")
}

func TestStoragePageSaysHowMuchFits(t *testing.T) {
	p := newDesk(t).get("/storage")
	p.values.Set("place", "alcove")
	p = p.fill("How much", "1 1/2 cords").fill("Width, along the back", "6").fill("Depth, from back to front", "3").fill("Clear height", "7").press("Show the best plans")
	assert.Contains(t, p.text(), "0.2 cord (26.1 ft³) finds room here; 1.3 cords (165.9 ft³) does not.")
	assert.Equal(t, 1, p.doc.Find("section.plan").Length())
}

func TestStorageFaultsStandBesideTheirFields(t *testing.T) {
	p := newDesk(t).get("/storage")
	p.values.Set("place", "porch")
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
