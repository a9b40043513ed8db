package stack

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

const fullTally = `{"format": 1, "sold": "1 cord", "by": "buyer", "apart": "1/8 cord", "look": 2,
 "tape": "1/8 in", "top": "straightedge", "stowed": "checked", "raised": "4 in", "condition": "green",
 "stack": {"kind": "rows", "pieces": ["16 in", "15 1/2 in", "40 cm"],
  "rows": [
   {"length": "8 ft", "heights": ["48 in", "47 in", "48 1/2 in"], "positions": ["1 ft", "4 ft", "7 ft"],
    "ends": [{"kind": "shouldered", "over": "10 in", "drop": "8 in"}, {"kind": "tapered", "over": "10 in"}],
    "voids": [{"width": "12 in", "height": "6 in"}]},
   {"length": "2.51 m", "heights": ["1.2 m"], "nominal": "18 in",
    "ends": [{"kind": "cribbed", "over": "18 in", "share": 0.75}, {"kind": "cribbed", "over": "18 in"}]}]}}`

// smallTally holds what a tally cannot do without.
const smallTally = `{"format": 1, "stack": {"kind": "rows", "nominal": "16 in", "rows": [{"length": "8 ft", "heights": ["4 ft"]}]}}`

func TestParseTallyFull(t *testing.T) {
	got, err := ParseTally([]byte(fullTally))
	require.NoError(t, err)
	want := Tally{
		Sold: &measure.Said{Words: "1 cord", Quantity: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, Cord: measure.Cord}, By: Buyer,
		Apart: Apart{Answered: true, Quantity: measure.Quantity{Volume: measure.Cord / 8, Basis: measure.Ranked}}, Look: 2,
		Tape: measure.Inch / 8, Top: Straightedge, Stowed: StowingChecked, Raised: 4 * measure.Inch, Condition: "green",
		Stack: Rows{
			Pieces: Pieces{Sample: []measure.Length{16 * measure.Inch, 31 * measure.Inch / 2, 40 * measure.Centimetre}},
			Rows: []Row{
				{
					Length: 8 * measure.Foot, Heights: []measure.Length{48 * measure.Inch, 47 * measure.Inch, 97 * measure.Inch / 2}, Positions: []measure.Length{measure.Foot, 4 * measure.Foot, 7 * measure.Foot},
					Ends:  [2]End{{Kind: Shouldered, Over: 10 * measure.Inch, Drop: 8 * measure.Inch}, {Kind: Tapered, Over: 10 * measure.Inch}},
					Voids: []Void{{12 * measure.Inch, 6 * measure.Inch}},
				},
				{
					Length: 251 * measure.Centimetre, Heights: []measure.Length{120 * measure.Centimetre}, Pieces: Pieces{Nominal: 18 * measure.Inch},
					Ends: [2]End{{Kind: Cribbed, Over: 18 * measure.Inch, Share: 0.75, Judged: true}, {Kind: Cribbed, Over: 18 * measure.Inch, Share: 0.80}},
				},
			},
		},
	}
	assert.Equal(t, want, got)
}

func TestParseTallyDefaults(t *testing.T) {
	got, err := ParseTally([]byte("\n " + smallTally + "\n"))
	require.NoError(t, err)
	want := Tally{
		Look: 1, Tape: measure.Inch / 4, Top: ByEye,
		Stack: Rows{
			Pieces: Pieces{Nominal: 16 * measure.Inch},
			Rows:   []Row{{Length: 8 * measure.Foot, Heights: []measure.Length{4 * measure.Foot}, Ends: unsaid()}},
		},
	}
	assert.Equal(t, want, got)
}

// What format 2 has besides is read.
func TestParseTallyHabits(t *testing.T) {
	got, err := ParseTally([]byte(second(`"rounded": "down", "tape_made": "cloth", "stowed": "counted", "gaps": {"count": 0, "pieces": 80}, "confirmed": ["a key"]`)))
	require.NoError(t, err)
	assert.Equal(t, RoundDown, got.Rounded)
	assert.Equal(t, ClothTape, got.TapeMade)
	assert.Equal(t, StowingCounted, got.Stowed)
	assert.Equal(t, Gaps{0, 80}, got.Gaps)
	assert.Equal(t, []string{"a key"}, got.Confirmed)
}

