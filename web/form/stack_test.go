package form_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure/forms"
	"wellstowed/measure/stack"
	"wellstowed/web/form"
)

func readStack(t require.TestingT, kind string, fields ...string) *form.Stack {
	s, known := form.ReadStack(kind, func(field func(name, value string)) {
		for i := 0; i < len(fields); i += 2 {
			field(fields[i], fields[i+1])
		}
	})
	require.True(t, known)
	return s
}

func kinds() (names []string) {
	for _, f := range forms.All() {
		names = append(names, f.Kind)
	}
	return names
}

func TestAChoiceLeavesOutWhatDoesNotGoWithIt(t *testing.T) {
	s := readStack(t, "packaged", "stack.method", "bundle", "stack.heights[0]", "4", "stack.ends[0].squares", "118.25", "stack.ends[0].edge", "1",
		"stack.sections[0].inside", "24", "stack.pieces[0]", "16")
	doc, faults := s.Document()
	assert.Empty(t, faults)
	assert.JSONEq(t, `{"format":2,"stack":{"kind":"packaged","method":"bundle","ends":[{"squares":118.25,"edge":"1 in"}],"pieces":["16 in"]}}`, string(doc))

	s = readStack(t, "load", "stack.arrangement", "thrown", "way.fill", "line", "stack.heights[0]", "4", "stack.calibrated.volume", "64 cu ft",
		"stack.calibrated.box.length", "8", "stack.window.width", "3", "raised", "2")
	doc, _ = s.Document()
	assert.JSONEq(t, `{"format":2,"stack":{"kind":"load","arrangement":"thrown","calibrated":{"volume":"64 cu ft"}}}`, string(doc))
}

func TestAChoiceNotMadeIsNamed(t *testing.T) {
	_, faults := readStack(t, "bin", "stack.length", "12").Document()
	require.Len(t, faults, 1)
	assert.Equal(t, "stack.arrangement", faults[0].Field)
	assert.Equal(t, "one of: ranked, put in as it fills", faults[0].Accepts.String())
	_, faults = readStack(t, "round", "stack.heights[0]", "5").Document()
	assert.Empty(t, faults)
}

func TestWhatIsEmptyInTheMiddleOfAListStays(t *testing.T) {
	s := readStack(t, "load", "stack.arrangement", "thrown", "stack.grid[0][0]", "24", "stack.grid[0][1]", "", "stack.grid[0][2]", "23",
		"stack.grid[2][0]", "22", "stack.grid[3][0]", "", "stack.wells[1].width", "8")
	doc, _ := s.Document()
	assert.JSONEq(t, `{"format":2,"stack":{"kind":"load","arrangement":"thrown","grid":[["24 in","","23 in"],[],["22 in"]],"wells":[{},{"width":"8 in"}]}}`, string(doc))
}

func TestWhatRowsLackGoesIntoTheirDocument(t *testing.T) {
	s := readStack(t, "rows", "stack.rows[1].back[0]", "47", "stack.rows[1].ends[1].kind", "cribbed", "stack.rows[1].ends[1].share", "0.8",
		"stack.rows[0].ends[0].kind", "upright", "stack.rows[0].ends[0].share", "0.7", "stack.rows[1].slope.heights", "perpendicular",
		"stack.rows[1].slope.rise", "1", "stack.rows[0].length", "ignored here", "stack.window.pieces", "27")
	doc, faults, err := s.Rest().Into([]byte(`{"format":2,"stack":{"kind":"rows","rows":[{"length":"8 ft"},{"length":"7 ft","ends":[{"kind":"upright"},{"kind":"cribbed","over":"10 in"}]}]}}`))
	require.NoError(t, err)
	assert.Empty(t, faults)
	assert.JSONEq(t, `{"format":2,"stack":{"kind":"rows","window":{"pieces":27},"rows":[{"length":"8 ft"},
		{"length":"7 ft","back":["47 in"],"slope":{"heights":"perpendicular"},"ends":[{"kind":"upright"},{"kind":"cribbed","over":"10 in","share":0.8}]}]}}`, string(doc))
}

