package stack

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// A whole document of each kind that is not rows.
func kindTallies() map[string]string {
	six, five := `["1 in","1 1/4 in","7/8 in","1 in","1 in","1 in"]`, `["16 in","15 3/4 in","16 in","16 in","16 1/4 in"]`
	return map[string]string{
		"load": `{"format": 1, "stack": {"kind": "load", "arrangement": "thrown", "length": "8 ft", "width": "5 ft", "heights": ["20 in", "21 in"],
			"positions": ["2 ft", "6 ft"], "wells": [{"length": "30 in", "width": "8 in", "height": "10 in", "count": 2}],
			"crown": {"shape": "ridge", "crest": ["10 in", "12 in"]}, "nominal": "16 in"}}`,
		"grid": `{"format": 1, "stack": {"kind": "load", "arrangement": "thrown", "length": "8 ft", "width": "5 ft",
			"grid": [["30 in", "31 in"], ["34 in", "35 in"], ["29 in", "30 in"]]}}`,
		"calibrated": `{"format": 1, "loose_cord": "180 cu ft", "sold": "64 cu ft loose", "stack": {"kind": "load", "arrangement": "thrown",
			"calibrated": {"volume": "64 cu ft", "on": "2026-05-01", "by": "the owner", "line": "lower board"}}}`,
		"taped": `{"format": 1, "stack": {"kind": "load", "arrangement": "ranked", "window": {"width": "2 ft", "height": "2 ft", "pieces": 27},
			"calibrated": {"box": {"length": "8 ft", "width": "5 ft", "heights": ["20 in"]}, "on": "2026-05-01", "by": "the owner"}}}`,
		"heap":  `{"format": 1, "stack": {"kind": "heap", "shape": "rounded", "length": "12 ft", "width": "8 ft", "height": "4 ft", "pieces": ["16 in"]}}`,
		"bin":   `{"format": 1, "raised": "4 in", "stack": {"kind": "bin", "arrangement": "container", "length": "4 ft", "width": "40 in", "heights": ["48 in", "44 in"]}}`,
		"round": `{"format": 1, "stack": {"kind": "round", "diameters": ["7 ft", "82 in"], "heights": ["5 ft"], "cone": "18 in"}}`,
		"girth": `{"format": 1, "stack": {"kind": "round", "circumference": "22 ft", "heights": ["5 ft"]}}`,
		"boxed": `{"format": 1, "stack": {"kind": "packaged", "method": "boxed", "sections": [{"inside": "24 in", "headspace": ` + six + `, "widths": ["16 in", "16 in", "16 in"], "pieces": ` + five + `}]}}`,
		"crosshatched": `{"format": 1, "stack": {"kind": "packaged", "method": "crosshatched", "heights": ["18 in","18 in","18 in","18 in","18 in","18 in","18 in","18 in"],
			"lengths": ["2 ft","2 ft","2 ft","2 ft"], "pieces": ` + five + `}}`,
		"bundle": `{"format": 1, "stack": {"kind": "packaged", "method": "bundle", "ends": [{"squares": 118.25, "edge": "1 in"}, {"squares": 121, "edge": "1 in"}], "pieces": ` + five + `}}`,
		"dried": `{"format": 1, "sold": "1 cord", "apart": "none", "condition": "dry", "sold_condition": "green", "moisture": {"percent": 18, "basis": "dry", "pieces": 6, "method": "meter"},
			"shrinkage": {"basic_gravity": 0.56}, "stack": {"kind": "rows", "nominal": "16 in", "window": {"width": "2 ft", "height": "2 ft", "pieces": 27},
			"rows": [{"length": "8 ft", "heights": ["4 ft"], "back": ["47 in"], "slope": {"heights": "vertical", "rise": "1 ft", "run": "8 ft"}}]}}`,
	}
}

