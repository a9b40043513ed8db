package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A price list is brought in as a terminal does it: looked at, kept, and kept once; an odd
// price is asked about before anything is.
func TestPricesAreBroughtInAtTheTerminal(t *testing.T) {
	bin, dir := buildProgram(t), t.TempDir()
	makeShop(t, filepath.Join(dir, "shop.db"))
	list, err := os.ReadFile(filepath.Join(root, "testdata", "prices.csv"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "list.csv"), list, 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "odd.csv"), []byte("wood,seasoning,length,price\nred oak,seasoned,16 in,34\nash,,,face cord\n"), 0o600))
	run := func(args ...string) string {
		t.Helper()
		out, err := runProgram(t, bin, dir, append([]string{"prices", "--db", "shop.db"}, args...)...)
		require.NoError(t, err, out)
		return out
	}
	assert.Contains(t, run("import", "--dry-run", "list.csv"), "3 new: would be written down; nothing is yet.")
	assert.NotContains(t, run(), "Mixed hardwood")
	assert.Contains(t, run("import", "list.csv"), "Line 2, red oak, 16 in, seasoned: as it is on the list")
	assert.Contains(t, run(), "Mixed hardwood, seasoned: $165.00 for 1/2 cord")
	assert.Contains(t, run("import", "list.csv"), "0 new: written down.")
	odd := run("import", "--dry-run", "odd.csv")
	assert.Contains(t, odd, "Line 2: not understood: price: 34.00 USD is far from the price now, which is 340.00 USD")
	assert.Contains(t, odd, "Line 3: not understood: price: it is not one plain amount in USD")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "twice.csv"), []byte("wood,price\nblack ash,300\nBlack ash,300\nblack ash,290\n"), 0o600))
	twice := run("import", "--dry-run", "twice.csv")
	assert.Contains(t, twice, "1 new: would be written down")
	assert.Contains(t, twice, "Line 3, Black ash: twice in the list")
	assert.Contains(t, twice, "Line 4: not understood: twice in the list, with two prices from the same day")
	out, err := runProgram(t, bin, dir, "prices", "import", "--db", "shop.db", "odd.csv")
	require.Error(t, err)
	assert.Contains(t, out, "line 2")
}