// An end that is said to be upright is known to be; one that is left out, or said not
// to have been looked at, is taken for it.
func TestParseTallyEndsSaid(t *testing.T) {
	for ends, want := range map[string][2]End{
		`{"kind": "upright"}, {"kind": "upright"}`:                  upright(),
		`{"kind": "not said"}, {"kind": "tapered", "over": "9 in"}`: {{Kind: Upright, Unsaid: true}, {Kind: Tapered, Over: 9 * measure.Inch}},
		`{"kind": "upright"}`:                                       {{Kind: Upright}, {Kind: Upright, Unsaid: true}},
	} {
		got, err := ParseTally([]byte(inRow(`"ends": [` + ends + `]`)))
		require.NoError(t, err)
		assert.Equal(t, want, got.Stack.(Rows).Rows[0].Ends, ends)
	}
}

func TestParseTallyApart(t *testing.T) {
	for said, want := range map[string]Apart{"": {}, "none": {Answered: true}, " None ": {Answered: true}} {
		got, err := ParseTally([]byte(changed(`"format": 1`, `"format": 1, "sold": "1 cord", "apart": "`+said+`"`)))
		require.NoError(t, err)
		assert.Equal(t, want, got.Apart, said)
	}
}

// changed is smallTally with one part put in place of another.
func changed(old, new string) string { return strings.Replace(smallTally, old, new, 1) }

// with is smallTally with more fields at the top.
func with(fields string) string { return changed(`"format": 1`, `"format": 1, `+fields) }

// second is smallTally in format 2 with more fields at the top.
func second(fields string) string { return changed(`"format": 1`, `"format": 2, `+fields) }

// inRow is smallTally with more fields in its row.
func inRow(fields string) string { return changed(`["4 ft"]`, `["4 ft"], `+fields) }

