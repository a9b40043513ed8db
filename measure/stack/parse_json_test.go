package stack

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// Every value of another kind than belongs there is named with its path, in the order
// written, whatever stands around it.
func TestWhatDoesNotFitIsNamedByItsPath(t *testing.T) {
	_, err := ParseTally([]byte(`{"format": "2", "sold": ["1 cord"], "look": 1.5, "gaps": {"count": "3", "count": 3, "pieces": {}}, "what": [{"deep": "]}"}, 1],
		"stack": {"kind": "rows", "pieces": ["16 in", {"a": 1}, "16 in"], "rows": [{"length": true, "heights": "4 ft", "ends": [{"kind": "upright", "kid": 1}, null], "what": 1}, 7]}}`))
	var faults measure.InputErrors
	require.ErrorAs(t, err, &faults)
	var got []string
	for _, f := range faults {
		if f.Code == "wrong-type" || f.Code == "unknown-field" || f.Code == "duplicate-field" {
			got = append(got, f.Code+" "+f.Field+" "+f.Got)
		}
	}
	assert.Equal(t, []string{
		`wrong-type format "2"`, `wrong-type sold ["1 cord"]`, `wrong-type look 1.5`, `wrong-type gaps.count "3"`, `wrong-type gaps.pieces {}`, `unknown-field what `,
		`wrong-type stack.pieces[1] {"a": 1}`, `wrong-type stack.rows[0].length true`, `wrong-type stack.rows[0].heights "4 ft"`, `unknown-field stack.rows[0].ends[0].kid `,
		`wrong-type stack.rows[0].ends[1] null`, `unknown-field stack.rows[0].what `, `wrong-type stack.rows[1] 7`,
	}, got)
}

// Reading a tally takes no more than three times the memory that the library takes for
// the same structs without checking anything.
func TestParsingIsLean(t *testing.T) {
	doc := []byte(`{"format": 2, "sold": "1 cord", "by": "buyer", "apart": "none", "tape": "1/4 in", "top": "straightedge", "stack": {"kind": "rows",
		"pieces": ["16 in", "15 1/2 in", "16 1/4 in", "15 3/4 in", "16 1/2 in"], "rows": [
		{"length": "8 ft", "heights": ["48 in", "47 in", "48 1/2 in", "46 1/2 in", "47 1/2 in"], "ends": [{"kind": "upright"}, {"kind": "upright"}]},
		{"length": "7 ft 11 in", "heights": ["47 in", "48 in", "46 in", "47 1/2 in", "46 1/2 in"], "ends": [{"kind": "upright"}, {"kind": "upright"}]},
		{"length": "96.5 in", "heights": ["46 1/2 in", "45 in", "46 in", "44 1/2 in", "45 in"], "ends": [{"kind": "upright"}, {"kind": "upright"}]}]}}`)
	library := testing.AllocsPerRun(20, func() {
		var d Document
		var rows RowsDocument
		require.NoError(t, json.Unmarshal(doc, &d))
		require.NoError(t, json.Unmarshal(d.Stack, &rows))
	})
	ours := testing.AllocsPerRun(20, func() {
		_, err := ParseTally(doc)
		require.NoError(t, err)
	})
	assert.Less(t, ours, 3*library)
}

// What fits is decoded as the library decodes it, escapes and empty lists and all.
func TestStrictDecodingGivesWhatTheLibraryGives(t *testing.T) {
	for kind, doc := range kindTallies() {
		doc = strings.NewReplacer(`"buyer"`, `"b\u0075yer"`, `"straightedge"`, `"straight\u0065dge"`).Replace(doc)
		var read, library Document
		var faults measure.InputErrors
		strict.Into([]byte(doc), &read, "", &faults)
		require.Empty(t, faults, kind)
		require.NoError(t, json.Unmarshal([]byte(doc), &library), kind)
		require.Equal(t, library, read, kind)
		var head struct{ Kind string }
		require.NoError(t, json.Unmarshal(library.Stack, &head))
		ours, theirs := reflect.New(documentTypes()[head.Kind]), reflect.New(documentTypes()[head.Kind])
		strict.Into(library.Stack, ours.Interface(), "stack", &faults)
		require.Empty(t, faults, kind)
		require.NoError(t, json.Unmarshal(library.Stack, theirs.Interface()), kind)
		require.Equal(t, theirs.Interface(), ours.Interface(), kind)
	}
	type inner struct {
		Yes *bool     `json:"yes"`
		At  time.Time `json:"at"`
	}
	type outer struct {
		inner
		Half  float64         `json:"half"`
		Names []string        `json:"names"`
		Rest  json.RawMessage `json:"rest"`
		More  map[string]int  `json:"more"`
		In    *inner          `json:"in"`
		Lists [][]int         `json:"lists"`
		Whole *int            `json:"whole"`
		None  []Reading       `json:"none"`
	}
	doc := `{"half": -0.5e0, "names": ["a\n", "\ud83d\ude00", "é"], "rest": {"x": [1, "}"]}, "more": {"b": 2}, "in": {"yes": null}, "lists": [[1, 2], [], [3]], "whole": -0, "none": []}`
	var read, library outer
	require.NoError(t, json.Unmarshal([]byte(doc), &library))
	require.NoError(t, strict.Decode([]byte(strings.Replace(doc, `{"yes": null}`, `{}`, 1)), &read))
	assert.Equal(t, library, read)
	for _, bad := range []string{`{"half": "1"}`, `{"more": {"b": 1.5}}`, `{"yes": 1}`, `{"names": [1]}`, `{"lists": [[1.5]]}`, `{"whole": 1e2}`, `{"half": 1e999}`, `{"in": []}`} {
		assert.Error(t, strict.Decode([]byte(bad), &outer{}), bad)
	}
}

// documentTypes are the "stack" objects by kind.
func documentTypes() map[string]reflect.Type {
	return map[string]reflect.Type{
		"rows": reflect.TypeFor[RowsDocument](), "load": reflect.TypeFor[LoadDocument](), "heap": reflect.TypeFor[HeapDocument](),
		"bin": reflect.TypeFor[BinDocument](), "round": reflect.TypeFor[RoundDocument](), "packaged": reflect.TypeFor[PackagedDocument](),
	}
}
