package lot

import (
	"encoding/json"
	"errors"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

const goodJSON = `{"format": 1, "labelled": "0.75 cu ft", "lot_size": 30, "seed": 12345, "limit": "0.05 cu ft",
 "packages": [{"number": 3, "volume": "0.74 cu ft"}, {"number": 7, "length": "16 in", "area": "80 1/4 sq in"}]}`

const goodCSV = "# format: 1\n# labelled: 0.75 cu ft\n# lot size: 30\n# seed: 12345\n# limit: 0.05 cu ft\nnumber,volume\n3,0.74 cu ft\n7,1284 cu in\n"

func TestParseJSON(t *testing.T) {
	l, err := ParseJSON([]byte(goodJSON))
	require.NoError(t, err)
	seed, limit := uint64(12345), measure.Volume(1_415_842_330) // 0.05 ft³ is 1 415 842 329.6 nL
	assert.Equal(t, Lot{Labelled: 1296 * measure.CubicInch, LotSize: 30, Seed: &seed, Limit: &limit, Packages: []Package{
		{Number: 3, Volume: 20_954_466_478}, /* 20 954 466 478.08 */
		{Number: 7, Volume: 1284 * measure.CubicInch, Length: 16 * measure.Inch, Area: 80*SquareInch + SquareInch/4},
	}}, l)
}

func TestParseCSVIsTheSameLot(t *testing.T) {
	want, err := ParseJSON([]byte(goodJSON))
	require.NoError(t, err)
	want.Packages[1].Length, want.Packages[1].Area = 0, 0
	for name, text := range map[string]string{
		"as written":             goodCSV,
		"from a spreadsheet":     "\uFEFF" + strings.ReplaceAll(goodCSV, "\n", "\r\n"),
		"quotes and blanks":      strings.Replace(goodCSV, "3,0.74 cu ft", `"3", "0,74 cu ft"`, 1),
		"empty lines":            strings.ReplaceAll(goodCSV, "\n", "\n\n"),
		"no line end at the end": strings.TrimSpace(goodCSV),
		"head in another order":  "#seed:12345\n#LIMIT: 0.05 cu ft\n# lot_size: 30\n# labelled: 0.75 cu ft\n# format: 1\nnumber,volume\n3,0.74 cu ft\n7,1284 cu in",
	} {
		got, err := ParseCSV(strings.NewReader(text))
		require.NoError(t, err, name)
		assert.Equal(t, want, got, name)
	}
	l, err := ParseCSV(strings.NewReader("# format: 1\n# labelled: 20 L\n# lot size: 2\nnumber,length,area\n1,40 cm,500 cm²\n"))
	require.NoError(t, err)
	assert.Equal(t, 20*measure.Litre, l.Packages[0].Volume)
	assert.Nil(t, l.Seed)
	assert.Nil(t, l.Limit)
}

// lotWith is goodJSON with one piece of it written otherwise.
func lotWith(old, other string) string {
	if !strings.Contains(goodJSON, old) {
		panic("nothing to replace: " + old)
	}
	return strings.Replace(goodJSON, old, other, 1)
}

func csvWith(old, other string) string {
	if !strings.Contains(goodCSV, old) {
		panic("nothing to replace: " + old)
	}
	return strings.Replace(goodCSV, old, other, 1)
}

// A bad row is text that must be refused: with which code, where, and why.
type badRow struct{ text, code, field, why string }

func badJSON() []badRow {
	return []badRow{
		{"", "empty", "", "nothing"},
		{" \n ", "empty", "", "blanks"},
		{"30 bundles", "bad-json", "", "no JSON"},
		{goodJSON + "{}", "bad-json", "", "a second document after the first"},
		{goodJSON[:40], "bad-json", "", "cut off"},
		{"\xff{}", "bad-text", "", "no UTF-8"},
		{strings.Repeat(" ", 10) + `{"format":1,"labelled":"` + strings.Repeat("9", MaxBytes) + `"}`, "too-large", "", "over the size that is read"},
		{"[]", "wrong-type", "", "a list instead of an object"},
		{"{}", "missing", "format", "an empty object"},
		{lotWith(`"format": 1`, `"format": 2`), "wrong-format", "format", "another format"},
		{lotWith(`"format": 1`, `"format": "1"`), "wrong-type", "format", "a format in quotes"},
		{lotWith(`"format"`, `"Format"`), "unknown-field", "Format", "names are to the letter"},
		{lotWith(`"seed": 12345`, `"seed": 1, "seed": 2`), "duplicate-field", "seed", "two seeds"},
		{lotWith(`12345`, `-1`), "not-a-number", "seed", "a seed below zero"},
		{lotWith(`12345`, `1e3`), "not-a-number", "seed", "a seed with an exponent"},
		{lotWith(`12345`, `18446744073709551616`), "not-a-number", "seed", "a seed of 65 bits"},
		{lotWith(`12345`, `null`), "wrong-type", "seed", "a seed of null"},
		{lotWith(`"0.75 cu ft"`, `0.75`), "no-unit", "labelled", "a bare number"},
		{lotWith(`"0.75 cu ft"`, `"0.75"`), "no-unit", "labelled", "text without a unit"},
		{lotWith(`"0.75 cu ft"`, `"0 cu ft"`), "not-positive", "labelled", "a label of nothing"},
		{lotWith(`"0.75 cu ft"`, `"2 cords"`), "too-large", "labelled", "no package is so large"},
		{lotWith(`"0.75 cu ft"`, `"-1 cu ft"`), "negative", "labelled", "less than nothing"},
		{lotWith(`"0.75 cu ft"`, `"NaN cu ft"`), "not-finite", "labelled", "not a number by name"},
		{lotWith(`"0.75 cu ft"`, `"1,234 cu in"`), "ambiguous", "labelled", "a comma that may be either"},
		{lotWith(`"0.75 cu ft"`, `["0.75 cu ft"]`), "wrong-type", "labelled", "a list"},
		{lotWith(`30`, `0`), "out-of-range", "lot_size", "no packages"},
		{lotWith(`30`, `1000001`), "out-of-range", "lot_size", "more than is planned for"},
		{lotWith(`30`, `99999999999999999999`), "not-a-number", "lot_size", "overflows"},
		{lotWith(`30`, `30.0`), "not-a-number", "lot_size", "decimals"},
		{lotWith(`30`, `"30"`), "wrong-type", "lot_size", "a number in quotes"},
		{lotWith(`"0.05 cu ft"`, `"0.80 cu ft"`), "too-large", "limit", "a limit over the label"},
		{lotWith(`"0.05 cu ft"`, `"0 cu ft"`), "not-positive", "limit", "a limit of nothing"},
		{lotWith(`"number": 3`, `"number": 31`), "out-of-range", "packages[0].number", "no such package in the lot"},
		{lotWith(`"number": 3`, `"number": 0`), "out-of-range", "packages[0].number", "packages count from 1"},
		{lotWith(`"number": 3`, `"number": 7`), "duplicate", "packages[1].number", "the same package twice"},
		{lotWith(`"number": 3, `, ``), "missing", "packages[0].number", "no number"},
		{lotWith(`"volume": "0.74 cu ft"`, `"volume": "0.74 ft"`), "unknown-unit", "packages[0].volume", "a length"},
		{lotWith(`"volume": "0.74 cu ft"`, `"volume": 0.74`), "no-unit", "packages[0].volume", "a bare number"},
		{lotWith(`"volume": "0.74 cu ft"`, `"volume": "0 cu in"`), "not-positive", "packages[0].volume", "an empty package"},
		{lotWith(`, "volume": "0.74 cu ft"`, ``), "missing", "packages[0].volume", "neither volume nor what it comes from"},
		{lotWith(`"length": "16 in"`, `"length": "16 in", "volume": "1 cu ft"`), "too-much", "packages[1]", "both a volume and a length"},
		{lotWith(`"length": "16 in", `, ``), "missing", "packages[1].length", "an end without a length"},
		{lotWith(`, "area": "80 1/4 sq in"`, ``), "missing", "packages[1].area", "a length without an end"},
		{lotWith(`80 1/4 sq in`, `80 1/4`), "unknown-unit", "packages[1].area", "an area without a unit"},
		{lotWith(`80 1/4 sq in`, `80 cu in`), "unknown-unit", "packages[1].area", "a volume"},
		{lotWith(`80 1/4 sq in`, `half sq in sq in`), "not-a-number", "packages[1].area", "two units"},
		{lotWith(`80 1/4 sq in`, `99999 sq ft`), "too-large", "packages[1].area", "no package is so wide"},
		{lotWith(`"16 in"`, `"16"`), "no-unit", "packages[1].length", "a length without a unit"},
		{lotWith(`"16 in"`, `"9 ft"`), "too-large", "packages[1].length", "no piece is so long"},
		{lotWith(`"16 in"`, `"0 in"`), "not-positive", "packages[1].length", "a length of nothing"},
		{lotWith(`{"number": 3, "volume": "0.74 cu ft"}`, `3`), "wrong-type", "packages[0]", "a package that is a number"},
		{`{"format":1,"labelled":"1 cu ft","lot_size":3,"packages":[]}`, "out-of-range", "packages", "none measured"},
		{`{"format":1,"labelled":"1 cu ft","lot_size":3,"packages":{}}`, "wrong-type", "packages", "packages are a list"},
		{`{"format":1,"labelled":"1 cu ft","lot_size":3}`, "out-of-range", "packages", "packages left out"},
	}
}

func badCSV() []badRow {
	return []badRow{
		{"", "empty", "", "nothing"},
		{"\xff", "bad-text", "", "no UTF-8"},
		{strings.Repeat("#\n", MaxBytes), "too-large", "", "over the size that is read"},
		{csvWith("# format: 1\n", ""), "missing", "format", "no format"},
		{csvWith("format: 1", "format: 2"), "wrong-format", "line 1, format", "another format"},
		{csvWith("# labelled: 0.75 cu ft\n", ""), "missing", "labelled", "no label"},
		{csvWith("labelled: 0.75 cu ft", "labelled: 0.75"), "no-unit", "line 2, labelled", "a label without a unit"},
		{csvWith("labelled: 0.75 cu ft", "labelled"), "unknown-field", "line 2", "no colon"},
		{csvWith("# labelled", "# label"), "unknown-field", "line 2", "an unknown name"},
		{csvWith("# seed: 12345", "# lot size: 40"), "duplicate-field", "line 4", "said twice"},
		{csvWith("seed: 12345", "seed: twelve"), "not-a-number", "line 4, seed", "a seed in words"},
		{csvWith("lot size: 30", "lot size: many"), "not-a-number", "line 3, lot_size", "a size in words"},
		{csvWith("number,volume\n", ""), "unknown-columns", "line 6", "no names of columns"},
		{csvWith("number,volume", "number;volume"), "unknown-columns", "line 6", "semicolons"},
		{csvWith("number,volume", "volume,number"), "unknown-columns", "line 6", "columns in another order"},
		{csvWith("number,volume", "Number,Volume"), "unknown-columns", "line 6", "names are to the letter"},
		{"# format: 1\n# labelled: 1 cu ft\n# lot size: 3\n", "missing", "columns", "a head alone"},
		{"# format: 1\n# labelled: 1 cu ft\n# lot size: 3\nnumber,volume\n", "out-of-range", "packages", "no package"},
		{csvWith("3,0.74 cu ft", "3"), "wrong-columns", "line 7", "a cell is missing"},
		{csvWith("3,0.74 cu ft", "3,0,74 cu ft"), "wrong-columns", "line 7", "a comma decimal without quotes"},
		{csvWith("3,0.74 cu ft", "3,0.74"), "no-unit", "line 7, volume", "no unit"},
		{csvWith("3,0.74 cu ft", "3,"), "empty", "line 7, volume", "an empty cell"},
		{csvWith("3,0.74 cu ft", "three,0.74 cu ft"), "not-a-number", "line 7, number", "a number in words"},
		{csvWith("3,0.74 cu ft", "31,0.74 cu ft"), "out-of-range", "line 7, number", "no such package"},
		{csvWith("3,0.74 cu ft", "7,0.74 cu ft"), "duplicate", "line 8, number", "the same package twice"},
		{csvWith("3,0.74 cu ft", "=3,0.74 cu ft"), "not-a-number", "line 7, number", "a formula"},
		{csvWith("3,0.74 cu ft", `3,0.74 "cu" ft`), "bad-csv", "line 7", "quotes inside a cell"},
		{csvWith("3,0.74 cu ft", `3,"0.74 cu ft`), "bad-csv", "line 7", "quotes left open"},
		{csvWith("7,1284", "# seed: 1\n7,1284"), "wrong-columns", "line 8", "a head line below the columns"},
	}
}

func TestBadJSON(t *testing.T) {
	for _, row := range badJSON() {
		_, err := ParseJSON([]byte(row.text))
		mustRefuse(t, row, err)
	}
}

func TestBadCSV(t *testing.T) {
	for _, row := range badCSV() {
		_, err := ParseCSV(strings.NewReader(row.text))
		mustRefuse(t, row, err)
	}
}

func mustRefuse(t *testing.T, row badRow, err error) {
	t.Helper()
	var faults measure.InputErrors
	if !assert.ErrorAs(t, err, &faults, row.why) {
		return
	}
	mustSayWhy(t, faults)
	for _, f := range faults {
		if f.Field == row.field {
			assert.Equal(t, row.code, f.Code, "%s: %v", row.why, f)
			return
		}
	}
	t.Errorf("%s: no fault at %q: %v", row.why, row.field, err)
}

func mustSayWhy(t *testing.T, faults measure.InputErrors) {
	t.Helper()
	require.NotEmpty(t, faults)
	for _, f := range faults {
		require.NotEmpty(t, f.Code)
		require.NotEmpty(t, f.Reason.Key)
		require.True(t, f.Accepts.Key != "" || f.Code == "too-many-faults", "%v", f)
	}
}

func TestOneFaultIsToldOnce(t *testing.T) {
	for name, text := range map[string]string{
		"no label":      lotWith(`"labelled": "0.75 cu ft", `, ``),
		"no size":       lotWith(`"lot_size": 30, `, ``),
		"both":          lotWith(`"length": "16 in"`, `"length": "16 in", "volume": "1 cu ft"`),
		"a bad end":     lotWith(`80 1/4 sq in`, `wide`),
		"not a package": `{"format":1,"labelled":"1 cu ft","lot_size":3,"packages":3}`,
	} {
		_, err := ParseJSON([]byte(text))
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, name)
		assert.Len(t, faults, 1, "%s: %v", name, err)
	}
	_, err := ParseCSV(strings.NewReader(csvWith("number,volume", "no,vol")))
	assert.Len(t, err, 1, "%v", err)
}

