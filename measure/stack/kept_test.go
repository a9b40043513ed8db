package stack_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
)

// A keptTally is a document, and the figures and codes of its result by the parts of the
// result, as the model gave them when they were written down.
type keptTally struct {
	Document json.RawMessage   `json:"document"`
	Result   map[string]string `json:"result"`
}

var keptPath = filepath.Join("testdata", "kept.json")

// A result says by which model it was worked out, and a paper that was printed from it is
// printed again years later: under one model number the same readings give the same
// figures, codes and number of reasons, whatever the words. If a change of the arithmetic
// makes this fail, it needs a new ModelNumber; WELLSTOWED_KEEP=1 then writes the file.
func TestResultsOfAModelStay(t *testing.T) {
	if os.Getenv("WELLSTOWED_KEEP") != "" {
		keepResults(t)
	}
	stored, err := os.ReadFile(keptPath)
	require.NoError(t, err)
	var kept []keptTally
	require.NoError(t, json.Unmarshal(stored, &kept))
	require.Greater(t, len(kept), 40)
	for _, k := range kept {
		got := keep(t, k.Document).Result
		for part, want := range k.Result {
			require.Equal(t, want, got[part], "%s of %s", part, k.Document)
		}
		require.Len(t, got, len(k.Result), "%s", k.Document)
	}
}

func keep(t *testing.T, document []byte) keptTally {
	t.Helper()
	tally, err := stack.ParseTally(document)
	require.NoError(t, err, "%s", document)
	result, err := stack.Measure(tally)
	require.NoError(t, err)
	stored, err := json.Marshal(result)
	require.NoError(t, err)
	numbers := json.NewDecoder(bytes.NewReader(stored))
	numbers.UseNumber()
	var parts map[string]any
	require.NoError(t, numbers.Decode(&parts))
	byProcedure, err := json.Marshal(procedure.Of(tally, procedure.Reckoning{}))
	require.NoError(t, err)
	var byHandbook any
	require.NoError(t, json.Unmarshal(byProcedure, &byHandbook))
	parts["by procedure"] = byHandbook
	k := keptTally{Document: document, Result: map[string]string{}}
	for name, part := range parts {
		figures, err := json.Marshal(withoutWords(part))
		require.NoError(t, err)
		k.Result[name] = string(figures)
	}
	return k
}

// withoutWords takes the words out of what was stored and leaves what fills them, and
// rounds to seven digits, so that any machine agrees.
func withoutWords(part any) any {
	switch v := part.(type) {
	case float64:
		return json.Number(strconv.FormatFloat(v, 'g', 7, 64))
	case json.Number:
		f, err := v.Float64()
		if err != nil {
			return v
		}
		return json.Number(strconv.FormatFloat(f, 'g', 7, 64))
	case []any:
		for i := range v {
			v[i] = withoutWords(v[i])
		}
	case map[string]any:
		if _, worded := v["key"]; worded && (len(v) == 1 || v["args"] != nil) {
			return withoutWords(v["args"])
		}
		for name := range v {
			v[name] = withoutWords(v[name])
		}
	}
	return part
}

