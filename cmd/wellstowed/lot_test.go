package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const (
	lotJSON = root + "/testdata/lot-rack.json"
	lotCSV  = root + "/testdata/lot-rack.csv"
)

// TestLotJudges holds the printed figures against Python's statistics.mean and
// stdev of the twelve errors, in cubic feet, and 0.635 times the latter.
func TestLotJudges(t *testing.T) {
	r := program(t, "", "lot", lotJSON, "--json")
	require.Equal(t, exitDone, r.code, r.err)
	var got struct {
		Finding    string
		Packages   []struct{ Number int }
		Average    float64  `json:"average_error_cubic_feet"`
		Spread     float64  `json:"standard_deviation_cubic_feet"`
		Limit      float64  `json:"sample_error_limit_cubic_feet"`
		Individual *float64 `json:"individual_limit_cubic_feet"`
		Grounds    []struct{ Code, Text, Source, Status string }
		Notes      []struct{ Code string }
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &got), r.out)
	assert.Equal(t, "pass", got.Finding)
	assert.Len(t, got.Packages, 12)
	assert.InDelta(t, -0.002700617284, got.Average, 1e-10)
	assert.InDelta(t, 0.006862119586, got.Spread, 1e-10)
	assert.InDelta(t, 0.635*0.006862119586, got.Limit, 1e-10)
	assert.Nil(t, got.Individual)
	assert.Equal(t, "from memory", got.Grounds[0].Status)
	assert.NotEmpty(t, got.Grounds[0].Source)
	require.Len(t, got.Notes, 1, "the packages are those the seed draws")
	assert.Equal(t, "not-official", got.Notes[0].Code)

	csv, err := os.ReadFile(lotCSV)
	require.NoError(t, err)
	assert.Equal(t, r.out, program(t, string(csv), "lot", "-", "--json").out, "the same lot as CSV, from standard input")
}

// The plan of a rule set is taken where one is named, and a county's file may change it.
func TestLotUnderARuleSet(t *testing.T) {
	bundles := root + "/testdata/lot-canada.csv"
	r := program(t, "", "lot", bundles, "--under", "canada", "--units", "metric")
	require.Equal(t, exitDone, r.code, r.err)
	for _, want := range []string{"Pass: on the average of 10 packages", "Plan: Canada: examination of a lot by sample.", "−0.228 dm³", "1.028", "Individual limit, by the plan: 0.750 dm³", "* −0.800 dm³"} {
		assert.Contains(t, r.out, want)
	}
	assert.Contains(t, program(t, "", "lot", "--size", "129", "--seed", "1", "--under", "canada").out, "Measure 32 of 129 packages")
	assert.Contains(t, program(t, "", "lot", bundles).out, "A lot of 40 needs 12.", "without a set, the handbook's plan")

	county := filepath.Join(t.TempDir(), "county.json")
	require.NoError(t, os.WriteFile(county, []byte(`{"extends": "canada", "code": "our-county", "name": "Our county", "edition": "2026", "date": "2026-11-28",
		"source": "our own order", "status": "read", "units": [], "barred": [], "required": [],
		"lots": {"name": "Our county: every package", "words": "Every package is measured.", "source": "our own order, 1", "status": "read",
			"samples": {"source": "our own order, 2", "status": "read", "rows": [{"percent": 100}]},
			"factors": {"source": "our own order, 3", "status": "read", "rows": [{"packages": 2, "t": 1}]},
			"short": {"source": "our own order, 4", "status": "read", "rows": [{"to": 500, "fails_at": 1}]},
			"twice": {"source": "our own order, 5", "status": "read", "fails_at": 1}}}`), 0o600))
	own := program(t, "", "lot", bundles, "--rules", county, "--under", "our-county")
	require.Equal(t, exitDone, own.code, own.err)
	assert.Contains(t, own.out, "Fail: too many packages are short by more than the individual limit.")
	assert.Contains(t, own.out, "Measured: 10")
	refused := program(t, "", "lot", bundles, "--rules", county)
	assert.Equal(t, exitRefused, refused.code)
	assert.Contains(t, refused.err, "--under CODE")
}

func TestLotForPeople(t *testing.T) {
	r := program(t, "", "lot", lotCSV)
	require.Equal(t, exitDone, r.code, r.err)
	first, _, _ := strings.Cut(r.out, "\n")
	assert.Contains(t, first, "Pass: on the average of 12 packages")
	assert.Contains(t, r.out, "from memory: NIST Handbook 133")
	assert.Contains(t, r.out, "not an official result")
	metric := program(t, "", "lot", lotCSV, "--units", "metric")
	assert.Contains(t, metric.out, "21.238 L")
}

