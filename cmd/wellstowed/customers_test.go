package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A list is brought in as a terminal does it: looked at, kept, and kept once.
func TestCustomersAreBroughtInAtTheTerminal(t *testing.T) {
	bin, dir := buildProgram(t), t.TempDir()
	makeShop(t, filepath.Join(dir, "shop.db"))
	list, err := os.ReadFile(filepath.Join(root, "testdata", "customers.csv"))
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "list.csv"), list, 0o600))
	run := func(args ...string) string {
		t.Helper()
		out, err := runProgram(t, bin, dir, append([]string{"customers"}, args...)...)
		require.NoError(t, err, out)
		return out
	}
	assert.Contains(t, run("import", "--dry-run", "--db", "shop.db", "list.csv"), "2 new: would be kept; nothing is yet.")
	assert.Contains(t, run("brackenbury", "--db", "shop.db"), "Nobody is found")
	assert.Contains(t, run("import", "--db", "shop.db", "list.csv"), "2 new: kept.")
	assert.Contains(t, run("brackenbury", "--db", "shop.db"), "Otho Brackenbury, 48 Tannery Row, Dunmarrow, 555-0172, no order yet")
	assert.Contains(t, run("import", "--db", "shop.db", "list.csv"), "0 new: kept.")
	assert.Contains(t, run("tolliver", "--db", "shop.db"), "555-0101, 1 ordered, the last on ")
}
