package rules_test

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

func model(t testing.TB) rules.Set {
	t.Helper()
	return built(t, "us-model")
}

func book(t testing.TB) rules.Book {
	t.Helper()
	b, err := rules.BuiltIn()
	require.NoError(t, err)
	return b
}

func built(t testing.TB, code string) rules.Set {
	t.Helper()
	s, err := book(t).Get(code)
	require.NoError(t, err)
	return s
}

func TestModelLaw(t *testing.T) {
	s := model(t)
	// NIST Handbook 130, Uniform Regulation for the Method of Sale of Commodities
	// (2016), sections 2.4.3, 2.4.4 and 2.4.5.
	assert.Equal(t, "2016", s.Edition)
	assert.Equal(t, rules.Read, s.Status)
	assert.Equal(t, "cord and fractions of a cord", s.Units[0].Name)
	assert.Equal(t, measure.Ranked, s.Units[0].Basis)
	var barred, required []string
	for _, term := range s.Barred {
		if term.Status == rules.SecondHand {
			barred = append(barred, term.Name)
		}
	}
	assert.Equal(t, []string{"face cord", "rack", "pile", "truckload"}, barred, "the terms that others restate of the text, which was not read")
	for _, f := range s.Required {
		required = append(required, f.Code)
	}
	assert.Equal(t, rules.FieldCodes()[:9], required, "nothing of what only some states ask for")
	assert.Nil(t, s.Tolerance, "no tolerance for a cord is stated")
	assert.Equal(t, "A reading of the law, not legal advice.", s.NotAdvice().String())
}

func TestEveryItemSaysHowItIsKnown(t *testing.T) {
	for _, s := range book(t).All() {
		b, err := json.Marshal(s)
		require.NoError(t, err)
		var doc any
		require.NoError(t, json.Unmarshal(b, &doc))
		requireKnown(t, s.Code, doc)
	}
}

// requireKnown walks a set: every object in it has its source and status.
func requireKnown(t *testing.T, path string, v any) {
	t.Helper()
	switch v := v.(type) {
	case map[string]any:
		if regexp.MustCompile(`\.(when|scales|heat|ways|rows)$`).MatchString(path) { // parts of an item that has both
			return
		}
		assert.NotEmpty(t, v["source"], path)
		assert.Contains(t, []any{"read", "second-hand", "from memory"}, v["status"], path)
		for name, inner := range v {
			requireKnown(t, path+"."+name, inner)
		}
	case []any:
		for _, inner := range v {
			requireKnown(t, path, inner)
		}
	}
}

func TestGetNamesTheCodes(t *testing.T) {
	_, err := book(t).Get("atlantis")
	assert.ErrorContains(t, err, "read “atlantis”: that rule set isn’t here; accepted: california, ")
	for _, s := range book(t).All() {
		assert.ErrorContains(t, err, s.Code)
	}
}

func TestBarredIn(t *testing.T) {
	s := model(t)
	tests := []struct {
		text string
		want []string
	}{
		{"", nil},
		{"1 cord of red oak", nil},
		{"two face cords", []string{"face cord"}},
		{"FACE-CORD", []string{"face cord"}},
		{"face  cord\tand a face\u00a0cord", []string{"face cord"}},
		{"facecords", []string{"face cord"}},
		{"face\u2011cord", []string{"face cord"}},        // a hyphen that does not break
		{"fa\u00adce co\u200brd", []string{"face cord"}}, // unseen characters
		{"face, cord", nil},
		{"a truck load", []string{"truckload"}},
		{"Truck-Loads, piles and racks", []string{"rack", "pile", "truckload"}},
		{"half a rick (rics)", []string{"rick", "ric"}},
		{"price, brick, tricks, woodpile, piled, racket, surface cord", nil},
		{"pile", []string{"pile"}},
		{"(pile)", []string{"pile"}},
		{"ein Stapel Öl", nil},
	}
	for _, tt := range tests {
		assert.Equal(t, tt.want, s.BarredIn(tt.text), "%q", tt.text)
	}
}

// whole is a set with everything a set may have.
const whole = `{
 "code": "test-land", "name": "Test land", "edition": "1", "date": "2026-01-31",
 "source": "made up", "status": "read",
 "units": [{"name": "cord", "unit": "cord", "basis": "ranked", "source": "made up", "status": "read"}, {"name": "loose cord", "unit": "loose-cord", "basis": "loose", "source": "made up", "status": "read"}],
 "barred": [{"name": "heap", "source": "made up", "status": "second-hand"}],
 "required": [{"code": "price", "name": "price", "source": "made up", "status": "from memory"}],
 "loose": [{"name": "loose cord", "piece_from": "12 in", "piece_to": "16 in", "volume": "180 cu ft", "source": "made up", "status": "read"}],
 "reading": {"increment": "3/16 in", "rounding": "up", "source": "made up", "status": "read"},
 "tolerance": {"words": "none", "source": "made up", "status": "read"},
 "moisture": {"words": "say how dry", "limits": [{"percent": 20, "basis": "wet", "compare": "below", "from": "2026-01-01", "source": "made up", "status": "read"}], "source": "made up", "status": "read"},
 "retention": {"months": 6, "source": "made up", "status": "read"},
 "notices": [{"words": "hello", "source": "made up", "status": "read"}],
 "ranked": [{"name": "cord", "of": "split wood", "preparation": "sawed and split", "piece_from": "12 in", "piece_to": "20 in", "volume": "120 cu ft", "source": "made up", "status": "read"}]
}`