// badTallies are refused at the given path and with the given code.
var badTallies = []struct{ why, doc, path, code string }{
	{"nothing", ``, "", "empty"},
	{"only spaces", `  `, "", "empty"},
	{"no JSON", `cord`, "", "bad-json"},
	{"cut off", `{"format": 1`, "", "bad-json"},
	{"a comma too many", changed(`"format": 1,`, `"format": 1,,`), "", "bad-json"},
	{"more after the end", smallTally + `{}`, "", "bad-json"},
	{"a bracket after the end", smallTally + `]`, "", "bad-json"},
	{"not UTF-8", with("\"condition\": \"\xff\""), "", "bad-text"},
	{"deep", strings.Repeat("[", 100_000) + strings.Repeat("]", 100_000), "", "too-deep"},
	{"a list", `[]`, "", "wrong-type"},
	{"null", `null`, "", "wrong-type"},
	{"a bare text", `"1 cord"`, "", "wrong-type"},
	{"no format", `{"stack": {"kind": "rows", "nominal": "16 in", "rows": [{"length": "8 ft", "heights": ["4 ft"]}]}}`, "format", "missing"},
	{"another format", changed(`"format": 1`, `"format": 3`), "format", "wrong-format"},
	{"format in quotes", changed(`"format": 1`, `"format": "1"`), "format", "wrong-type"},
	{"format with decimals", changed(`"format": 1`, `"format": 1.0`), "format", "wrong-type"},
	{"format null", changed(`"format": 1`, `"format": null`), "format", "wrong-type"},
	{"unknown field", with(`"colour": "brown"`), "colour", "unknown-field"},
	{"another case", with(`"Look": 1`), "Look", "unknown-field"},
	{"a field twice", with(`"look": 1, "look": 1`), "look", "duplicate-field"},
	{"a field twice, escaped", with(`"look": 1, "\u006cook": 1`), "look", "duplicate-field"},
	{"sold in no unit", with(`"sold": "1"`), "sold", "no-unit"},
	{"sold as a bare number", with(`"sold": 1`), "sold", "no-unit"},
	{"sold null", with(`"sold": null`), "sold", "wrong-type"},
	{"sold without piece length", with(`"sold": "a face cord"`), "sold", "needs-piece-length"},
	{"by nobody known", with(`"by": "driver"`), "by", "not-one-of"},
	{"by in another case", with(`"by": "Buyer"`), "by", "not-one-of"},
	{"apart not understood", with(`"sold": "1 cord", "apart": "some"`), "apart", "not-a-number"},
	{"apart of nothing sold", with(`"apart": "1/4 cord"`), "apart", "needs-sold"},
	{"apart on another basis", with(`"sold": "1 cord", "apart": "10 cu ft loose"`), "apart", "wrong-basis"},
	{"apart more than sold", with(`"sold": "1 cord", "apart": "128.000001 cu ft"`), "apart", "more-than-sold"},
	{"look 0", with(`"look": 0`), "look", "out-of-range"},
	{"look below 0", with(`"look": -1`), "look", "out-of-range"},
	{"look absurd", with(`"look": 1001`), "look", "out-of-range"},
	{"look in quotes", with(`"look": "1"`), "look", "wrong-type"},
	{"look over any int", with(`"look": 99999999999999999999`), "look", "wrong-type"},
	{"tape of nothing", with(`"tape": "0 in"`), "tape", "not-positive"},
	{"format 1 with rounding", with(`"rounded": "nearest"`), "rounded", "needs-format"},
	{"format 1 with a tape of steel", with(`"tape_made": "steel"`), "tape_made", "needs-format"},
	{"format 1 with counted gaps", with(`"stowed": "counted", "gaps": {"count": 1, "pieces": 40}`), "stowed", "needs-format"},
	{"rounded up", second(`"rounded": "up"`), "rounded", "not-one-of"},
	{"a tape of string", second(`"tape_made": "string"`), "tape_made", "not-one-of"},
	{"counted without gaps", second(`"stowed": "counted"`), "gaps", "missing"},
	{"gaps without counting", second(`"stowed": "checked", "gaps": {"count": 1, "pieces": 40}`), "gaps", "out-of-place"},
	{"gaps without their number", second(`"stowed": "counted", "gaps": {"pieces": 40}`), "gaps.count", "missing"},
	{"half a gap", second(`"stowed": "counted", "gaps": {"count": 0.5, "pieces": 40}`), "gaps.count", "wrong-type"},
	{"gaps below nothing", second(`"stowed": "counted", "gaps": {"count": -1, "pieces": 40}`), "gaps.count", "out-of-range"},
	{"gaps among no pieces", second(`"stowed": "counted", "gaps": {"count": 0, "pieces": 0}`), "gaps.pieces", "out-of-range"},
	{"confirmed that is no list", second(`"confirmed": "all"`), "confirmed", "wrong-type"},
	{"tape absurd", with(`"tape": "13 in"`), "tape", "too-large"},
	{"top unknown", with(`"top": "guess"`), "top", "not-one-of"},
	{"stowed unknown", with(`"stowed": "yes"`), "stowed", "not-one-of"},
	{"stowed true", with(`"stowed": true`), "stowed", "wrong-type"},
	{"raised below nothing", with(`"raised": "-4 in"`), "raised", "negative"},
	{"raised to the top", with(`"raised": "48 in"`), "stack.rows[0].heights[0]", "not-above-raised"},
	{"condition with a control character", with(`"condition": "green\u0007"`), "condition", "bad-text"},
	{"condition too long", with(`"condition": "` + strings.Repeat("g", 501) + `"`), "condition", "too-long"},
	{"no stack", `{"format": 1}`, "stack", "missing"},
	{"stack a list", `{"format": 1, "stack": []}`, "stack", "wrong-type"},
	{"stack null", `{"format": 1, "stack": null}`, "stack", "wrong-type"},
	{"kind missing", changed(`"kind": "rows", `, ``), "stack.kind", "missing"},
	{"kind unknown", changed(`"kind": "rows"`, `"kind": "cloud"`), "stack.kind", "unknown-kind"},
	{"kind a number", changed(`"kind": "rows"`, `"kind": 1`), "stack.kind", "wrong-type"},
	{"unknown field in the stack", changed(`"kind": "rows"`, `"kind": "rows", "x": 1`), "stack.x", "unknown-field"},
	{"kind twice", changed(`"kind": "rows"`, `"kind": "rows", "kind": "rows"`), "stack.kind", "duplicate-field"},
	{"no rows", `{"format": 1, "stack": {"kind": "rows", "nominal": "16 in"}}`, "stack.rows", "missing"},
	{"rows an object", `{"format": 1, "stack": {"kind": "rows", "nominal": "16 in", "rows": {}}}`, "stack.rows", "wrong-type"},
	{"a row that is text", changed(`{"length": "8 ft", "heights": ["4 ft"]}`, `"8 ft"`), "stack.rows[0]", "wrong-type"},
	{"unknown field in a row", inRow(`"depth": "16 in"`), "stack.rows[0].depth", "unknown-field"},
	{"a field of a row twice", inRow(`"length": "8 ft"`), "stack.rows[0].length", "duplicate-field"},
	{"no length", changed(`"length": "8 ft", `, ``), "stack.rows[0].length", "missing"},
	{"length 0", changed(`"8 ft"`, `"0 ft"`), "stack.rows[0].length", "not-positive"},
	{"length a bare number", changed(`"8 ft"`, `96`), "stack.rows[0].length", "no-unit"},
	{"length with an exponent", changed(`"8 ft"`, `1e309`), "stack.rows[0].length", "exponent"},
	{"length an object", changed(`"8 ft"`, `{}`), "stack.rows[0].length", "wrong-type"},
	{"no heights", changed(`, "heights": ["4 ft"]`, ``), "stack.rows[0].heights", "missing"},
	{"heights empty", changed(`["4 ft"]`, `[]`), "stack.rows[0].heights", "missing"},
	{"heights null", changed(`["4 ft"]`, `null`), "stack.rows[0].heights", "wrong-type"},
	{"a height 0", changed(`["4 ft"]`, `["4 ft", "0 in"]`), "stack.rows[0].heights[1]", "not-positive"},
	{"a height empty", changed(`["4 ft"]`, `["4 ft", ""]`), "stack.rows[0].heights[1]", "empty"},
	{"a height null", changed(`["4 ft"]`, `[null]`), "stack.rows[0].heights[0]", "wrong-type"},
	{"fewer positions than heights", changed(`["4 ft"]`, `["4 ft", "4 ft"], "positions": ["1 ft"]`), "stack.rows[0].positions", "mismatch"},
	{"positions going back", changed(`["4 ft"]`, `["4 ft", "4 ft"], "positions": ["2 ft", "2 ft"]`), "stack.rows[0].positions[1]", "out-of-order"},
	{"a position past the end", inRow(`"positions": ["97 in"]`), "stack.rows[0].positions[0]", "out-of-range"},
	{"three ends", inRow(`"ends": [{"kind": "upright"}, {"kind": "upright"}, {"kind": "upright"}]`), "stack.rows[0].ends", "too-many"},
	{"an end without a kind", inRow(`"ends": [{}]`), "stack.rows[0].ends[0].kind", "not-one-of"},
	{"an end of no known kind", inRow(`"ends": [{"kind": "round"}]`), "stack.rows[0].ends[0].kind", "not-one-of"},
	{"an end null", inRow(`"ends": [null]`), "stack.rows[0].ends[0]", "wrong-type"},
	{"upright over something", inRow(`"ends": [{"kind": "upright", "over": "1 in"}]`), "stack.rows[0].ends[0].over", "out-of-place"},
	{"shoulder without a drop", inRow(`"ends": [{"kind": "shouldered", "over": "10 in"}]`), "stack.rows[0].ends[0].drop", "missing"},
	{"shoulder without a run", inRow(`"ends": [{"kind": "upright"}, {"kind": "shouldered", "drop": "10 in"}]`), "stack.rows[0].ends[1].over", "missing"},
	{"shoulder longer than the row", inRow(`"ends": [{"kind": "shouldered", "over": "97 in", "drop": "1 in"}]`), "stack.rows[0].ends[0].over", "too-large"},
	{"shoulders longer than the row", inRow(`"ends": [{"kind": "shouldered", "over": "49 in", "drop": "1 in"}, {"kind": "shouldered", "over": "48 in", "drop": "1 in"}]`), "stack.rows[0].ends[1].over", "too-large"},
	{"drop deeper than the height", inRow(`"ends": [{"kind": "shouldered", "over": "10 in", "drop": "49 in"}]`), "stack.rows[0].ends[0].drop", "too-large"},
	{"taper without a run", inRow(`"ends": [{"kind": "tapered"}]`), "stack.rows[0].ends[0].over", "missing"},
	{"taper with a drop", inRow(`"ends": [{"kind": "tapered", "over": "10 in", "drop": "1 in"}]`), "stack.rows[0].ends[0].drop", "out-of-place"},
	{"taper with a share", inRow(`"ends": [{"kind": "tapered", "over": "10 in", "share": 0.5}]`), "stack.rows[0].ends[0].share", "out-of-place"},
	{"crib share over 1", inRow(`"ends": [{"kind": "cribbed", "over": "10 in", "share": 1.01}]`), "stack.rows[0].ends[0].share", "out-of-range"},
	{"crib share below 0", inRow(`"ends": [{"kind": "cribbed", "over": "10 in", "share": -0.01}]`), "stack.rows[0].ends[0].share", "out-of-range"},
	{"crib share in quotes", inRow(`"ends": [{"kind": "cribbed", "over": "10 in", "share": "0.8"}]`), "stack.rows[0].ends[0].share", "wrong-type"},
	{"crib share null", inRow(`"ends": [{"kind": "cribbed", "over": "10 in", "share": null}]`), "stack.rows[0].ends[0].share", "wrong-type"},
	{"void without a height", inRow(`"voids": [{"width": "1 in"}]`), "stack.rows[0].voids[0].height", "empty"},
	{"void wider than the row", inRow(`"voids": [{"width": "97 in", "height": "1 in"}]`), "stack.rows[0].voids[0].width", "too-large"},
	{"voids as large as the face", inRow(`"voids": [{"width": "8 ft", "height": "4 ft"}]`), "stack.rows[0].voids", "more-than-face"},
	{"void and shoulder as large as the face", inRow(`"ends": [{"kind": "shouldered", "over": "8 ft", "drop": "4 ft"}], "voids": [{"width": "8 ft", "height": "2 ft"}]`), "stack.rows[0].voids", "more-than-face"},
	{"no piece length", changed(`"nominal": "16 in", `, ``), "stack.pieces", "missing"},
	{"pieces and nominal", changed(`"nominal": "16 in"`, `"nominal": "16 in", "pieces": ["16 in"]`), "stack.nominal", "both"},
	{"a row's pieces and nominal", inRow(`"nominal": "16 in", "pieces": ["16 in"]`), "stack.rows[0].nominal", "both"},
	{"nominal of half an inch", changed(`"nominal": "16 in"`, `"nominal": "1/2 in"`), "stack.nominal", "too-small"},
	{"a piece 0", changed(`"nominal": "16 in"`, `"pieces": ["16 in", "0 in"]`), "stack.pieces[1]", "not-positive"},
}

