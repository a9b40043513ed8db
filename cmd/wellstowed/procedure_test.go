package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Named rules of sale put the procedure's own result beside the model's, with what
// the tally lacks; without them nothing is said of it.
func TestMeasureUnderPrintsTheProcedure(t *testing.T) {
	r := program(t, "", "measure", exampleShort, "--under", "us-model")
	require.Zero(t, r.code, r.err)
	for _, want := range []string{"Arithmetic after the handbook’s pattern", "No tolerance stated", "from memory", "Heights of the back: 0 of at least 4, in row 1, 2, 3", "3/16 in", "in the seller’s favour"} {
		assert.Contains(t, r.out, want)
	}
	assert.NotContains(t, program(t, "", "measure", exampleShort).out, "procedure’s")

	var answer struct {
		Volume    map[string]float64
		Procedure struct {
			CubicFeet float64 `json:"cubic_feet"`
			Exact     float64 `json:"exact_cubic_feet"`
			Error     float64 `json:"error_cubic_feet"`
			Word      string
			Readings  []struct{ Seen, Wanted int }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(program(t, "", "measure", exampleShort, "--under", "us-model", "--json").out), &answer))
	// Worked example 1 has upright ends and no gaps, so the averages before rounding
	// are the model's own volume.
	assert.InDelta(t, answer.Volume["cubic_feet"], answer.Procedure.Exact, 1e-6)
	assert.Greater(t, answer.Procedure.CubicFeet, answer.Procedure.Exact, "rounding up is in the seller's favour")
	assert.InDelta(t, answer.Procedure.CubicFeet-128, answer.Procedure.Error, 1e-9)
	assert.Equal(t, "no tolerance stated", answer.Procedure.Word)
	assert.NotEmpty(t, answer.Procedure.Readings)
}

func TestWoodHoldsSharesToTheTolerance(t *testing.T) {
	r := program(t, "", "wood", "--mix", "60 % oak, 40 % maple", "--counted", "oak 600, maple 400")
	require.Zero(t, r.code, r.err)
	assert.Contains(t, r.out, "Within the tolerance")
	assert.Contains(t, r.out, "section 2.4.2")
	assert.Contains(t, program(t, "", "wood", "--mix", "60 % oak, 40 % maple", "--counted", "oak 600, maple 400", "--under", "maine").out,
		"No tolerance is stated", "Maine's rules say nothing of shares")
	refused := program(t, "", "wood", "--mix", "60 % oak", "--counted", "oak 1", "--json")
	assert.Equal(t, exitRefused, refused.code)
	assert.Contains(t, refused.out, `"error"`)
}

// Two tallies together under rules of sale have a procedure's result each.
func TestTogetherUnderHasAProcedureEach(t *testing.T) {
	r := program(t, "", "measure", exampleShort, root+"/testdata/example-short-second.json", "--under", "us-model")
	require.Zero(t, r.code, r.err)
	assert.Equal(t, 2, strings.Count(r.out, "Arithmetic after the handbook’s pattern: "))
}

func TestSeriesOfDeliveries(t *testing.T) {
	r := program(t, "", "series", exampleShort, root+"/testdata/example-not-settled.json")
	require.Zero(t, r.code, r.err)
	assert.Contains(t, r.out, "2 audits: too few to say what is usual")
	assert.Contains(t, r.out, "−3.8 % of what was sold", "worked example 1: 0.9621936 of a cord")
	assert.Contains(t, r.out, "−2.9 % of what was sold", "worked example 2: 0.9712208 of a cord")
	assert.NotContains(t, r.out, "on average")
	assert.Contains(t, program(t, "", "series", exampleShort).out, "One audit: too few")
	one, err := os.ReadFile(exampleShort)
	require.NoError(t, err)
	line := strings.Join(strings.Fields(string(one)), " ")
	assert.Contains(t, program(t, line+"\n"+line+"\n", "series", "-").out, "2 audits")
	refused := program(t, `{"format": 1}`, "series", "-")
	assert.Equal(t, exitRefused, refused.code)
}

// An office's own procedure takes the place of arithmetic after a handbook's pattern, and
// is printed with its source; a faulty file is refused by its line.
func TestMeasureByAnOfficesProcedure(t *testing.T) {
	county := root + "/testdata/procedure-county.json"
	r := program(t, "", "measure", exampleShort, "--procedure", county)
	require.Zero(t, r.code, r.err)
	for _, want := range []string{"Result by the inspection procedure", "By Slate County: checking stacked firewood, edition 2026", "2 % of what is due: an invented office's own text", "Row lengths at several heights: 1 of at least 3", "1/8 in"} {
		assert.Contains(t, r.out, want)
	}
	assert.NotContains(t, r.out, "from memory")
	both := program(t, "", "measure", exampleShort, root+"/testdata/example-short-second.json", "--procedure", county)
	require.Zero(t, both.code, both.err)
	assert.Equal(t, 2, strings.Count(both.out, "Result by the inspection procedure: "))
	text, err := os.ReadFile(county)
	require.NoError(t, err)
	bad := t.TempDir() + "/bad.json"
	require.NoError(t, os.WriteFile(bad, []byte(strings.Replace(string(text), `"up"`, `"upward"`, 1)), 0o600))
	for _, args := range [][]string{{"measure", exampleShort}, {"serve", "--demo"}} {
		refused := program(t, "", append(args, "--procedure", bad)...)
		assert.Equal(t, exitRefused, refused.code)
		assert.Contains(t, refused.err, `bad.json: line 8: rounding: "upward" is none of`)
	}
}
