package web_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/PuerkitoBio/goquery"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// withVehicles keeps two trucks of two cords each, by the pages.
func withVehicles(t *testing.T) *desk {
	t.Helper()
	d := withShop(t)
	for _, name := range []string{"red truck", "blue truck"} {
		made := d.get("/bodies").inForm("/bodies").fill("Truck or trailer", name).fill("Line", "top board").choose("Ranked, as in a stack").
			fill("Length inside", "8").fill("Width inside", "8").fill("Floor to the line", "48").press("Keep this bed")
		require.Equal(t, http.StatusSeeOther, made.status, made.body)
	}
	page := d.get("/road/vehicles")
	beds := page.doc.Find("#bed option")
	require.Equal(t, 3, beds.Length())
	for i, name := range []string{"red truck", "blue truck"} {
		made := d.get("/road/vehicles").inForm("/road/vehicles").fill("Truck, or truck and trailer", name).set("bed", beds.Eq(i+1).AttrOr("value", "")).
			fill("Gross rating", "24000").fill("Weight on a scale", "10000").press("Keep this vehicle")
		require.Equal(t, http.StatusSeeOther, made.status, made.body)
	}
	return d
}

// A day is put on two trucks, changed by hand, printed and ticked, by pages alone.
func TestADayGoesOntoTheRoad(t *testing.T) {
	d := withVehicles(t)
	d.takeFor("Ada Moss", "1 1/2 cords", "tomorrow morning")
	d.takeFor("Bo Lund", "1 cord", "tomorrow")
	d.takeFor("Cy Reed", "1/2 cord", "tomorrow")
	board := d.get("/")
	path := board.doc.Find("#tomorrow .way a").AttrOr("href", "")
	require.Equal(t, "/road?day=2026-11-21", path)
	day := d.get(path)
	assert.Contains(t, day.text(), "On no vehicle yet")
	done := day.inForm("/road/2026-11-21/arrange").press("Put it on the vehicles")
	require.Equal(t, http.StatusSeeOther, done.status, done.body)
	day = d.get(path)
	assert.Contains(t, day.text(), "Trip 2: blue truck")
	assert.NotContains(t, day.text(), "Trip 3")
	assert.Contains(t, day.text(), "How far it is isn’t known: no place of these stops is saved.")
	assert.Contains(t, day.text(), "the vehicle’s own plate and your local law decide")

	run := d.get("/road/2026-11-21/trips/1")
	boxes := run.doc.Find(`input[type="checkbox"][name^="loaded"]`)
	stops := run.doc.Find("section.stop h2").Map(func(_ int, h *goquery.Selection) string { return strings.TrimSpace(h.Text()) })
	require.Equal(t, len(stops), boxes.Length())
	last := boxes.First().Parent().Text()
	assert.Contains(t, last, stops[len(stops)-1][3:], "what comes off last goes in first")
	assert.Equal(t, 1, run.doc.Find("a.main").Length(), "the next stop alone is filled")
	ticked := run.inForm("/road/2026-11-21/trips/1").set("loaded[1]", "yes").press("Keep what is loaded")
	require.Equal(t, http.StatusSeeOther, ticked.status, ticked.body)
	assert.Equal(t, 1, d.get("/road/2026-11-21/trips/1").doc.Find("input[checked]").Length())

	pdf := d.get("/road/2026-11-21/pdf")
	assert.Equal(t, "application/pdf", pdf.header.Get("Content-Type"))

	edit := d.get("/road/2026-11-21/edit").inForm("/road/2026-11-21/edit")
	red := edit.doc.Find("#trip-0 option").Eq(1).AttrOr("value", "")
	asked := edit.set("stops[0].trip", red).set("stops[1].trip", red).set("stops[2].trip", red).press("Keep this order")
	require.Equal(t, http.StatusUnprocessableEntity, asked.status, asked.body)
	assert.Contains(t, asked.text(), "may be fuller than the line")
	assert.Equal(t, red, asked.doc.Find("#trip-2 option[selected]").AttrOr("value", ""), "what was picked is kept")
	kept := asked.inForm("/road/2026-11-21/edit").set("confirmed", asked.doc.Find(`[name="confirmed"]`).AttrOr("value", "")).press("Keep this order")
	require.Equal(t, http.StatusSeeOther, kept.status, kept.body)
	day = d.get(path)
	assert.Contains(t, day.text(), "Put together by hand.")
	assert.Contains(t, day.text(), "This may not fit below the line.")
	assert.NotContains(t, day.text(), "Trip 2")
}

// A day that can't be read is asked for again, with what was typed.
func TestADayThatIsNoneIsAskedAgain(t *testing.T) {
	d := withShop(t)
	page := d.get("/road?day=when+it+snows")
	assert.Equal(t, http.StatusUnprocessableEntity, page.status)
	assert.Equal(t, "when it snows", page.labelled("Day").AttrOr("value", ""))
	assert.Equal(t, http.StatusNotFound, d.get("/road/soon/edit").status)
	assert.Equal(t, http.StatusNotFound, d.get("/road/2026-11-21/trips/1").status)
	assert.Contains(t, d.get("/road?day=Saturday").text(), "Saturday 21 November")
	assert.Contains(t, d.getJSON("/road?day=2026-11-21").body, `"on":"2026-11-21"`)
}