// keepResults writes down results of the whole documents of every kind, each as it is and
// read with other habits.
func keepResults(t *testing.T) {
	random := rand.New(rand.NewPCG(20, 26))
	documents := stack.WholeDocuments()
	documents["taped, thrown"] = `{"format": 2, "loose_cord": "180 cu ft", "sold": "64 cu ft loose", "stack": {"kind": "load", "arrangement": "thrown", "pieces": ["16 in", "17 in"],
		"calibrated": {"box": {"length": "8 ft", "width": "5 ft", "heights": ["20 in", "21 in"], "positions": ["2 ft", "6 ft"], "wells": [{"length": "30 in", "width": "8 in", "height": "10 in"}]},
		"on": "2026-05-01", "by": "the owner", "line": "top"}}}`
	documents["lies across"] = `{"format": 2, "sold": "1/2 cord", "apart": "none", "stack": {"kind": "load", "arrangement": "ranked", "lie": "across", "length": "8 ft", "width": "64 in",
		"heights": ["20 in", "22 in", "21 in", "20 in"], "crown": {"shape": "flat-topped", "crest": ["4 in"]}, "pieces": ["16 in", "15 1/2 in", "16 1/4 in", "15 3/4 in", "16 in"]}}`
	documents["lies along"] = `{"format": 2, "sold": "1/4 cord", "apart": "none", "stack": {"kind": "bin", "arrangement": "ranked", "lie": "along", "length": "66 in", "width": "4 ft",
		"heights": ["48 in", "44 in", "46 in"], "pieces": ["16 in", "15 1/2 in", "16 1/4 in", "15 3/4 in", "16 in"]}}`
	documents["long, thrown"] = `{"format": 2, "sold": "1 cord", "stack": {"kind": "bin", "arrangement": "container", "length": "8 ft", "width": "8 ft", "heights": ["4 ft", "4 ft"], "nominal": "24 in"}}`
	documents["ridge"] = `{"format": 2, "sold": "2 cords", "raised": "2 in", "stack": {"kind": "heap", "shape": "ridge", "length": "20 ft", "width": "9 ft", "height": "4 ft", "nominal": "2 ft"}}`
	for name, file := range map[string]string{"example 1": "example-short.json", "example 2": "example-not-settled.json", "example 3": "example-short-second.json"} {
		whole, err := os.ReadFile(filepath.Join("..", "..", "testdata", file))
		require.NoError(t, err)
		documents[name] = string(whole)
	}
	var names []string
	for name := range documents {
		names = append(names, name)
	}
	slices.Sort(names)
	var kept []keptTally
	for _, name := range names {
		for n := range 5 {
			var compact bytes.Buffer
			require.NoError(t, json.Compact(&compact, []byte(documents[name])))
			document := compact.Bytes()
			if n > 0 {
				document = otherwise(t, document, random)
			}
			if _, err := stack.ParseTally(document); err != nil {
				fmt.Println(name, err) // a habit that doesn't go with this kind
				continue
			}
			kept = append(kept, keep(t, document))
		}
	}
	lines := make([][]byte, len(kept))
	for i, k := range kept {
		line, err := json.Marshal(k)
		require.NoError(t, err)
		lines[i] = line
	}
	require.NoError(t, os.WriteFile(keptPath, slices.Concat([]byte("[\n"), bytes.Join(lines, []byte(",\n")), []byte("\n]\n")), 0o600))
}

// otherwise is a document whose readings were taken with other habits.
func otherwise(t *testing.T, document []byte, random *rand.Rand) []byte {
	var d map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(document, &d))
	either := func(field string, values ...string) {
		if v := values[random.IntN(len(values))]; v != "" {
			d[field] = json.RawMessage(v)
		} else {
			delete(d, field)
		}
	}
	d["format"] = json.RawMessage("2")
	either("top", `"by eye"`, `"straightedge"`)
	either("tape", `"1/4 in"`, `"1/16 in"`, `"1 in"`, `"1 cm"`, "")
	either("rounded", `"nearest"`, `"down"`, "")
	either("tape_made", `"steel"`, `"cloth"`, "")
	either("by", `"seller"`, `"buyer"`, `"inspector"`, "")
	either("look", "1", "2")
	either("apart", `"none"`, `"12 cu ft"`, "")
	either("sold", `"1 cord"`, `"64 cu ft"`, `"2 cords"`, `"2.2 m³"`, "")
	either("condition", `"green"`, `"seasoned"`, "")
	delete(d, "gaps")
	if either("stowed", `"checked"`, `"counted"`, ""); string(d["stowed"]) == `"counted"` {
		either("gaps", `{"count": 0, "pieces": 60}`, `{"count": 4, "pieces": 80}`)
	}
	changed, err := json.Marshal(d)
	require.NoError(t, err)
	return changed
}