func TestParseTallyBad(t *testing.T) {
	for _, c := range badTallies {
		t.Run(c.why, func(t *testing.T) {
			_, err := ParseTally([]byte(c.doc))
			var faults measure.InputErrors
			require.ErrorAs(t, err, &faults)
			assert.Equal(t, c.path, faults[0].Field, "%v", err)
			assert.Equal(t, c.code, faults[0].Code, "%v", err)
			assert.NotEmpty(t, faults[0].Reason.Key)
		})
	}
}

// list writes n JSON elements alike.
func list(n int, element string) string {
	return "[" + strings.TrimSuffix(strings.Repeat(element+",", n), ",") + "]"
}

func TestParseTallyLimits(t *testing.T) {
	row := `{"length": "8 ft", "heights": ["4 ft"]}`
	for _, c := range []struct{ what, atLimit, over, path, code string }{
		{"row length", changed(`"8 ft"`, `"300 ft"`), changed(`"8 ft"`, `"300 ft 1/64 in"`), "stack.rows[0].length", "too-large"},
		{"height", changed(`"4 ft"`, `"20 ft"`), changed(`"4 ft"`, `"20 ft 1/64 in"`), "stack.rows[0].heights[0]", "too-large"},
		{"raised", strings.Replace(with(`"raised": "19 ft"`), `"4 ft"`, `"20 ft"`, 1), with(`"raised": "20 ft 1/64 in"`), "raised", "too-large"},
		{"piece", changed(`"nominal": "16 in"`, `"pieces": ["8 ft"]`), changed(`"nominal": "16 in"`, `"pieces": ["8 ft 1/64 in"]`), "stack.pieces[0]", "too-large"},
		{"nominal", changed(`"16 in"`, `"8 ft"`), changed(`"16 in"`, `"8 ft 1/64 in"`), "stack.nominal", "too-large"},
		{"rows", changed("["+row+"]", list(60, row)), changed("["+row+"]", list(61, row)), "stack.rows", "too-many"},
		{"stations", changed(`["4 ft"]`, list(200, `"4 ft"`)), changed(`["4 ft"]`, list(201, `"4 ft"`)), "stack.rows[0].heights", "too-many"},
		{"pieces", changed(`"nominal": "16 in"`, `"pieces": `+list(500, `"16 in"`)), changed(`"nominal": "16 in"`, `"pieces": `+list(501, `"16 in"`)), "stack.pieces", "too-many"},
		{
			"pieces in all", changed(`"nominal": "16 in"`, `"pieces": `+list(499, `"16 in"`)),
			strings.Replace(inRow(`"pieces": ["16 in", "16 in"]`), `"nominal": "16 in"`, `"pieces": `+list(499, `"16 in"`), 1), "stack.rows[0].pieces", "too-many",
		},
		{"voids", inRow(`"voids": ` + list(200, `{"width": "1 in", "height": "1 in"}`)), inRow(`"voids": ` + list(201, `{"width": "1 in", "height": "1 in"}`)), "stack.rows[0].voids", "too-many"},
		{"text", with(`"condition": "` + strings.Repeat("½", 500) + `"`), with(`"condition": "` + strings.Repeat("½", 501) + `"`), "condition", "too-long"},
		{"sold", with(`"sold": "10000 cords"`), with(`"sold": "1280000.000001 cu ft"`), "sold", "too-large"},
		{"apart", with(`"sold": "1 cord", "apart": "128 cu ft"`), with(`"sold": "1 cord", "apart": "128.000001 cu ft"`), "apart", "more-than-sold"},
		{"bytes", padded(256_000), padded(256_001), "", "too-large"},
		{"look", with(`"look": 1000`), with(`"look": 1001`), "look", "out-of-range"},
		{"void width", inRow(`"voids": [{"width": "96 in", "height": "1 in"}]`), inRow(`"voids": [{"width": "96 1/64 in", "height": "1 in"}]`), "stack.rows[0].voids[0].width", "too-large"},
		{"last position", inRow(`"positions": ["8 ft"]`), inRow(`"positions": ["96 1/64 in"]`), "stack.rows[0].positions[0]", "out-of-range"},
	} {
		t.Run(c.what, func(t *testing.T) {
			_, err := ParseTally([]byte(c.atLimit))
			require.NoError(t, err)
			_, err = ParseTally([]byte(c.over))
			var faults measure.InputErrors
			require.ErrorAs(t, err, &faults)
			assert.Equal(t, c.path, faults[0].Field)
			assert.Equal(t, c.code, faults[0].Code)
		})
	}
}

