package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// Heights of both faces are averaged station by station.
func TestRowsBackFace(t *testing.T) {
	both := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	row := &both.Stack.(Rows).Rows[0]
	row.Heights, row.Back = in(41, 38, 40, 45), in(39, 40, 44, 41)
	mean := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	mean.Stack.(Rows).Rows[0].Heights = in(40, 39, 42, 43)
	a, b := measured(t, both), measured(t, mean)
	assert.Equal(t, b.Quantity, a.Quantity)
	spread := func(r Result) measure.Volume { c, _ := contributionOf(r.Doubt, StationSpread, 1); return c.Standard }
	assert.Equal(t, spread(b), spread(a))
	_, one := contributionOf(b.Doubt, OneFace, 0)
	_, two := contributionOf(a.Doubt, OneFace, 0)
	assert.True(t, one && !two, "nobody has to allow for the other face once it is read")
	row.Heights, row.Back = in(41), in(39)
	assert.Equal(t, 40_000*measure.CubicInch, woodOf(t, both), "two heights are one station")
	row.Back = in(39, 40)
	_, err := Measure(both)
	mustBeInputError(t, err)
}

// A back face that is the front's own changes nothing but that both were read.
func TestRowsSameBackFace(t *testing.T) {
	tally := shortTally()
	rows := tally.Stack.(Rows).Rows
	for i := range rows {
		rows[i].Back = rows[i].Heights
	}
	want, got := measured(t, shortTally()), measured(t, tally)
	assert.Equal(t, want.Quantity, got.Quantity)
	assert.Equal(t, want.Finding.Margin, got.Finding.Margin)
	face := want.Quantity.Volume.In(measure.CubicFoot) * 0.01 / math.Sqrt(3)
	assert.InDelta(t, math.Hypot(got.Standard.In(measure.CubicFoot), face), want.Standard.In(measure.CubicFoot), 1e-9)
	rows[2].Back = nil
	assert.Equal(t, want.Standard, measured(t, tally).Standard, "every row has to have both")
}

// Heights held vertical on a slope count by its cosine: 3 in 4 is 0.8.
func TestRowsOnASlope(t *testing.T) {
	tally := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	row := &tally.Stack.(Rows).Rows[0]
	row.Slope = Slope{Held: Vertical, Rise: 3 * measure.Foot, Run: 4 * measure.Foot}
	assert.Equal(t, 32_000*measure.CubicInch, woodOf(t, tally))
	tally.Raised = 5 * measure.Inch
	assert.Equal(t, 28_000*measure.CubicInch, woodOf(t, tally), "what is taken off was read the same way")
	row.Ends[0] = End{Kind: Tapered, Over: 10 * measure.Inch}
	assert.Equal(t, 29_400*measure.CubicInch, woodOf(t, tally), "the end stands as high as its station")
	assert.Equal(t, in(28, 28, 28, 28), row.Wood(tally.Raised))
	row.Slope = Slope{Held: Perpendicular}
	row.Ends[0] = End{Kind: Upright}
	assert.Equal(t, 35_000*measure.CubicInch, woodOf(t, tally))
	assert.Contains(t, keys(measured(t, tally).Notes), "Row %d is on a slope: its heights were held perpendicular to it and count as read.")
	row.Slope = Slope{Held: Vertical, Rise: 0, Run: measure.Foot}
	assert.Equal(t, 35_000*measure.CubicInch, woodOf(t, tally), "level ground")
}

// An angle is read as the slope it is.
func TestParseSlope(t *testing.T) {
	of := func(slope string) Row {
		tally, err := ParseTally([]byte(`{"format": 1, "stack": {"kind": "rows", "nominal": "16 in", "rows": [{"length": "8 ft", "heights": ["4 ft", "46 in"],
			"back": ["47 in", "1.1 m"], "slope": ` + slope + `}]}}`))
		require.NoError(t, err)
		return tally.Stack.(Rows).Rows[0]
	}
	row := of(`{"heights": "vertical", "rise": "1 ft", "run": "8 ft"}`)
	assert.Equal(t, Slope{Vertical, measure.Foot, 8 * measure.Foot}, row.Slope)
	assert.Equal(t, []measure.Length{47 * measure.Inch, 110 * measure.Centimetre}, row.Back)
	assert.InDelta(t, math.Cos(7*math.Pi/180), of(`{"heights": "vertical", "degrees": 7}`).Slope.Cosine(), 1e-12)
	assert.InDelta(t, 1, of(`{"heights": "perpendicular"}`).Slope.Cosine(), 0)
}
