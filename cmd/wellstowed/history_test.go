package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestHistorySaysWhoDidWhat(t *testing.T) {
	db := filepath.Join(t.TempDir(), "shop.db")
	makeShop(t, db)
	r := program(t, "", "history", "order", "1", "--db", db)
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "the owner delivered, and the receipt was made.")
	assert.Contains(t, r.out, "the owner took the order.")
	audit := program(t, "", "history", "audit", "1", "--db", db)
	require.Equal(t, exitDone, audit.code, audit.err)
	assert.Contains(t, audit.out, "the owner opened the audit.")
	for _, asked := range [][]string{{"order", "first"}, {"receipt", "1"}, {"customer", "nobody at all"}} {
		assert.Equal(t, exitRefused, program(t, "", "history", asked[0], asked[1], "--db", db).code, asked)
	}
	assert.Equal(t, exitFailed, program(t, "", "history", "order", "9999", "--db", db).code)
}
