package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts"
)

func TestSeveralTalliesAreCombined(t *testing.T) {
	doc, err := os.ReadFile(exampleShort)
	require.NoError(t, err)
	other := filepath.Join(t.TempDir(), "ben.json")
	require.NoError(t, os.WriteFile(other, []byte(strings.Replace(string(doc), "48 1/2 in", "48 in", 1)), 0o600))
	r := program(t, "", "measure", exampleShort, other)
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "The 2 tallies agree within their give or take.")
	assert.Contains(t, r.out, "Short by 0.04 cord")

	r = program(t, "", "measure", exampleShort, other, "--json")
	require.Equal(t, exitDone, r.code, r.err)
	var got struct {
		Agree  bool
		Pairs  []any
		Each   []any
		Answer struct{ Volume struct{ Cord float64 } }
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &got))
	assert.True(t, got.Agree)
	assert.Len(t, got.Pairs, 1)
	assert.Len(t, got.Each, 2)
	assert.InDelta(t, 0.962, got.Answer.Volume.Cord, 0.001)
}

func TestTalliesThatAreNotCombined(t *testing.T) {
	dir := t.TempDir()
	heap, bad := filepath.Join(dir, "heap.json"), filepath.Join(dir, "bad.json")
	require.NoError(t, os.WriteFile(heap, []byte(`{"format":1,"stack":{"kind":"heap","shape":"ridge","length":"12 ft","width":"8 ft","height":"4 ft"}}`), 0o600))
	require.NoError(t, os.WriteFile(bad, []byte(`{"format":1}`), 0o600))
	for _, row := range []struct {
		args []string
		says string
	}{
		{[]string{exampleShort, heap}, "not of the same kind"},
		{[]string{exampleShort, bad}, "bad.json was refused"},
		{[]string{exampleShort, filepath.Join(dir, "none.json")}, "none.json"},
		{[]string{exampleShort, exampleShort, "--lines"}, "--lines"},
	} {
		r := program(t, "", append([]string{"measure"}, row.args...)...)
		assert.Equal(t, exitRefused, r.code, row.says)
		assert.Contains(t, r.err, row.says)
	}
	r := program(t, "", "measure", exampleShort, heap, "--json")
	assert.Equal(t, exitRefused, r.code)
	assert.True(t, json.Valid([]byte(r.out)), r.out)
}

// Minnesota Statutes, section 239.33: 120 cubic feet of sawed and split wood.
func TestACordUnderRulesIsWhatTheyTakeItFor(t *testing.T) {
	doc, err := os.ReadFile(exampleShort)
	require.NoError(t, err)
	tally := func(sold, apart string) string {
		var d map[string]any
		require.NoError(t, json.Unmarshal(doc, &d))
		d["sold"], d["apart"] = sold, apart
		typed, err := json.Marshal(d)
		require.NoError(t, err)
		file := filepath.Join(t.TempDir(), "tally.json")
		require.NoError(t, os.WriteFile(file, append(typed, '\n'), 0o600))
		return file
	}
	said := tally("1 cord sawed and split", "1/4 cord sawed and split")
	for _, bare := range []string{tally("1 cord", "none"), tally("1 cord sawed and split", "1/4 cord")} {
		for _, args := range [][]string{{bare}, {said, bare}, {bare, "--json"}, {bare, "--lines"}} {
			r := program(t, "", append([]string{"measure", "--under", "minnesota"}, args...)...)
			assert.Equal(t, exitRefused, r.code, args)
			assert.Contains(t, strings.ToLower(r.out+r.err), "how is the wood prepared?", args)
			assert.NotContains(t, r.out, "Sold          128 ft³", args)
		}
		assert.Equal(t, exitDone, program(t, "", "measure", bare).code, "no rules were named")
	}
	r := program(t, "", "measure", said, "--under", "minnesota")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "Sold          120 ft³ stacked")
	assert.Contains(t, r.out, "30 ft³ stacked is said not to be in this stack; 90 ft³ should be here")
}

// A measurement sheet's PDF is measured as the tally is that it was made of, alone and
// beside another; a PDF without one is refused with what would be taken.
func TestASheetIsMeasuredFromItsPDF(t *testing.T) {
	doc, err := os.ReadFile(exampleShort)
	require.NoError(t, err)
	tally, err := stack.ParseTally(doc)
	require.NoError(t, err)
	s := orders.Sheet{Number: 7, Issued: time.Date(2026, 3, 14, 15, 40, 0, 0, time.UTC), Language: "en", Paper: orders.Letter, Units: act.Imperial, Zone: "UTC"}
	require.NoError(t, json.Unmarshal(doc, &s.Tally))
	s.Result, err = stack.Measure(tally)
	require.NoError(t, err)
	painter, err := receipts.New()
	require.NoError(t, err)
	pdf, err := painter.Sheet(s)
	require.NoError(t, err)
	form, err := painter.BlankTally("en", orders.Letter, act.Imperial)
	require.NoError(t, err)
	dir := t.TempDir()
	sheet, blank := filepath.Join(dir, "measurement-sheet-7.pdf"), filepath.Join(dir, "tally-form.pdf")
	require.NoError(t, os.WriteFile(sheet, pdf, 0o600))
	require.NoError(t, os.WriteFile(blank, form, 0o600))

	for _, flags := range [][]string{nil, {"--json"}, {"--under", "us-model"}, {"--units", "metric"}} {
		of := program(t, "", append([]string{"measure", exampleShort}, flags...)...)
		from := program(t, "", append([]string{"measure", sheet}, flags...)...)
		require.Equal(t, exitDone, from.code, from.err)
		require.Equal(t, of, from, "%v", flags)
	}
	require.Equal(t, program(t, "", "measure", exampleShort), program(t, string(pdf), "measure", "-"))
	two := program(t, "", "measure", sheet, exampleShort)
	require.Equal(t, exitDone, two.code, two.err)
	require.Contains(t, two.out, "The 2 tallies agree")

	for _, args := range [][]string{{blank}, {exampleShort, blank}} {
		r := program(t, "", append([]string{"measure"}, args...)...)
		require.Equal(t, exitRefused, r.code)
		require.Contains(t, r.err, "tally-form.pdf")
		require.Contains(t, r.err, "no tally is inside this PDF")
		require.Contains(t, r.err, "the PDF of a measurement sheet as it was downloaded")
	}
}