func TestFaultsSayWhatWasRead(t *testing.T) {
	_, err := ParseJSON([]byte(lotWith(`0.75 cu ft`, `2 cord`)))
	assert.ErrorContains(t, err, "labelled: read “2 cord”")
	_, err = ParseJSON([]byte("{\n\"format\": 1,\nx"))
	assert.ErrorContains(t, err, "line 3")
	_, err = ParseCSV(strings.NewReader(csvWith("3,0.74 cu ft", "3,074")))
	assert.ErrorContains(t, err, "line 7, volume: read “074”")
}

func TestFaultsAreCounted(t *testing.T) {
	text := "# format: 1\n# labelled: 1 cu ft\n# lot size: 900\nnumber,volume\n"
	for i := range 400 {
		text += strconv.Itoa(i+1) + ",much\n"
	}
	_, err := ParseCSV(strings.NewReader(text))
	assert.Len(t, err, maxFaults+1)
	assert.ErrorContains(t, err, "there are 200 more faults")
}

func TestParseCSVGivesAReadingErrorAsItIs(t *testing.T) {
	broken := errors.New("the disk is gone")
	_, err := ParseCSV(io.MultiReader(strings.NewReader("# format: 1\n"), iotest.ErrReader(broken)))
	assert.ErrorIs(t, err, broken)
}

