package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
)

// hinted are the examples that a field's hint gives: what stands after its colon, or all of
// it, parted by commas.
func hinted(page *answer, field string) (examples []string) {
	hint := strings.TrimSuffix(strings.TrimSpace(page.doc.Find("#"+field+"-hint").Text()), ".")
	if _, after, found := strings.Cut(hint, ": "); found {
		hint = after
	}
	return strings.Split(strings.ReplaceAll(hint, ". Or ", ", "), ", ")
}

// What the hint of a field gives as an example is understood in that field, whatever rules
// the shop sells under and in both systems of units.
func TestExamplesInHintsAreUnderstood(t *testing.T) {
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	d := withShop(t)
	for _, set := range book.All() {
		for _, units := range []string{"imperial", "metric"} {
			shop := d.get("/shop")
			shop.values.Set("rule_set", set.Code)
			shop.values.Set("units", units)
			require.Equal(t, http.StatusSeeOther, shop.press("Save the shop").status, set.Code)
			examples := hinted(d.get("/wood"), "quantity")
			require.GreaterOrEqual(t, len(examples), 3)
			for _, example := range examples {
				asked := url.Values{"species": {"red oak"}, "quantity": {example}, "moisture": {"20"}, "basis": {"dry"}}
				page := d.get("/wood?" + asked.Encode())
				assert.Equal(t, http.StatusOK, page.status, "%s, %s: %q: %s", set.Code, units, example, page.doc.Find(".wrong").Text())
			}
			storage := d.get("/storage").set("piece_length", "16 in").set("place", "wall").set("width", "20 ft").set("depth", "4 ft")
			for _, example := range hinted(storage, "quantity") {
				page := storage.set("quantity", example).press("Show the best plans")
				assert.Equal(t, http.StatusOK, page.status, "storage, %s, %s: %q: %s", set.Code, units, example, page.doc.Find(".wrong").Text())
			}
			trips := d.get("/trips").set("bed_length", "8 ft").set("bed_width", "5 ft").set("bed_sides", "20 in").set("placard", "1500 lb").set("people", "180 lb")
			for _, example := range hinted(trips, "quantity") {
				page := trips.set("quantity", example).press("Show the trips")
				assert.Equal(t, http.StatusOK, page.status, "trips, %s, %s: %q: %s", set.Code, units, example, page.doc.Find(".wrong").Text())
			}
			hint := d.get("/wood").doc.Find("#air-hint").Text()
			bare := map[string]string{"imperial": "In °F", "metric": "In °C"}[units]
			assert.True(t, strings.HasPrefix(hint, bare), hint)
		}
	}
}
