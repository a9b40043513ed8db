package main

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestWood(t *testing.T) {
	r := program(t, "", "wood", "red oak", "--moisture", "20%", "--basis", "dry")
	require.Equal(t, exitDone, r.code, r.err)
	// 80 ft³ of red oak at 20 % dry basis are 3,529 lb (University of Missouri
	// Extension G5450 prints 3,609); 7/8 to 9/8 of it.
	assert.Contains(t, r.out, "Weight: 3,100 to 4,000 lb")
	assert.Contains(t, r.out, "Heat in the wood: 22 to 28 million Btu")
	assert.Contains(t, r.out, "second-hand")

	r = program(t, "", "wood", "red oak", "--moisture", "20%", "--basis", "dry", "--json")
	require.Equal(t, exitDone, r.code, r.err)
	var got struct {
		Pounds struct{ Mid float64 } `json:"weight_pounds"`
	}
	require.NoError(t, json.Unmarshal([]byte(r.out), &got))
	assert.InDelta(t, 3529, got.Pounds.Mid, 3)

	r = program(t, "", "wood", "oak", "--moisture", "20%")
	assert.Equal(t, exitRefused, r.code)
	assert.Contains(t, r.err, "Northern red oak")
	assert.Contains(t, r.err, "dry")
}

// 70 °F and 65 % come to 12.0 % (Wood Handbook 2021, Table 4-2, from memory).
func TestWoodInAir(t *testing.T) {
	r := program(t, "", "wood", "--air", "70F", "--humidity", "65%")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "12 % dry basis")
	for _, wrong := range [][]string{
		{"--air", "70", "--humidity", "65%"}, {"--air", "70F"}, {"--air", "70F", "--humidity", "damp"}, {"--air", "70F", "--humidity", "NaN"},
		{"--air", "70F", "--humidity", "120%"}, {"--air", "400F", "--humidity", "65%"}, {"oak", "--air", "70F", "--humidity", "65%"},
	} {
		assert.Equal(t, exitRefused, program(t, "", append([]string{"wood"}, wrong...)...).code, "%q", wrong)
	}
}
