package main

import (
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/people"
	"wellstowed/orders/store"
	"wellstowed/receipts"
)

var printedCode = regexp.MustCompile(`enter ([0-9A-Z]{4} [0-9A-Z]{4})`)

// Serving without people prints a code for the first owner; from then on it prints none,
// and a reset does.
func TestTheTerminalLetsAnOwnerIn(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	r := served(t, "--db", path)
	require.Equal(t, exitDone, r.code, r.err)
	code := printedCode.FindStringSubmatch(r.out)
	require.NotNil(t, code, r.out)
	redeem := func(code, password string) error {
		db, err := store.Open(t.Context(), path)
		require.NoError(t, err)
		defer db.Close()
		painter, err := receipts.New()
		require.NoError(t, err)
		_, _, err = orders.New(db, painter, time.Now).People.Redeem(t.Context(),
			people.CodeRequest{Code: code, Name: "Rosalind Pike", Password: password}, people.Device{})
		return err
	}
	require.NoError(t, redeem(code[1], "four ash wedges"))
	assert.NotContains(t, served(t, "--db", path).out, "enter")

	r = program(t, "", "owner", "reset", "--db", path)
	require.Equal(t, exitDone, r.code, r.err)
	code = printedCode.FindStringSubmatch(r.out)
	require.NotNil(t, code, r.out)
	require.NoError(t, redeem(code[1], "five oak wedges"))
	assert.Error(t, redeem(code[1], "five oak wedges"))

	r = program(t, "", "owner", "reset", "--db", path+".nothing")
	assert.Equal(t, exitRefused, r.code)
	assert.NotContains(t, served(t, "--demo").out, "enter")
}