func TestParseKinds(t *testing.T) {
	for name, doc := range kindTallies() {
		tally, err := ParseTally([]byte(doc))
		require.NoError(t, err, name)
		mustBeSound(t, tally)
	}
	tally, err := ParseTally([]byte(kindTallies()["load"]))
	require.NoError(t, err)
	assert.Equal(t, Load{
		Arrangement: measure.Loose, Box: Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot, Heights: in(20, 21), Positions: []measure.Length{2 * measure.Foot, 6 * measure.Foot}},
		Wells: []Well{{30 * measure.Inch, 8 * measure.Inch, 10 * measure.Inch, 2}}, Crown: Crown{Ridge, in(10, 12)}, Pieces: Pieces{Nominal: 16 * measure.Inch},
	}, tally.Stack)
	tally, err = ParseTally([]byte(kindTallies()["calibrated"]))
	require.NoError(t, err)
	assert.Equal(t, Load{Arrangement: measure.Loose, Calibrated: &Calibrated{Volume: 64 * measure.CubicFoot, On: "2026-05-01", By: "the owner", Line: "lower board"}}, tally.Stack)
	assert.Equal(t, 180*measure.CubicFoot, tally.LooseCord)
	tally, err = ParseTally([]byte(kindTallies()["bundle"]))
	require.NoError(t, err)
	assert.Equal(t, [2]Traced{{473, measure.Inch}, {484, measure.Inch}}, tally.Stack.(Packaged).Ends)
}

