package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/wood"
)

func TestMoistureVerb(t *testing.T) {
	r := program(t, "", "moisture", "16.5; 17; 15 15.5; 18; 16", "--basis", "dry", "--temperature", "60F")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "At or below 20 % dry basis, by these readings.")
	assert.Contains(t, r.out, "the meter’s own ±2.0 points with it")
	assert.Contains(t, r.out, "which is common practice")

	cold := program(t, "", "moisture", "16.5; 17; 15 15.5; 18; 16", "--basis", "dry")
	assert.Contains(t, cold.out, "These readings can’t tell whether the wood is at or below 20 % dry basis.")
	assert.Contains(t, cold.out, "temperature was not read")

	own := program(t, "", "moisture", "18; 18.5; 18; 17.5; 18", "--basis", "dry", "--temperature", "60F", "--accuracy", "0.5", "--correction", "0", "--json")
	var season wood.Season
	require.NoError(t, json.Unmarshal([]byte(own.out), &season), own.out)
	assert.Equal(t, wood.Below, season.Verdict)
	assert.InDelta(t, 0.5, season.Accuracy, 1e-9)

	other := program(t, "", "moisture", "22; 21.5; 23; 22; 21", "--basis", "dry", "--temperature", "15C", "--limit", "20% wet")
	assert.Contains(t, other.out, "At or below 20 % wet basis (25 % dry basis on a meter), by these readings.")

	refused := program(t, "", "moisture", "18,5", "--temperature", "warm")
	require.Equal(t, exitRefused, refused.code)
	for _, flag := range []string{"--basis", "--temperature"} {
		assert.Contains(t, refused.err, flag)
	}
}