func TestLotReport(t *testing.T) {
	out := filepath.Join(t.TempDir(), "lot.pdf")
	r := program(t, "", "lot", lotCSV, "-o", out, "--paper", "a4")
	require.Equal(t, exitDone, r.code, r.err)
	pdf, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(pdf), "%PDF-"))
	assert.Equal(t, exitRefused, program(t, "", "lot", lotCSV, "-o", out).code, "a file is never overwritten")
}

func TestLotDraws(t *testing.T) {
	r := program(t, "", "lot", "--size", "30", "--seed", "12345")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "Measure 12 of 30 packages: 3, 6, 9, 12, 13, 14, 16, 18, 19, 22, 26, 30\n")
	assert.Contains(t, r.out, "from memory")

	made := program(t, "", "lot", "--size", "30")
	seed := regexp.MustCompile(`Seed +(\d+)`).FindStringSubmatch(made.out)
	require.NotNil(t, seed, made.out)
	assert.Equal(t, made.out, program(t, "", "lot", "--size", "30", "--seed", seed[1]).out, "the seed that is printed draws the same")

	var got struct {
		Seed  uint64
		Picks []int
	}
	r = program(t, "", "lot", "--size", "3", "--seed", "7", "--json")
	require.NoError(t, json.Unmarshal([]byte(r.out), &got), r.out)
	assert.Equal(t, uint64(7), got.Seed)
	assert.Equal(t, []int{1, 2, 3}, got.Picks)
	assert.Contains(t, program(t, "", "lot", "--size", "1").out, "can't be judged")
}

func TestLotRefusesAndSaysWhy(t *testing.T) {
	for _, row := range []struct {
		name, in, says string
		args           []string
	}{
		{"no file and no size", "", "FILE", nil},
		{"a size of none", "", "1 to 1000000", []string{"--size", "0"}},
		{"a size and a file", "", "--size", []string{"--size", "3", lotJSON}},
		{"a seed with a file", "", "--seed", []string{lotJSON, "--seed", "3"}},
		{"a seed below zero", "", "seed", []string{"--size", "3", "--seed", "-3"}},
		{"unknown units", "", "metric", []string{lotJSON, "--units", "cubits"}},
		{"unknown paper", "", "a4", []string{lotJSON, "--paper", "legal"}},
		{"no such file", "", "none.csv", []string{"none.csv"}},
		{"a bad line", "# format: 1\n# labelled: 1 cu ft\n# lot size: 2\nnumber,volume\n1,0.9\n", "line 5, volume: read “0.9”", []string{"-"}},
		{"a bad document", `{"format": 1}`, "labelled", []string{"-"}},
		{"nothing", "", "the lot is missing", []string{"-"}},
	} {
		r := program(t, row.in, append([]string{"lot"}, row.args...)...)
		assert.Equal(t, exitRefused, r.code, row.name)
		assert.Contains(t, r.err, row.says, row.name)
	}
	r := program(t, "[]", "lot", "-", "--json")
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.out, `"error"`)
}

// A draw for a named lot is kept, and the next one prints every seed before it.
func TestLotDrawsLeaveATrace(t *testing.T) {
	db := filepath.Join(t.TempDir(), "shop.db")
	makeShop(t, db)
	for _, seed := range []string{"777", "12345"} {
		r := program(t, "", "lot", "--size", "30", "--seed", seed, "--lot", "Corner Store", "--db", db)
		require.Equal(t, exitDone, r.code, r.err)
		if seed == "12345" {
			assert.Contains(t, r.out, "Drawn 2 times for this lot, in this order: seeds 777, 12345.")
		}
	}
	refused := program(t, "", "lot", lotCSV, "--lot", "Corner Store")
	assert.Equal(t, exitRefused, refused.code)
	csv, err := os.ReadFile(lotCSV)
	require.NoError(t, err)
	with := strings.Replace(string(csv), "# seed: 12345", "# seed: 12345\n# drawn: 777, 12345", 1)
	judged := program(t, with, "lot", "-")
	require.Equal(t, exitDone, judged.code, judged.err)
	assert.Contains(t, judged.out, "seeds 777, 12345.")
	bad := program(t, strings.Replace(with, "777,", "seven,", 1), "lot", "-")
	assert.Equal(t, exitRefused, bad.code)
	assert.Contains(t, bad.err, "seven")
}
