package rules_test

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
)

func countyFile(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/procedure-county.json")
	require.NoError(t, err)
	return string(text)
}

// An office's procedure takes the place of what is remembered of a handbook: its
// increment, its counts and its tolerance, each with its source, in every set.
func TestAnOfficesProcedureIsGoneBy(t *testing.T) {
	p, err := rules.ParseProcedure([]byte(countyFile(t)))
	require.NoError(t, err)
	book, err := rules.BuiltIn()
	require.NoError(t, err)
	for _, set := range book.WithProcedure(p).All() {
		k := set.Reckoning(set.SoldIn(false))
		assert.Equal(t, measure.Inch/8, k.Increment, set.Code)
		assert.Equal(t, procedure.LeastCounts{Heights: 5, Back: 5, Lengths: 3, Pieces: 10}, k.Counts, set.Code)
		require.Len(t, k.Tolerance, 1, set.Code)
		assert.InDelta(t, 0.02, k.Tolerance[0].Share, 1e-12)
		assert.Contains(t, k.From.String(), "an invented office's own text")
		require.NotNil(t, k.Named)
		assert.Equal(t, "Slate County: checking stacked firewood, edition 2026, read 2026-02-01", k.Named.String())
	}
	for _, set := range book.All() {
		assert.Nil(t, set.Procedure, "%s: the book itself is not changed", set.Code)
	}
}

func TestProcedureFilesThatAreRefused(t *testing.T) {
	good := countyFile(t)
	for name, row := range map[string]struct{ from, to, says string }{
		"unknown field":   {`"pieces": 10`, `"piece": 10`, `line 12: unknown field "piece"`},
		"twice":           {`"pieces": 10`, `"pieces": 10, "pieces": 10`, `line 12: field "pieces" is there twice`},
		"no source":       {` "source": "an invented office's own text, for examples and tests",` + "\n", "", "line 1: source: is missing or empty"},
		"no status":       {`"status": "read",` + "\n" + ` "increment"`, `"status": "sure",` + "\n" + ` "increment"`, `line 6: status: "sure" is none of`},
		"no increment":    {`"1/8 in"`, `"0 in"`, "line 7: increment"},
		"a bare length":   {`"1/8 in"`, `"1/8"`, "line 7"},
		"a way unknown":   {`"up"`, `"upward"`, `line 8: rounding: "upward" is none of`},
		"no heights":      {`"heights": 5`, `"heights": 0`, "line 9: heights: 0 is not from 1 to 200"},
		"faces unknown":   {`"both"`, `"all"`, `line 10: faces: "all" is none of`},
		"no date":         {`"2026-02-01"`, `"1 February"`, "line 4: date"},
		"a bad tolerance": {`"percent": 2`, `"percent": 0.5, "scales": [{"units": [], "steps": []}]`, "line 13: tolerance"},
		"more after it":   {"\n}\n", "\n} {}\n", "line 14: there is more after the end"},
	} {
		require.Contains(t, good, row.from, name)
		_, err := rules.ParseProcedure([]byte(strings.Replace(good, row.from, row.to, 1)))
		assert.ErrorContains(t, err, row.says, name)
	}
	set := strings.Replace(mustRead(t, "us-model-law.json"), `"units"`, `"procedure": {}, "units"`, 1)
	_, err := rules.Parse([]byte(set))
	assert.ErrorContains(t, err, "a procedure is a file of its own")
}

func mustRead(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	require.NoError(t, err)
	return string(text)
}

func FuzzParseProcedure(f *testing.F) {
	text, err := os.ReadFile("../../testdata/procedure-county.json")
	require.NoError(f, err)
	f.Add(text)
	f.Add([]byte("{}"))
	f.Add([]byte(`{"increment": "1 in", "increment": "2 in"}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := rules.ParseProcedure(b)
		var fault *rules.FileError
		if err != nil && !errors.As(err, &fault) {
			t.Fatalf("%v is no fault of the file", err)
		}
		if err == nil && (p.Increment <= 0 || p.Heights < 1 || p.Source == "") {
			t.Fatalf("taken: %+v", p)
		}
	})
}
