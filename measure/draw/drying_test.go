package draw

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// The curves read back from the picture meet the moisture aimed at when the
// forecast says, and the likely one stays inside the band.
func TestDryingIsTheForecast(t *testing.T) {
	green, err := wood.DryBasis(83)
	require.NoError(t, err)
	aim, err := wood.DryBasis(20)
	require.NoError(t, err)
	f, err := wood.Dries(green, aim, wood.OutdoorEquilibrium())
	require.NoError(t, err)
	d := Drying(f, 100*measure.Millimetre)
	c := newDryingChart(f, margin+8*measure.Millimetre, d.Width-margin-2*measure.Millimetre, 0)
	months := func(p Point) float64 { return (p.X - c.left).In(c.right-c.left) * float64(c.months) }

	var target measure.Length
	for _, l := range d.Lines {
		if l.Role == "aim" {
			target = l.A.Y
		}
	}
	require.NotZero(t, target)
	var crossed float64
	for _, l := range d.Lines {
		if l.Role == "likely" && l.A.Y < target && l.B.Y >= target {
			crossed = months(l.B)
		}
	}
	assert.InDelta(t, f.Likely.Months(), crossed, 1.0/dryingSteps+0.05, "a quarter of a month is one step of the curve")
	require.Len(t, d.Polygons, 1)
	band := d.Polygons[0].Points
	n := len(band) / 2
	for i, l := range d.Lines {
		if l.Role == "likely" {
			k := d.Lines[i].Index
			assert.LessOrEqual(t, band[2*n-1-k].Y, l.B.Y, "never wetter than the slowest")
			assert.GreaterOrEqual(t, band[k].Y, l.B.Y, "never drier than the fastest")
		}
	}
	for _, p := range band {
		assert.True(t, p.X >= 0 && p.X <= d.Width && p.Y >= 0 && p.Y <= d.Height, "inside the picture")
	}

	dry, err := wood.Dries(aim, aim, wood.OutdoorEquilibrium())
	require.NoError(t, err)
	assert.Zero(t, Drying(dry, 100*measure.Millimetre), "nothing is left to dry")
}