func TestParseTallyNesting(t *testing.T) {
	for brackets, want := range map[string]string{
		strings.Repeat("[", 14) + strings.Repeat("]", 14): "wrong-type", // 16 with the two around it
		strings.Repeat("[", 15) + strings.Repeat("]", 15): "too-deep",
		`"\"` + strings.Repeat("[", 99) + `"`:             "not-a-number", // in text they do not nest
	} {
		_, err := ParseTally([]byte(changed(`"16 in"`, brackets)))
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults)
		assert.Equal(t, want, faults[0].Code, brackets)
	}
}

// padded is smallTally with spaces inside, n bytes long.
func padded(n int) string {
	return changed(`"stack"`, strings.Repeat(" ", n-len(smallTally))+`"stack"`)
}

func TestParseTallyTellsAllFaultsInReadingOrder(t *testing.T) {
	doc := `{"format": 1, "stack": {"rows": [
	 {"heights": ["4 ft", "48", "-1 in"], "length": "1,234 in", "ends": [{"kind": "upright"}, {"kind": "tapered", "over": "10"}]},
	 {"length": "8 ft"}], "pieces": ["16 in", "15", "1e3 in"], "kind": "rows"},
	 "colour": "brown", "sold": "a cord or so", "by": "me"}`
	_, err := ParseTally([]byte(doc))
	var faults measure.InputErrors
	require.ErrorAs(t, err, &faults)
	var paths []string
	for _, fault := range faults {
		paths = append(paths, fault.Field+" "+fault.Code)
	}
	assert.Equal(t, []string{
		"stack.rows[0].heights[1] no-unit", "stack.rows[0].heights[2] negative", "stack.rows[0].length ambiguous",
		"stack.rows[0].ends[1].over no-unit", "stack.rows[1].heights missing",
		"stack.pieces[1] no-unit", "stack.pieces[2] exponent", "colour unknown-field", "sold trailing", "by not-one-of",
	}, paths)
	assert.EqualError(t, faults[0], `stack.rows[0].heights[1]: read “48”: “48” has no unit; accepted: the unit after it: 48 ft, 48 in or 48 cm`)
	assert.Equal(t, len(paths), strings.Count(err.Error(), "\n")+1)
}