// Areas by the definitions: an inch is 25.4 mm exactly (international foot).
func TestParseArea(t *testing.T) {
	for text, want := range map[string]Area{
		"1 sq in": 645_160_000, "120 sq. in.": 120 * SquareInch, "81 in²": 81 * SquareInch, "1/4 square inch": SquareInch / 4,
		"80 1/4 sq in": 80*SquareInch + SquareInch/4, "80¼ in2": 80*SquareInch + SquareInch/4, "1 SQ FT": 144 * SquareInch,
		"774 cm²": 774 * SquareCentimetre, "774,5 cm2": 774*SquareCentimetre + SquareCentimetre/2, "1 m²": SquareMetre,
		"half a square foot": 72 * SquareInch,
	} {
		got, err := ParseArea(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
		back, err := ParseArea(got.String())
		require.NoError(t, err, got.String())
		assert.Equal(t, got, back, text)
	}
}

func TestVolumeFromLengthAndEnd(t *testing.T) {
	assert.Equal(t, 1296*measure.CubicInch, (81 * SquareInch).By(16*measure.Inch))
	assert.Equal(t, 20*measure.Litre, (500 * SquareCentimetre).By(40*measure.Centimetre))
}

func FuzzParseJSON(f *testing.F) {
	f.Add([]byte(goodJSON))
	for _, row := range badJSON() {
		if len(row.text) < 5000 {
			f.Add([]byte(row.text))
		}
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		l, err := ParseJSON(doc)
		mustBeSound(t, l, err)
	})
}

