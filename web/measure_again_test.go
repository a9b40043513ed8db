package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Whoever is told to take more pieces goes on from what was read, and types none of it
// again.
func TestMeasuringMoreGoesOnFromTheReadings(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	sheet := typeExample(d.get(path + "/measure")).press("Save and make the sheet").follow()
	require.Equal(t, http.StatusOK, sheet.status, sheet.text())
	link := sheet.doc.Find(`a:contains("Measure more")`).AttrOr("href", "")
	require.Equal(t, path+"/measure?from=1", link)

	p := d.get(link)
	assert.Contains(t, p.doc.Find("#panel").Text(), "0.96 of 1 cord is here", "the answer so far, as a second check")
	for i, piece := range examplePieces {
		assert.Equal(t, piece+" in", p.labelled(fmt.Sprintf("Piece %d", i+1)).AttrOr("value", ""))
	}
	p.fill("Piece 11", "15 3/4")
	more := p.press("Save and make the sheet").follow()
	require.Equal(t, http.StatusOK, more.status, more.text())
	var saved struct {
		Sheet struct {
			Tally struct {
				Look  int
				Stack struct{ Pieces []string }
			}
		}
	}
	require.NoError(t, json.Unmarshal([]byte(d.getJSON("/sheets/2").body), &saved))
	assert.Equal(t, 2, saved.Sheet.Tally.Look)
	require.Len(t, saved.Sheet.Tally.Stack.Pieces, 11)
	assert.Equal(t, "16 in", saved.Sheet.Tally.Stack.Pieces[0])
}

// Every kind of stack comes back as it was read: measured anew from the form as it is
// shown, it is the same volume.
func TestReadingsOfEveryKindComeBack(t *testing.T) {
	for _, stack := range []string{
		`{"kind":"rows","nominal":"16 in","rows":[{"length":"10 ft","heights":["52 in","54 in","47 in"],"positions":["6 in","30 in","114 in"],
		  "ends":[{"kind":"shouldered","drop":"8 in","over":"10 in"},{"kind":"tapered","over":"20 in"}],"voids":[{"width":"12 in","height":"6 in"}]},
		  {"length":"9 ft","heights":["50 in"],"ends":[{"kind":"cribbed","over":"18 in"},{"kind":"upright"}]}]}`,
		`{"kind":"load","arrangement":"thrown","length":"8 ft","width":"5 ft","heights":["48 in","46 in"]}`,
		`{"kind":"heap","shape":"ridge","length":"12 ft","width":"8 ft","height":"4 ft"}`,
	} {
		d := withShop(t)
		path := d.takeOrder("1 cord")
		made := d.postJSON(path+"/measure", `{"format":1,"apart":"20 cu ft","top":"straightedge","stack":`+stack+`}`)
		require.Equal(t, http.StatusCreated, made.status, made.body)
		p := d.get(d.get("/sheets/1").doc.Find(`a:contains("Measure more")`).AttrOr("href", ""))
		again := p.press("Save and make the sheet").follow()
		require.Equal(t, http.StatusOK, again.status, again.text())
		first, second := d.getJSON("/sheets/1").body, d.getJSON("/sheets/2").body
		assert.Equal(t, volumeIn(t, first), volumeIn(t, second), stack)
	}
}

func volumeIn(t *testing.T, body string) string {
	t.Helper()
	_, after, found := strings.Cut(body, `"volume":`)
	require.True(t, found, body)
	volume, _, _ := strings.Cut(after, "}")
	return volume
}

func TestGoingOnFromNothingIsABlankForm(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	for _, from := range []string{"7", "x", "-1"} {
		p := d.get(path + "/measure?from=" + from)
		assert.Equal(t, http.StatusOK, p.status)
		assert.Empty(t, p.labelled("Row 1, length").AttrOr("value", ""))
	}
}

// A tally with a row read from a photo comes back whole, whether its page can show all of it
// (two sticks) or not (the example's stand outside the row); each row keeps its own way.
func TestARowReadFromAPhotoComesBack(t *testing.T) {
	example, err := os.ReadFile("../testdata/example-photo.json")
	require.NoError(t, err)
	var doc struct{ Stack json.RawMessage }
	require.NoError(t, json.Unmarshal(example, &doc))
	moved := strings.NewReplacer(`"-2 in"`, `"0 in"`, `"82.75 in"`, `"84.75 in"`)
	for name, stack := range map[string]string{
		"as it is":  string(doc.Stack),
		"two rows":  moved.Replace(string(doc.Stack)),
		"tape too":  strings.Replace(moved.Replace(string(doc.Stack)), `"photo": {`, `"length":"80 3/4 in","heights":["44 in","43 1/2 in","44 1/2 in","43 in"],"ends":[{"kind":"upright"},{"kind":"upright"}],"photo": {`, 1),
		"mixed":     strings.Replace(moved.Replace(string(doc.Stack)), `"rows": [`, `"rows": [{"length":"8 ft","heights":["48 in","47 in","46 in","47 1/2 in"],"ends":[{"kind":"upright"},{"kind":"upright"}]},`, 1),
		"with gaps": strings.Replace(moved.Replace(string(doc.Stack)), `"plumb"`, `"voids":[[[1700,1700],[1800,1700],[1800,1800]],[[2000,1700],[2100,1700],[2050,1800]]],"plumb"`, 1),
	} {
		t.Run(name, func(t *testing.T) {
			d := withShop(t)
			path := d.takeOrder("1 cord")
			made := d.postJSON(path+"/measure", `{"format":2,"apart":"none","tape":"1/4 in","stack":`+stack+`}`)
			require.Equal(t, http.StatusCreated, made.status, made.body)
			p := d.get(d.get("/sheets/1").doc.Find(`a:contains("Measure more")`).AttrOr("href", ""))
			assert.Contains(t, p.doc.Find("#panel").Text(), "cord", "the answer so far")
			again := p.press("Save and make the sheet").follow()
			require.Equal(t, http.StatusOK, again.status, again.text())
			first, second := d.getJSON("/sheets/1").body, d.getJSON("/sheets/2").body
			assert.Equal(t, volumeIn(t, first), volumeIn(t, second))
			assert.Equal(t, strings.Count(first, `"references"`), strings.Count(second, `"references"`))
			assert.Equal(t, strings.Count(first, `"voids"`), strings.Count(second, `"voids"`))
		})
	}
}