func TestParseTallyUnknownKindNamesTheKnown(t *testing.T) {
	_, err := ParseTally([]byte(changed(`"kind": "rows"`, `"kind": "cloud"`)))
	require.Error(t, err)
	for _, k := range kinds() {
		assert.ErrorContains(t, err, k.name)
	}
}

// A tally written from the document types is read back: names cannot drift apart.
func TestParseTallyReadsWhatDocumentWrites(t *testing.T) {
	var d Document
	require.NoError(t, json.Unmarshal([]byte(fullTally), &d))
	var rows RowsDocument
	require.NoError(t, json.Unmarshal(d.Stack, &rows))
	var err error
	d.Stack, err = json.Marshal(rows)
	require.NoError(t, err)
	again, err := json.Marshal(d)
	require.NoError(t, err)
	want, err := ParseTally([]byte(fullTally))
	require.NoError(t, err)
	got, err := ParseTally(again)
	require.NoError(t, err)
	assert.Equal(t, want, got)
}

func TestParseTallyFaultsStaySmall(t *testing.T) {
	_, err := ParseTally([]byte(with(`"by": "` + strings.Repeat("x", 200_000) + `"`)))
	require.Error(t, err)
	assert.Less(t, len(err.Error()), 500)
}

func TestParseTallyListsNotMoreFaultsThanAnybodyReads(t *testing.T) {
	var fields strings.Builder
	for i := range 20_000 {
		fields.WriteString(`"x` + strconv.Itoa(i) + `":1,`)
	}
	_, err := ParseTally([]byte(with(fields.String() + `"by": "buyer"`)))
	var faults measure.InputErrors
	require.ErrorAs(t, err, &faults)
	require.Len(t, faults, 201)
	assert.Equal(t, "x0", faults[0].Field)
	assert.EqualError(t, faults[200], "there are 19800 more faults")
}

