package web_test

import (
	"encoding/json"
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A kindCase is a stack typed into the page of its kind with no scripts.
type kindCase struct {
	kind   string
	choose []string
	fill   map[string]string
	wrong  string   // label of a field that does not take what cannot be read
	first  string   // what the answer begins with
	says   []string // on the page
}

func kindCases() []kindCase {
	return []kindCase{
		{kind: "load", wrong: "Height 2", first: "160 ft³ loose",
			choose: []string{"Thrown in", "Heights read from the floor"},
			fill:   map[string]string{"Length": "96", "Width": "60", "Height 1": "48", "Height 2": "48", "Height 3": "48", "Height 4": "48"},
			says:   []string{"Once stacked it is likely 0.69 to 0.94"}},
		{kind: "load", wrong: "Volume up to the line", first: "0.5 cord",
			choose: []string{"Ranked", "Filled to a line, and the volume up to it is known"},
			fill:   map[string]string{"Volume up to the line": "64 cu ft", "Taped on": "2026-05-01", "Taped by": "Ada Moss"},
			says:   []string{"taped on 2026-05-01 by Ada Moss"}},
		{kind: "heap", wrong: "Height at the top", first: "124.8 ft³ loose",
			choose: []string{"Rounded"},
			fill:   map[string]string{"Length on the ground": "144", "Width on the ground": "8 ft", "Height at the top": "48", "Piece length as said, not measured": "16"},
			says:   []string{"Stack it in rows 48 in high: expect about", "of row of 15 1/2 in pieces", "Give or take 30.8 ft³"}},
		{kind: "bin", wrong: "Height 1", first: "0.31 cord",
			choose: []string{"Ranked"},
			fill:   map[string]string{"Inside length": "8 ft", "Inside width": "16 in", "Height 1": "45", "Height 2": "45", "Piece 1": "16"},
			says:   []string{"pieces."}},
		{kind: "round", wrong: "Diameter 3", first: "192.4 ft³ in its container",
			fill: map[string]string{"Diameter 1": "84", "Diameter 2": "7 ft", "Diameter 3": "84", "Height 1": "60"}},
		{kind: "packaged", wrong: "Section 1, headspace 6", first: "3.4 ft³",
			choose: []string{"Boxed"}, fill: boxFilling()},
	}
}

// boxFilling is a box 24 in high with an inch of headspace, 16 in wide, of 16 in
// pieces: 23 × 16 × 16 in.
func boxFilling() map[string]string {
	all := map[string]string{"Section 1, height inside": "24"}
	for i := range 6 {
		all[fmt.Sprintf("Section 1, headspace %d", i+1)] = "1"
	}
	for i := range 3 {
		all[fmt.Sprintf("Section 1, width %d", i+1)] = "16"
	}
	for i := range 5 {
		all[fmt.Sprintf("Section 1, piece %d", i+1)] = "16"
	}
	return all
}

func (c kindCase) typed(p *answer) *answer {
	for _, label := range c.choose {
		p.choose(label)
	}
	for label, text := range c.fill {
		p.fill(label, text)
	}
	return p
}

func TestEveryKindIsMeasuredWithoutScripts(t *testing.T) {
	d := withShop(t)
	order := d.takeOrder("1/2 cord")
	for n, c := range kindCases() {
		t.Run(fmt.Sprint(c.kind, n), func(t *testing.T) {
			path := order + "/measure?kind=" + c.kind
			bad := c.typed(d.get(path)).fill(c.wrong, "two and a bit").press("Show the answer")
			require.Equal(t, http.StatusUnprocessableEntity, bad.status)
			field := bad.labelled(c.wrong)
			assert.Equal(t, "two and a bit", field.AttrOr("value", ""), "what was typed stays")
			assert.NotEmpty(t, field.Closest(".wrong").Find(".fault").Text(), "the fault stands beside the field")
			assert.Equal(t, c.wrong, bad.doc.Find("#faults a").First().Text(), "the summary names the field as its label does")
			for label, text := range c.fill {
				if label != c.wrong {
					assert.Equal(t, text, bad.labelled(label).AttrOr("value", ""), label)
				}
			}
			for _, label := range c.choose {
				_, on := bad.labelled(label).Attr("checked")
				assert.True(t, on, label)
			}
			shown := bad.fill(c.wrong, c.fill[c.wrong]).press("Show the answer").asTyped()
			require.Equal(t, http.StatusOK, shown.status, "%s", shown.text())
			assert.GreaterOrEqual(t, shown.doc.Find("figure.stack svg").Length(), 1, "its drawing")
			sheet := shown.fill("Name of who reads", "Ada Moss").press("Save and make the sheet").follow()
			require.Equal(t, http.StatusOK, sheet.status, "%s", sheet.text())
			assert.Equal(t, shown.doc.Find(".answer").Text(), sheet.doc.Find(".answer").Text())
			pdf := d.get(sheet.doc.Find("a.main").AttrOr("href", ""))
			assert.True(t, strings.HasPrefix(pdf.body, "%PDF-"))

			alone := c.typed(d.get("/measure?kind=" + c.kind)).press("Show the answer")
			require.Equal(t, http.StatusOK, alone.status, "%s", alone.text())
			assert.True(t, strings.HasPrefix(alone.doc.Find(".answer").Text(), c.first), "%s", alone.doc.Find(".answer").Text())
			for _, text := range c.says {
				assert.Contains(t, alone.text(), text)
			}
		})
	}
}

// Without a choice between the ways of saying how high a body is filled, what was
// typed tells it.
func TestTheWayIsReadFromWhatWasTyped(t *testing.T) {
	p := withShop(t).get("/measure?kind=load").choose("Ranked").fill("Volume up to the line", "64 cu ft")
	p.fill("Taped on", "2026-05-01").fill("Taped by", "Ada Moss")
	shown := p.press("Show the answer")
	require.Equal(t, http.StatusOK, shown.status, "%s", shown.text())
	_, on := shown.labelled("Filled to a line, and the volume up to it is known").Attr("checked")
	assert.True(t, on)
}

func TestMoreRoomOnAKindsForm(t *testing.T) {
	d := withShop(t)
	p := d.get("/measure?kind=load").choose("Thrown in").fill("Length", "8").press("Add wheel well 1")
	require.Equal(t, http.StatusOK, p.status)
	p = p.fill("Wheel well 1, length", "30").press("Add wheel well 2")
	p.labelled("Wheel well 2, how many")
	assert.Equal(t, "30", p.labelled("Wheel well 1, length").AttrOr("value", ""))
	assert.Equal(t, "8", p.labelled("Length").AttrOr("value", ""))
	p = p.choose("Heights read over the whole load, line by line").press("Add line 4")
	p.labelled("Line 4, height 4")
	p.press("Add line 1, height 5 and 6").labelled("Line 1, height 6")
}

func TestNumbersOfAKindsFormAreReadPlainly(t *testing.T) {
	d := withShop(t)
	for _, typed := range []string{"1e3", "-2", "NaN", "0x10", "1,5", "two", "1.5"} {
		p := d.get("/measure?kind=load").choose("Ranked").choose("Heights read from the floor").fill("Length", "8").fill("Width", "5")
		p.fill("Height 1", "48").fill("Height 2", "48").fill("Pieces in it", typed).fill("Part of the face counted: width", "24").fill("Part of the face counted, height", "24")
		again := p.press("Show the answer")
		require.Equal(t, http.StatusUnprocessableEntity, again.status, typed)
		assert.Equal(t, typed, again.labelled("Pieces in it").AttrOr("value", ""))
		assert.Contains(t, again.labelled("Pieces in it").Parent().Find(".fault").Text(), "whole number", typed)
		assert.Equal(t, 1, again.doc.Find("#faults li").Length(), "said once")
	}
}

func TestAKindThatIsNoneIsNotFound(t *testing.T) {
	d := withShop(t)
	assert.Equal(t, http.StatusNotFound, d.get("/measure?kind=nest").status)
	assert.Equal(t, http.StatusNotFound, d.get(d.takeOrder("1 cord")+"/measure?kind=nest").status)
}

func TestEveryKindHasItsLink(t *testing.T) {
	p := withShop(t).get("/measure")
	for _, link := range []string{"?kind=load", "?kind=heap", "?kind=bin", "?kind=round", "?kind=packaged"} {
		assert.Equal(t, 1, p.doc.Find(`nav a[href="/measure`+link+`"]`).Length(), link)
	}
}

// What a load of another kind says through the JSON door is what the page says.
func TestLoadThroughTheJSONDoor(t *testing.T) {
	a := withShop(t).postJSON("/measure", `{"format":1,"stack":{"kind":"load","arrangement":"thrown","length":"8 ft","width":"5 ft","heights":["48 in"]}}`)
	require.Equal(t, http.StatusOK, a.status, a.body)
	var got struct {
		Basis       string `json:"basis"`
		Uncertainty struct {
			Expanded float64 `json:"expanded_cubic_feet"`
		}
		Expected struct {
			Low  float64 `json:"low_cubic_feet"`
			High float64 `json:"high_cubic_feet"`
		} `json:"expected_ranked"`
	}
	require.NoError(t, json.Unmarshal([]byte(a.body), &got))
	assert.Equal(t, "loose", got.Basis)
	assert.InDelta(t, (160-got.Uncertainty.Expanded)*0.58, got.Expected.Low, 0.01, "common practice, no source")
	assert.InDelta(t, (160+got.Uncertainty.Expanded)*0.72, got.Expected.High, 0.01, "common practice, no source")
}

func TestRowsTakeBackFaceSlopeWindowAndDrying(t *testing.T) {
	d := withShop(t)
	p := d.get("/measure").fill("Sold", "1 cord").press("Add row 1, back height 1 and 2")
	p.fill("Row 1, length", "24 ft").fill("Piece 1", "16").fill("Row 1, height 1", "46").fill("Row 1, height 2", "46")
	p.fill("Row 1, back height 1", "45").fill("Row 1, back height 2", "45").choose("Perpendicular to the slope")
	p.fill("Part of the face counted: width", "24").fill("Part of the face counted, height", "24").fill("Pieces in it", "28")
	p.choose("Green").fill("Moisture, percent", "18").choose("Of the dry weight").fill("Pieces it was measured on", "6")
	p.fill("How it was measured", "meter").fill("Shrinkage from green to oven-dry, percent", "13.7")
	shown := p.press("Show the answer")
	require.Equal(t, http.StatusOK, shown.status, "%s", shown.text())
	assert.Contains(t, shown.text(), "Sold green and measured dry")
	assert.Contains(t, shown.text(), "from those counted in a part of it")
	assert.Contains(t, shown.text(), "What is missing is about")
	assert.Equal(t, "45", shown.labelled("Row 1, back height 2").AttrOr("value", ""))
	bad := shown.fill("Moisture, percent", "wet").press("Show the answer")
	require.Equal(t, http.StatusUnprocessableEntity, bad.status)
	assert.Contains(t, bad.labelled("Moisture, percent").Parent().Find(".fault").Text(), "not a number")
}

func TestSeveralTalliesOfOneOrder(t *testing.T) {
	d := withShop(t)
	path := d.takeOrder("1 cord")
	save := func(doc string) {
		t.Helper()
		saved := d.postJSON(path+"/measure?read_by=Ada", doc)
		require.Equal(t, http.StatusCreated, saved.status, saved.body)
	}
	doc := `{"format":2,"apart":"none","tape":"1/4 in","rounded":"nearest","top":"straightedge","stowed":"checked",` + exampleStack(t) + `}`
	save(doc)
	assert.NotContains(t, d.get(path).text(), "Do they agree?")
	save(strings.Replace(doc, "48.5 in", "48 in", 1))
	both := d.get(path)
	require.Equal(t, http.StatusOK, both.status)
	assert.Contains(t, both.text(), "The 2 tallies agree within their give or take.")
	assert.Contains(t, both.text(), "Between sheet 1 and sheet 2: 0")
	assert.Contains(t, both.text(), "Short by 0.04 cord")
	save(`{"format":1,"stack":{"kind":"heap","shape":"ridge","length":"12 ft","width":"8 ft","height":"4 ft"}}`)
	assert.NotContains(t, d.get(path).text(), "Do they agree?", "the last is of another kind than the others")
	save(strings.Replace(doc, "48.5 in", "47 in", 1))
	assert.Contains(t, d.get(path).text(), "Between sheet 1 and sheet 4:")
	assert.NotContains(t, d.get(path).text(), "and sheet 3")
}
