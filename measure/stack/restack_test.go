package stack

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

func restackDocument(more string) string {
	return `{"format":2,"sold":"1 cord","by":"buyer","apart":"none","look":2,` + more + `"stack":{"kind":"rows","nominal":"16 in","rows":[{"length":"8 ft","heights":["48 in","48 in","48 in"]}]}}`
}

func TestATallySaysWhetherTheWoodWasStackedAgain(t *testing.T) {
	tally, err := ParseTally([]byte(restackDocument(`"stacked":"again","stacked_by":"before",`)))
	require.NoError(t, err)
	assert.Equal(t, StackedAgain, tally.Stacked)
	assert.Equal(t, StackedAsBefore, tally.StackedBy)
	for more, field := range map[string]string{
		`"stacked":"perhaps",`:                       "stacked",
		`"stacked":"again","stacked_by":"nobody",`:   "stacked_by",
		`"stacked":"same","stacked_by":"buyer",`:     "stacked_by",
		`"stacked_by":"buyer",`:                      "stacked_by",
		`"stacked":"again","stacked_by":"Una Reed",`: "stacked_by",
	} {
		_, err := ParseTally([]byte(restackDocument(more)))
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, more)
		assert.Equal(t, field, faults[0].Field, more)
	}
}

// restackRow is a row of so many inches' height.
func restackRow(height measure.Length) Tally {
	heights := make([]measure.Length, 6)
	for i := range heights {
		heights[i] = height
	}
	return Tally{Look: 1, Tape: measure.Inch / 4, Top: Straightedge, Rounded: RoundNearest, TapeMade: SteelTape,
		Stack: Rows{Pieces: Pieces{Nominal: 16 * measure.Inch}, Rows: []Row{{Length: 192 * measure.Inch, Heights: heights, Ends: [2]End{{Kind: Upright}, {Kind: Upright}}}}}}
}

func TestRestackedTakesOutWhatTheShapeExplains(t *testing.T) {
	first, second := restackRow(48*measure.Inch), restackRow(48*measure.Inch)
	r, err := Restacked(first, second)
	require.NoError(t, err)
	assert.Zero(t, r.Difference)
	assert.Zero(t, r.Luck, "the same stack lies as it lay")
	assert.Greater(t, r.Read, 0.0)

	second.Stacked = StackedAgain
	r, err = Restacked(first, second)
	require.NoError(t, err)
	assert.InDelta(t, 0.12*math.Sqrt(2/(7*192*48/144.)), r.Luck, 1e-9, "0.12 by the square root of 7 pieces a square foot, twice")

	// 48 by 192 in stacked again as half as high and twice as long: each 192 by 1.8 in
	// more at the top and bottom, 2.3 in less of 48 at one end.
	second = restackRow(24 * measure.Inch)
	row := &second.Stack.(Rows).Rows[0]
	row.Length *= 2
	second.Stacked = StackedAgain
	r, err = Restacked(first, second)
	require.NoError(t, err)
	assert.InDelta(t, -(1.8*192-2.3*24)/(48*192), r.Difference, 1e-9)

	_, err = Restacked(first, Tally{Look: 2, Tape: measure.Inch / 4, Top: ByEye, Stack: Heap{Shape: RoundedHeap, Length: 12 * measure.Foot, Width: 8 * measure.Foot, Height: 4 * measure.Foot}})
	require.Error(t, err, "thrown wood tells nothing of stacking")
}

// People who stack as loosely as a known constant has it, read by readers of a known
// doubt, are what the constant is found from.
func TestStowingIsFoundFromPairs(t *testing.T) {
	draw := rand.New(rand.NewPCG(1, 2))
	for _, truth := range []float64{0.012, 0.02, 0.04} {
		pairs := make([]Restack, 4000)
		for i := range pairs {
			p := Restack{Read: 0.004 + 0.01*draw.Float64(), Luck: 0.005 + 0.01*draw.Float64()}
			p.Difference = truth*(draw.NormFloat64()-draw.NormFloat64()) + p.Read*draw.NormFloat64() + p.Luck*draw.NormFloat64()
			pairs[i] = p
		}
		s, ok := StowingOf(pairs)
		require.True(t, ok)
		assert.InEpsilon(t, truth, s, 0.05)
		_, ok = StowingOf(pairs[:EnoughRestacks-1])
		assert.False(t, ok)
	}
	s, ok := StowingOf(make([]Restack, EnoughRestacks))
	assert.True(t, ok)
	assert.Zero(t, s)
}
