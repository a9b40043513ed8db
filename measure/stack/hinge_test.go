package stack

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/student"
)

// What the whole estimate reaches with the stowing taken as large as the hinge says is
// what was due: the word falls there and not before.
func TestHingeIsWhereShortFalls(t *testing.T) {
	before := stowageCounted
	for _, sold := range []float64{1, 1.05, 1.1} {
		tally := nearestTally()
		tally.Sold.Quantity.Volume = volume(sold * 128 * 1728)
		r := measured(t, tally)
		require.Equal(t, Short, r.Finding.Word)
		h := r.Hinge()
		require.NotNil(t, h)
		assert.Equal(t, Stowage, h.Source)
		assert.Equal(t, r.Doubt[0].Share, h.Share)
		assert.Equal(t, stowageCounted, h.Taken)
		assert.Greater(t, h.Most, before, "the more is missing, the more the constant may be wrong")
		before = h.Most
		e, err := tally.Stack.estimate(&tally)
		require.NoError(t, err)
		c := e.against(h.Most, true)
		assert.InDelta(t, sold*128, (e.value+student.Quantile(0.95, c.degrees)*c.u)/1728, 2e-4)
	}
}

// Where the rounding wasn't said, what is told is no more than what holds.
func TestHingeIsNeverTooLarge(t *testing.T) {
	tally := shortTally()
	tally.Sold.Quantity.Volume = volume(1.05 * 128 * 1728)
	r := measured(t, tally)
	require.Equal(t, Short, r.Finding.Word)
	h := r.Hinge()
	require.NotNil(t, h)
	e, err := tally.Stack.estimate(&tally)
	require.NoError(t, err)
	whole, top := e.against(h.Most, true), e.against(h.Most, false)
	due := float64(r.Finding.Due) / float64(measure.CubicInch)
	assert.LessOrEqual(t, e.value+student.Quantile(0.95, whole.degrees)*whole.u, due)
	assert.LessOrEqual(t, e.seen(highest)+student.Quantile(0.95, top.degrees)*top.u, due+1e-3)
}

func TestHingeOnlyWhereOneConstantCarriesMost(t *testing.T) {
	tally := nearestTally()
	tally.Sold = nil
	r := measured(t, tally)
	h := r.Hinge()
	require.NotNil(t, h, "the doubt is there without a sale")
	assert.Zero(t, h.Taken)
	assert.Zero(t, h.Most)

	r = measured(t, notSettledTally())
	require.LessOrEqual(t, r.Doubt[0].Share, 0.5)
	assert.Nil(t, r.Hinge())

	r = measured(t, nearestTally())
	r.AgainstShortage = 0 // as results of model 1 have it
	assert.Nil(t, r.Hinge())
}