func FuzzParseTally(f *testing.F) {
	f.Add([]byte(fullTally))
	for _, c := range badTallies {
		if len(c.doc) < 5_000 {
			f.Add([]byte(c.doc))
		}
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		tally, err := ParseTally(doc)
		if err == nil {
			mustBeSound(t, tally)
			return
		}
		var faults measure.InputErrors
		if !errors.As(err, &faults) || len(faults) == 0 {
			t.Fatalf("%#v is not a list of faults", err)
		}
		for _, fault := range faults {
			if fault.Code == "" || fault.Reason.Key == "" {
				t.Fatalf("%#v does not say why", fault)
			}
		}
	})
}

// mustBeSound fails where a parsed tally is not one that can be measured.
func mustBeSound(t *testing.T, tally Tally) {
	t.Helper()
	if _, err := Measure(tally); err != nil {
		t.Fatalf("the tally was parsed, and measuring says: %v", err)
	}
}

// mustBeInputError fails where err is not an *InputError that says why.
func mustBeInputError(t *testing.T, err error) {
	t.Helper()
	var fault *measure.InputError
	require.ErrorAs(t, err, &fault)
	require.True(t, fault.Code != "" && fault.Reason.Key != "" && fault.Accepts.Key != "", "%#v isn't an error a person can act on", fault)
}
