package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// demoAt is the demonstration's file, and its scenario.
func demoAt(t *testing.T) (path string, told demo) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "demo.db")
	makeShop(t, path)
	require.NoError(t, json.Unmarshal(demoScenario, &told))
	return path, told
}

// The season at the terminal begins with July, names the month that wood was delivered in,
// and has each sum that its JSON has.
func TestTheSeasonAtTheTerminal(t *testing.T) {
	path, _ := demoAt(t)
	r := programAt(t, testNow(), "season", "--db", path)
	require.Equal(t, exitDone, r.code, r.err)
	first, _, _ := strings.Cut(r.out, "\n")
	assert.Equal(t, "Since 1 July 2026", first)
	// By the scenario: 2, 1 1/3, 1/2, 1 1/2, 1, 3/4 and 2/3 cords in November, one before.
	assert.Contains(t, r.out, "\nOctober    1 cord (128 ft³) (the season before: nothing)\nNovember   7 3/4 cords (992 ft³), 180 ft³ loose (the season before: nothing)\n")
	var sums struct {
		In    struct{ Minor int64 } `json:"in"`
		Due   struct{ Minor int64 } `json:"due"`
		Loads struct{ Loads, Measured, Short, Unresolved int }
	}
	asJSON := programAt(t, testNow(), "season", "--db", path, "--json")
	require.NoError(t, json.Unmarshal([]byte(asJSON.out), &sums), asJSON.out)
	require.Positive(t, sums.Loads.Measured)
	assert.Contains(t, r.out, fmt.Sprintf("Measured: %d of %d loads, %d short, %d can't tell yet.\n", sums.Loads.Measured, sums.Loads.Loads, sums.Loads.Short, sums.Loads.Unresolved))
	assert.Contains(t, r.out, "Money in: $")
}

// Each customer of the shop is listed with what was ordered; part of a name finds one, and
// what finds nobody says so.
func TestCustomersAtTheTerminal(t *testing.T) {
	path, told := demoAt(t)
	all := program(t, "", "customers", "--db", path)
	require.Equal(t, exitDone, all.code, all.err)
	for _, o := range told.Orders {
		line := ""
		for each := range strings.SplitSeq(all.out, "\n") {
			if strings.HasPrefix(each, o.Order.CustomerName+", ") {
				line = each
			}
		}
		require.Contains(t, line, o.Order.CustomerPhone, "%s in\n%s", o.Order.CustomerName, all.out)
		assert.Contains(t, line, "1 ordered, the last on ")
	}
	one := program(t, "", "customers", "--db", path, "toll")
	require.Equal(t, exitDone, one.code, one.err)
	assert.Contains(t, one.out, "Maren Tolliver, 14 Quarry Bend, Hollin Gap, 555-0101")
	none := program(t, "", "customers", "--db", path, "zzyzx")
	assert.Equal(t, "Nobody is found by that.\n", none.out)
}

// What can't be printed is refused by its field before anything is written, and a file that
// is there is never written over.
func TestPapersAtTheTerminalAreRefusedWhole(t *testing.T) {
	path, _ := demoAt(t)
	dir := t.TempDir()
	out := filepath.Join(dir, "labels.pdf")
	labels := []string{"labels", "--db", path, "--identity", "Firewood, split red oak", "--price", "7.50", "-o", out}
	bad := program(t, "", append(labels, "--quantity", "a heap")...)
	assert.Equal(t, exitRefused, bad.code, bad.out)
	assert.Contains(t, bad.err, "quantity")
	assert.NoFileExists(t, out)
	good := program(t, "", append(labels, "--quantity", "0.75 cu ft")...)
	require.Equal(t, exitDone, good.code, good.err)
	written, err := os.ReadFile(out)
	require.NoError(t, err)
	again := program(t, "", append(labels, "--quantity", "0.5 cu ft")...)
	assert.NotEqual(t, exitDone, again.code)
	kept, err := os.ReadFile(out)
	require.NoError(t, err)
	assert.Equal(t, written, kept)
}

// JSON for programs has every letter as it is.
func TestJSONAtTheTerminalHasLettersAsTheyAre(t *testing.T) {
	file := filepath.Join(t.TempDir(), "valley.json")
	require.NoError(t, os.WriteFile(file, []byte(`{"code": "valley", "name": "Hill & Vale <north>", "edition": "2", "date": "2026-02-01", "extends": "us-model", "source": "town office", "status": "read"}`), 0o600))
	for _, args := range [][]string{{"rules", "--table", "--json", "--rules", file}, {"rules", "valley", "--json", "--rules", file}} {
		r := program(t, "", args...)
		require.Equal(t, exitDone, r.code, r.err)
		assert.Contains(t, r.out, "Hill & Vale <north>", args)
	}
}
