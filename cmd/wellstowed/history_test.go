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
	assert.Contains(t, r.out, "deliver, by ")
	assert.Contains(t, r.out, "take order, by ")
	audit := program(t, "", "history", "audit", "1", "--db", db)
	require.Equal(t, exitDone, audit.code, audit.err)
	assert.Contains(t, audit.out, "open audit, by ")
	for _, asked := range [][]string{{"order", "first"}, {"receipt", "1"}, {"customer", "nobody at all"}} {
		assert.Equal(t, exitRefused, program(t, "", "history", asked[0], asked[1], "--db", db).code, asked)
	}
	assert.Equal(t, exitFailed, program(t, "", "history", "order", "9999", "--db", db).code)
}