// A hostile form makes neither a huge list nor a panic.
func TestPlacesOfAStackAreBounded(t *testing.T) {
	s := readStack(t, "load", "stack.heights[99999]", "8", "stack.heights[-1]", "8", "stack.heights[200]", "8", "stack.heights[201]", "8",
		"stack.grid[50][0]", "8", "stack.grid[51][0]", "8", "stack.heights[0][0]", "8", "stack.length[0]", "8", "stack", "8", "", "8", "[0]", "8",
		"stack.heights[01]", "8", "stack.heights[99999999999999999999]", "8", "stack..length", "x", "stack.heights[", "8", "stack.heights]", "8", "more", "x")
	assert.Empty(t, s.Value("stack.heights[201]"))
	assert.Equal(t, "8", s.Value("stack.heights[200]"), "one past the limit, for measuring to name it")
	for range 300 {
		s.Change("more stack.heights")
		s.Change("more stack.grid")
	}
	for _, do := range []string{"", "more", "more ", "more stack", "more stack.length", "more stack.heights[0]", "more nowhere", "more stack.wells[x]"} {
		assert.False(t, s.Change(do), do)
	}
	doc, _ := s.Document()
	assert.Less(t, len(doc), 10_000)
}

// names are paths such as a browser sends, and some that it never would.
func names() *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		form := rapid.SampledFrom(forms.All()).Draw(t, "form")
		group := rapid.SampledFrom(form.Groups).Draw(t, "group")
		path := rapid.SampledFrom(group.Fields).Draw(t, "field").Path
		for strings.Contains(path, "[]") {
			path = strings.Replace(path, "[]", fmt.Sprintf("[%d]", rapid.IntRange(0, 6).Draw(t, "place")), 1)
		}
		if rapid.IntRange(0, 9).Draw(t, "odd") == 0 {
			path = rapid.StringMatching(`[a-z.\[\]0-9]{0,20}`).Draw(t, "name")
		}
		return path
	})
}

// Whatever is sent, the document is JSON that the reader of tallies answers with a
// tally or with faults, the form sent again gives the same document, and every
// number that is none has its fault.
func TestAnyFormGivesADocument(t *testing.T) {
	values := rapid.SampledFrom([]string{"", " ", "8", "16 in", "two", "0x1p4", "1e999", "-3", "007", "0.5", "12.", "ranked", "thrown", "boxed",
		"bundle", "crosshatched", "vertical", "ridge", "2026-05-01", "64 cu ft", "\u0000", "\"}", "1/2"})
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(kinds()).Draw(t, "kind")
		var sent []string
		for range rapid.IntRange(0, 25).Draw(t, "fields") {
			sent = append(sent, names().Draw(t, "name"), values.Draw(t, "value"))
		}
		s := readStack(t, kind, sent...)
		doc, faults := s.Document()
		require.True(t, json.Valid(doc), "%s", doc)
		_, _ = stack.ParseTally(doc) // must not panic
		again, _ := readStack(t, kind, sent...).Document()
		require.Equal(t, string(doc), string(again))
		for _, f := range faults {
			if f.Code == "missing" {
				require.Empty(t, strings.TrimSpace(s.Value(f.Field)), "what was chosen is not asked for")
				continue
			}
			require.GreaterOrEqual(t, slices.Index(sent, f.Field), 0, "a fault names a field that was sent")
		}
		for _, g := range s.Groups() {
			s.Blocks(g.Fields, "") // must not panic
		}
	})
}

func FuzzStackForm(f *testing.F) {
	f.Add("load", "stack.grid[1][2]", "24", "way.fill", "grid")
	f.Add("packaged", "stack.sections[1].headspace[5]", "1", "stack.method", "boxed")
	f.Add("rows", "stack.rows[3].slope.degrees", "7", "stack.rows[3].slope.heights", "vertical")
	f.Fuzz(func(t *testing.T, kind, a, b, c, d string) {
		s, known := form.ReadStack(kind, func(field func(name, value string)) { field(a, b); field(c, d) })
		if !known {
			return
		}
		s.Change("more " + a)
		doc, _ := s.Document()
		require.True(t, json.Valid(doc), "%q", doc)
	})
}