func TestParseWhole(t *testing.T) {
	s, err := rules.Parse([]byte(whole))
	require.NoError(t, err)
	assert.Equal(t, 180*measure.CubicFoot, s.Loose[0].Volume.Volume)
	assert.Equal(t, 12*measure.Inch, s.Loose[0].PieceFrom)
	assert.Equal(t, 3*measure.Inch/16, s.Reading.Increment)
	assert.Equal(t, 6, s.Retention.Months)
	assert.Equal(t, "hello", s.Notices[0].Text().Key)
}

func TestParseRefuses(t *testing.T) {
	tests := []struct{ name, old, with, want string }{
		{"no JSON", `"code":`, `code:`, "line 2: this is not JSON"},
		{"unknown field", `"edition": "1",`, `"edition": "1", "colour": "red",`, `line 2: unknown field "colour"`},
		{"unknown field deep down", `"status": "second-hand"}`, `"status": "second-hand", "colour": "red"}`, `line 5: unknown field "colour"`},
		{"unknown field of a loose measure", `"volume":`, `"vol": 1, "volume":`, `line 7: unknown field "vol"`},
		{"capitals", `"edition"`, `"Edition"`, `line 2: unknown field "Edition"`},
		{"doubled field", `"date":`, `"name": "again", "date":`, `line 2: field "name" is there twice`},
		{"doubled field in a list", `"name": "heap",`, `"name": "heap", "name": "pile",`, `line 5: field "name" is there twice`},
		{"nested too deep in a list", `"barred": [`, `"barred": [[[[[[[[[`, "line 5: brackets are nested too deep"},
		{"a comma too many in a list", `"status": "second-hand"}]`, `"status": "second-hand"},,]`, "line 5: this is not JSON"},
		{"more after it", "\n}", "\n}\n{}", "line 15: there is more after the end"},
		{"cut off", "\n}", "", "the file ends too early"},
		{"wrong type", `"months": 6`, `"months": "six"`, "line 11:"},
		{"missing code", `"code": "test-land",`, ``, "line 1: code:"},
		{"bad code", `test-land`, `Test land!`, "line 2: code:"},
		{"no date", `2026-01-31`, `last year`, "line 2: date:"},
		{"no source of the set", " \"source\": \"made up\", \"status\": \"read\",\n \"units\"", ` "status": "read", "units"`, "line 1: source: is missing or empty"},
		{"term without source", `"name": "heap", "source": "made up"`, `"name": "heap"`, "line 5: barred[0].source: is missing or empty"},
		{"unknown status", `"second-hand"`, `"hearsay"`, `line 5: barred[0].status: "hearsay" is none of`},
		{"term without a word", `"heap"`, `" - "`, "line 5: barred[0].name:"},
		{"unknown basis", `"ranked"`, `"heaped"`, `line 4: units[0].basis: "heaped" isn’t a basis`},
		{"no unit", `{"name": "cord", "unit": "cord", "basis": "ranked", "source": "made up", "status": "read"}, {"name": "loose cord", "unit": "loose-cord", "basis": "loose", "source": "made up", "status": "read"}`, ``, "line 4: units:"},
		{"loose wood not sold", `, {"name": "loose cord", "unit": "loose-cord", "basis": "loose", "source": "made up", "status": "read"}`, ``, `line 7: loose: there is a loose measure, and no unit of sale with the basis "loose"`},
		{"cords not sold", `"unit": "cord"`, `"unit": "cubic-foot"`, "line 13: ranked: there is a size of a cord, and the cord is no unit of sale"},
		{"unknown preparation", `"sawed and split"`, `"polished"`, `line 13: ranked[0].preparation: "polished" is none of ["not sawed" "sawed" "sawed and split"]`},
		{"no volume of a cord", `"volume": "120 cu ft"`, `"volume": "0 cu ft"`, "line 13:"},
		{"two sizes of one wood", `"ranked": [`, `"ranked": [{"name": "cord", "piece_from": "1 in", "piece_to": "12 in", "volume": "128 cu ft", "source": "x", "status": "read"}, `, "line 13: ranked[1].preparation: pieces of one length are in ranked[0] as well"},
		{"unknown receipt field", `"code": "price"`, `"code": "shoe-size"`, "line 6: required[0].code:"},
		{"receipt field twice", `"required": [`, `"required": [{"code": "price", "name": "price", "source": "x", "status": "read"}, `, `line 6: required[1].code: "price" is there twice`},
		{"volume without unit", `"180 cu ft"`, `"180"`, "line 7:"},
		{"lengths the wrong way", `"piece_from": "12 in"`, `"piece_from": "20 in"`, "line 7: loose[0].piece_from:"},
		{"bare number for a length", `"12 in"`, `12`, "line 7:"},
		{"not a length", `"16 in"`, `"sixteen"`, "line 7: read “sixteen”"},
		{"unknown rounding", `"up"`, `"sideways"`, "line 8: reading.rounding:"},
		{"a limit of moisture compared with nothing", `"below"`, `"under"`, `line 10: moisture.limits[0].compare: "under" is neither "at most" nor "below"`},
		{"a limit on no basis that is known", `"wet"`, `"damp"`, "line 10: moisture.limits[0].percent:"},
		{"a limit from no day", `"2026-01-01"`, `"soon"`, `line 10: moisture.limits[0].from: "soon" is not a date`},
		{"a limit without source", `"from": "2026-01-01", "source": "made up"`, `"from": "2026-01-01"`, "line 10: moisture.limits[0].source:"},
		{"a tolerance of two kinds", `"words": "none"`, `"words": "none", "percent": 1, "scales": [{"units": ["cord"], "steps": [{"percent": 1}]}]`, "line 9: tolerance.percent: there are scales as well"},
		{"a scale of no unit", `"words": "none"`, `"words": "none", "scales": [{"units": ["barrow"], "steps": [{"percent": 1}]}]`, `line 9: tolerance.scales[0].units: "barrow" is none of`},
		{"a unit of two scales", `"words": "none"`, `"words": "none", "scales": [{"units": ["cord", "cord"], "steps": [{"percent": 1}]}]`, `"cord" is in another scale as well`},
		{"a scale without steps", `"words": "none"`, `"words": "none", "scales": [{"units": ["cord"], "steps": []}]`, "a scale has units and steps"},
		{"steps that fall", `"words": "none"`, `"words": "none", "scales": [{"units": ["cord"], "steps": [{"to": "2 m³", "percent": 3}, {"below": "1 m³", "percent": 2}, {"percent": 1}]}]`, "tolerance.scales[0].steps[1]: a step before the last has one bound"},
		{"a last step with a bound", `"words": "none"`, `"words": "none", "scales": [{"units": ["cord"], "steps": [{"to": "2 m³", "percent": 3}]}]`, "the last step is for all that is larger"},
		{"a step of two sizes", `"words": "none"`, `"words": "none", "scales": [{"units": ["cord"], "steps": [{"percent": 3, "amount": "1 m³"}]}]`, "a step has a percent under 100 or an amount, and not both"},
		{"a term of two kinds", `"required":`, `"undefined": [{"name": "heap", "source": "made up", "status": "read"}], "required":`, `line 6: undefined[0].name: "heap" is in barred as well`},
		{"a condition without words", `"name": "price"`, `"name": "price", "when": {"over": 20}`, "line 6: required[0].when.words: is missing"},
		{"a condition over less than nothing", `"name": "price"`, `"name": "price", "when": {"words": "x", "over": -1}`, "line 6: required[0].when.over: is below 0"},
		{"pieces over nothing", `"reading":`, `"pieces": {"words": "x", "over": "0 in", "source": "x", "status": "read"}, "reading":`, "line 8: pieces.over:"},
		{"an empty gap", `"reading":`, `"gaps": [" "], "reading":`, "line 8: gaps[0]: is missing or empty"},
		{"no words", `"none"`, `" "`, "line 9: tolerance.words:"},
		{"voided tickets kept shorter", `"months": 6`, `"months": 6, "voided_months": 5`, "line 11: retention.voided_months:"},
		{"no months", `"months": 6`, `"months": 0`, "line 11: retention.months:"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			require.Contains(t, whole, tt.old)
			_, err := rules.Parse([]byte(strings.Replace(whole, tt.old, tt.with, 1)))
			var file *rules.FileError
			require.ErrorAs(t, err, &file)
			assert.ErrorContains(t, err, tt.want)
		})
	}
	_, err := rules.Parse([]byte(whole + strings.Repeat(" ", rules.MaxBytes-len(whole))))
	assert.NoError(t, err, "the largest file that is read")
	for _, text := range []string{"", "null", "[]", `"x"`, "7", "{}", strings.Repeat("[", 1000), strings.Repeat(" ", rules.MaxBytes+1)} {
		_, err := rules.Parse([]byte(text))
		assert.Error(t, err, "%.20q", text)
	}
}

func FuzzParse(f *testing.F) {
	law, err := os.ReadFile("us-model-law.json")
	require.NoError(f, err)
	for _, seed := range []string{whole, string(law), "{}", `{"code": 1}`, `{"units": [[]]}`, `{"loose": [{"volume": "1"}]}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		s, err := rules.Parse(b)
		if err != nil {
			var file *rules.FileError
			require.ErrorAs(t, err, &file)
			assert.Positive(t, file.Line)
			assert.NotEmpty(t, file.Reason)
			return
		}
		for _, term := range s.Barred {
			if utf8.ValidString(term.Name) {
				assert.Contains(t, s.BarredIn("a "+term.Name+"."), term.Name)
			}
		}
	})
}
