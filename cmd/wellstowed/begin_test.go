package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A shop begins at the terminal: what no flag says is asked, nothing is taken silently.
func TestAShopBeginsAtTheTerminal(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	nothing := program(t, "", "begin", "--db", path)
	assert.Equal(t, exitRefused, nothing.code)
	assert.Contains(t, nothing.err, "time zone the shop is in")
	zone := program(t, "Alder Lane Firewood\n4 Alder Lane, Hartwell\nNowhere\nUSD\nvermont\n300\n", "begin", "--db", path)
	assert.Equal(t, exitRefused, zone.code)
	assert.Contains(t, zone.err, "America/Chicago")
	r := program(t, "4 Alder Lane, Hartwell\nAmerica/New_York\nvermont\n300\n", "begin", "--db", path, "--firm", "Alder Lane Firewood", "--currency", "USD")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "Alder Lane Firewood sells in USD, in the time zone America/New_York, under vermont.\n")
	assert.Contains(t, r.out, "Any wood: $300.00 per cord.")
	again := program(t, "", "begin", "--db", path, "--firm", "Other")
	assert.NotEqual(t, exitDone, again.code)
}
