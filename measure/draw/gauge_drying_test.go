package draw_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
)

// Where drying is allowed for, short is read off the lower end of its band.
func TestGaugeDryingBand(t *testing.T) {
	tally := shortTally()
	tally.SoldCondition, tally.Condition = stack.Green, "seasoned"
	tally.Moisture = &stack.Moisture{Percent: 18, Basis: stack.DryBasis, Pieces: 6, Method: "meter"}
	tally.Shrinkage = &stack.Shrinkage{Percent: 13.7}
	for _, sold := range []measure.Volume{measure.Cord, 5 * measure.Cord / 4} {
		tally.Sold.Quantity.Volume = sold
		r := measured(t, tally)
		for _, width := range []measure.Length{phone, paper} {
			d := gaugeOf(r, width, false)
			requireLegible(t, svg(t, d))
			var band []draw.Point
			for _, p := range d.Polygons {
				if p.Role == "drying" {
					band = p.Points
				}
			}
			require.Len(t, band, 4)
			assert.Less(t, band[0].X, band[1].X, "it reaches from what was sold down to what may be left of it")
			word, _ := readGauge(d)
			assert.Equal(t, r.Finding.Word, word)
		}
	}
}

// Thrown wood held against a loose sale has an expectation, and no ticks.
func TestGaugeOfAnExpectationOnOneBasis(t *testing.T) {
	tally := kindTally(kindStacks()["load"])
	tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: 90 * measure.CubicFoot, Basis: measure.Loose}}
	d := gaugeOf(measured(t, tally), phone, false)
	requireLegible(t, svg(t, d))
	roles := map[string]bool{}
	for _, l := range d.Lines {
		roles[l.Role] = true
	}
	assert.True(t, roles["sold"])
	assert.False(t, roles["short"], "no part accuses or clears")
	assert.False(t, roles["full"])
}