func FuzzParseCSV(f *testing.F) {
	f.Add(goodCSV)
	for _, row := range badCSV() {
		if len(row.text) < 5000 {
			f.Add(row.text)
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseCSV(strings.NewReader(text))
		mustBeSound(t, l, err)
	})
}

// mustBeSound fails where a lot that was read can't be judged, or a refusal does
// not say why.
func mustBeSound(t *testing.T, l Lot, err error) {
	t.Helper()
	if err != nil {
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults)
		mustSayWhy(t, faults)
		return
	}
	v, err := Judge(rules.Set{}, l)
	require.NoError(t, err)
	require.Contains(t, []Finding{Pass, Fail, NotJudged}, v.Finding)
	require.NotEmpty(t, v.Why)
	_, err = json.Marshal(v)
	require.NoError(t, err)
}

// A report prints numbers and the program's own words alone: a lot keeps no text that
// somebody typed, which would have to be held against the terms a rule set bars.
func TestALotKeepsNoTextThatWasTyped(t *testing.T) {
	var holds func(k reflect.Type) bool
	holds = func(k reflect.Type) bool {
		switch k.Kind() {
		case reflect.String, reflect.Interface, reflect.Map:
			return true
		case reflect.Pointer, reflect.Slice, reflect.Array:
			return holds(k.Elem())
		case reflect.Struct:
			return slices.ContainsFunc(reflect.VisibleFields(k), func(f reflect.StructField) bool { return holds(f.Type) })
		}
		return false
	}
	assert.False(t, holds(reflect.TypeFor[Lot]()))
	_, err := ParseJSON([]byte(`{"format":1,"labelled":"0.75 cu ft","lot_size":3,"label":"a face cord","packages":[{"number":1,"volume":"0.75 cu ft"}]}`))
	require.Error(t, err)
	assert.NotContains(t, err.Error(), "a face cord", "what is typed beside it is refused and not repeated")
	_, err = ParseCSV(strings.NewReader("# format: 1\n# labelled: 0.75 cu ft\n# lot size: 3\n# label: a face cord\nnumber,volume\n1,0.75 cu ft\n"))
	require.Error(t, err)
}

func FuzzParseArea(f *testing.F) {
	for _, seed := range []string{"120 sq in", "120 1/4 in²", "774 cm²", "a 1/2 sq ft", "two 1/2 sq in", "1,234 sq in", "-4 sq in", "0 m²", "sq ft", "1e3 cm2"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		a, err := ParseArea(text)
		var in *measure.InputError
		switch {
		case err == nil && (a < 0 || a > MaxArea):
			t.Fatalf("%q was read as %d", text, a)
		case err != nil && (!errors.As(err, &in) || in.Code == "" || in.Accepts.Key == ""):
			t.Fatalf("%#v isn't an error a person can act on", err)
		}
	})
}