// Each fault is named at its place.
func TestParseKindsFaults(t *testing.T) {
	for _, c := range []struct {
		kind, from, to string // what is changed
		field, code    string
	}{
		{"load", `"thrown"`, `"loose"`, "stack.arrangement", "not-one-of"},
		{"load", `"width": "5 ft"`, `"width": 5`, "stack.width", "no-unit"},
		{"load", `"width": "5 ft", `, ``, "stack.width", "missing"},
		{"load", `"heights": ["20 in", "21 in"],`, ``, "stack.heights", "one-of"},
		{"load", `"positions"`, `"grid": [["1 ft"]], "positions"`, "stack.heights", "one-of"},
		{"load", `"6 ft"]`, `"9 ft"]`, "stack.positions[1]", "out-of-range"},
		{"load", `"ridge"`, `"cone"`, "stack.crown.shape", "not-one-of"},
		{"load", `"crest": ["10 in", "12 in"]`, `"crest": []`, "stack.crown.crest", "missing"},
		{"load", `"crown": {`, `"crown": {"high": 1, `, "stack.crown.high", "unknown-field"},
		{"load", `"crown": {"shape": "ridge", "crest": ["10 in", "12 in"]}`, `"crown": null`, "stack.crown", "wrong-type"},
		{"load", `"count": 2`, `"count": 21`, "stack.wells[0].count", "out-of-range"},
		{"load", `"count": 2`, `"count": -1`, "stack.wells[0].count", "out-of-range"},
		{"load", `"length": "30 in", "width": "8 in"`, `"length": "8 ft", "width": "4 ft"`, "stack.wells", "too-large"},
		{"load", `"format": 1`, `"format": 1, "raised": "21 in"`, "stack.heights[0]", "not-above-raised"},
		{"load", `"nominal": "16 in"`, `"window": {"width": "1 ft", "height": "1 ft", "pieces": 9}`, "stack.window", "out-of-place"},
		{"load", `"20 in"`, `"21 ft"`, "stack.heights[0]", "too-large"},
		{"grid", `["34 in", "35 in"]`, `["34 in"]`, "stack.grid[1]", "missing"},
		{"grid", `["34 in", "35 in"]`, `["34 in", "35 in", "36 in"]`, "stack.grid[1]", "mismatch"},
		{"grid", `, ["34 in", "35 in"], ["29 in", "30 in"]`, ``, "stack.grid", "missing"},
		{"grid", `"grid"`, `"crown": {"crest": ["1 in"]}, "grid"`, "stack.crown", "out-of-place"},
		{"calibrated", `"volume": "64 cu ft", `, ``, "stack.calibrated.volume", "one-of"},
		{"calibrated", `"volume": "64 cu ft"`, `"volume": "64"`, "stack.calibrated.volume", "no-unit"},
		{"calibrated", `2026-05-01`, `2026-02-30`, "stack.calibrated.on", "not-a-date"},
		{"calibrated", `"by": "the owner", `, ``, "stack.calibrated.by", "missing"},
		{"calibrated", `"calibrated"`, `"crown": {"crest": ["9 in"]}, "calibrated"`, "stack.length", "missing"},
		{"calibrated", `"180 cu ft"`, `"0 cu ft"`, "loose_cord", "not-positive"},
		{"taped", `"format": 1`, `"format": 1, "raised": "1 in"`, "raised", "out-of-place"},
		{"taped", `"pieces": 27`, `"pieces": 0`, "stack.window.pieces", "out-of-range"},
		{"taped", `"box": {`, `"volume": "64 cu ft", "box": {`, "stack.calibrated.volume", "one-of"},
		{"heap", `"rounded"`, `"pile"`, "stack.shape", "not-one-of"},
		{"heap", `"format": 1`, `"format": 1, "raised": "4 ft"`, "stack.height", "not-above-raised"},
		{"bin", `"container"`, `"thrown"`, "stack.arrangement", "not-one-of"},
		{"bin", `"44 in"`, `"3 in"`, "stack.heights[1]", "not-above-raised"},
		{"round", `"diameters"`, `"circumference": "22 ft", "diameters"`, "stack.circumference", "both"},
		{"round", `"diameters": ["7 ft", "82 in"], `, ``, "stack.diameters", "missing"},
		{"boxed", `"boxed"`, `"loose"`, "stack.method", "not-one-of"},
		{"boxed", `["1 in",`, `[`, "stack.sections[0].headspace", "too-few"},
		{"boxed", `"inside": "24 in"`, `"inside": "1 in"`, "stack.sections[0].headspace", "no-wood"},
		{"boxed", `"format": 1`, `"format": 1, "raised": "1 in"`, "raised", "out-of-place"},
		{"crosshatched", `"lengths": ["2 ft",`, `"lengths": [`, "stack.lengths", "too-few"},
		{"crosshatched", `"heights"`, `"ends": [], "sections": [{}], "heights"`, "stack.sections", "out-of-place"},
		{"bundle", `118.25`, `118.3`, "stack.ends[0].squares", "not-quarters"},
		{"bundle", `118.25`, `"118.25"`, "stack.ends[0].squares", "wrong-type"},
		{"bundle", `118.25`, `1e400`, "stack.ends[0].squares", "wrong-type"},
		{"bundle", `, {"squares": 121, "edge": "1 in"}`, ``, "stack.ends", "missing"},
		{"dried", `"percent": 18, `, ``, "moisture.percent", "missing"},
		{"dried", `"basis": "dry"`, `"basis": "both"`, "moisture.basis", "not-one-of"},
		{"dried", `"percent": 18, "basis": "dry"`, `"percent": 90, "basis": "wet"`, "moisture.percent", "out-of-range"},
		{"dried", `"pieces": 6`, `"pieces": 0`, "moisture.pieces", "out-of-range"},
		{"dried", `, "method": "meter"`, ``, "moisture.method", "missing"},
		{"dried", `0.56`, `0.56, "percent": 13`, "shrinkage", "one-of"},
		{"dried", `0.56`, `5.6`, "shrinkage.basic_gravity", "out-of-range"},
		{"dried", `"sold_condition": "green"`, `"sold_condition": "wet"`, "sold_condition", "not-one-of"},
		{"dried", `"back": ["47 in"]`, `"back": ["47 in", "46 in"]`, "stack.rows[0].back", "mismatch"},
		{"dried", `"vertical"`, `"level"`, "stack.rows[0].slope.heights", "not-one-of"},
		{"dried", `"vertical"`, `"perpendicular"`, "stack.rows[0].slope", "out-of-place"},
		{"dried", `, "run": "8 ft"`, ``, "stack.rows[0].slope.run", "missing"},
		{"dried", `"rise": "1 ft"`, `"rise": "9 ft"`, "stack.rows[0].slope.rise", "too-large"},
		{"dried", `"rise": "1 ft", "run": "8 ft"`, `"degrees": 46`, "stack.rows[0].slope.degrees", "out-of-range"},
		{"dried", `, "rise": "1 ft", "run": "8 ft"`, ``, "stack.rows[0].slope", "one-of"},
	} {
		doc := kindTallies()[c.kind]
		require.Contains(t, doc, c.from)
		_, err := ParseTally([]byte(strings.Replace(doc, c.from, c.to, 1)))
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, "%s: %s", c.kind, c.to)
		assert.Equal(t, c.field+" "+c.code, faults[0].Field+" "+faults[0].Code, "%s: %s", c.kind, c.to)
	}
}

func FuzzParseKinds(f *testing.F) {
	for _, doc := range kindTallies() {
		f.Add([]byte(doc))
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		if tally, err := ParseTally(doc); err == nil {
			mustBeSound(t, tally)
		}
	})
}
