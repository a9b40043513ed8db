package measure

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// in makes lengths of inches.
func in(values ...float64) []Length {
	ls := make([]Length, len(values))
	for i, v := range values {
		ls[i] = Length(math.Round(v * float64(Inch)))
	}
	return ls
}

func upright() [2]End { return [2]End{{Kind: Upright}, {Kind: Upright}} }

// unsaid are ends of which nothing was said.
func unsaid() [2]End { return [2]End{{Kind: Upright, Unsaid: true}, {Kind: Upright, Unsaid: true}} }

func oneCord() *Said {
	return &Said{Words: "1 cord", Quantity: Quantity{Volume: Cord, Basis: Ranked}, Cord: Cord}
}

// shortTally is worked example 1 of the model.
func shortTally() Tally {
	return Tally{
		Sold: oneCord(), By: Buyer, Apart: Apart{Answered: true}, Look: 1,
		Tape: Inch / 4, Top: Straightedge, Stowed: StowingChecked,
		Stack: Rows{
			Pieces: Pieces{Sample: in(16, 15.5, 16.25, 15.75, 16.5, 15.25, 16, 15.75, 16.25, 15.5)},
			Rows: []Row{
				{Length: 96 * Inch, Heights: in(48, 47, 48.5, 46.5, 47.5), Ends: upright()},
				{Length: 95 * Inch, Heights: in(47, 48, 46, 47.5, 46.5), Ends: upright()},
				{Length: 965 * Inch / 10, Heights: in(46.5, 45, 46, 44.5, 45), Ends: upright()},
			},
		},
	}
}

// notSettledTally is worked example 2 of the model.
func notSettledTally() Tally {
	return Tally{
		Sold: oneCord(), By: Buyer, Apart: Apart{Answered: true}, Look: 1,
		Tape: Inch / 2, Top: ByEye, Raised: 4 * Inch,
		Stack: Rows{
			Pieces: Pieces{Sample: in(17.5, 18, 18.5, 17.75, 18.25, 18)},
			Rows: []Row{
				{
					Length: 120 * Inch, Heights: in(52, 54, 53, 50, 47), Positions: in(6, 30, 60, 90, 114),
					Ends:  [2]End{{Kind: Shouldered, Over: 10 * Inch, Drop: 8 * Inch}, {Kind: Tapered, Over: 20 * Inch}},
					Voids: []Void{{Width: 12 * Inch, Height: 6 * Inch}},
				},
				{
					Length: 116 * Inch, Heights: in(50, 51.5), Pieces: Pieces{Nominal: 18 * Inch},
					Ends: [2]End{{Kind: Cribbed, Over: 18 * Inch, Share: cribShare}, {Kind: Upright}},
				},
			},
		},
	}
}

func measured(t *testing.T, tally Tally) Result {
	t.Helper()
	r, err := Measure(tally)
	require.NoError(t, err)
	return r
}

// The expected figures were computed apart from this code, by the model's text.
func TestWorkedExampleShort(t *testing.T) {
	r := measured(t, shortTally())
	assert.Equal(t, ModelNumber, r.Model)
	assert.Equal(t, Ranked, r.Quantity.Basis)
	assert.InDelta(t, 123.160786, r.Quantity.Volume.In(CubicFoot), 5e-7)
	assert.InDelta(t, 0.9621936374240452, r.Quantity.Volume.In(Cord), 1e-12)
	assert.InDelta(t, 1.8993532, r.Standard.In(CubicFoot), 5e-8)
	assert.InDelta(t, 108.4607, float64(r.Degrees), 5e-5)
	assert.InDelta(t, 1.982078, r.Coverage, 5e-7)
	assert.InDelta(t, 3.764666, r.Expanded.In(CubicFoot), 5e-7)
	require.NotNil(t, r.Finding)
	assert.Equal(t, Short, r.Finding.Word)
	assert.InDelta(t, 0.00612022, r.Finding.Probability, 5e-9)
	assert.Equal(t, Cord, r.Finding.Due)
	assert.InDelta(t, -4.839214, r.Finding.Margin.In(CubicFoot), 5e-7)
	assert.Nil(t, r.Finding.CannotRuleOut)
}

func TestWorkedExampleShortBudget(t *testing.T) {
	want := []struct {
		source    Source
		row       int
		cubicFeet float64
		degrees   float64
	}{
		{Stowage, 0, 1.231608, math.Inf(1)},
		{PieceSpread, 0, 0.969770, 9},
		{TopOfWood, 0, 0.762460, math.Inf(1)},
		{StationSpread, 1, 0.400533, 32. / 11},
		{StationSpread, 2, 0.396361, 32. / 11},
		{StationSpread, 3, 0.336125, 32. / 11},
		{TapeOnPieces, 0, 0.279948, math.Inf(1)},
		{RowEnds, 1, 0.125972, math.Inf(1)},
		{RowEnds, 2, 0.124646, math.Inf(1)},
		{RowEnds, 3, 0.120402, math.Inf(1)},
		{TapeOnHeights, 0, 0.095308, math.Inf(1)},
		{TapeOnLengths, 0, 0.046377, math.Inf(1)},
		{LengthReading, 1, 0.031493, math.Inf(1)},
		{LengthReading, 2, 0.031161, math.Inf(1)},
		{LengthReading, 3, 0.030101, math.Inf(1)},
	}
	r := measured(t, shortTally())
	require.Len(t, r.Doubt, len(want))
	var shares float64
	for i, w := range want {
		got := r.Doubt[i]
		assert.Equal(t, w.source, got.Source)
		assert.Equal(t, w.row, got.Row, w.source)
		assert.InDelta(t, w.cubicFeet, got.Standard.In(CubicFoot), 6e-7, w.source)
		assert.Equal(t, Degrees(w.degrees), got.Degrees, w.source)
		shares += got.Share
	}
	assert.InDelta(t, 1, shares, 1e-12)
	assert.InDelta(t, 0.420, r.Doubt[0].Share, 5e-4)
}

func TestWorkedExampleNotSettled(t *testing.T) {
	r := measured(t, notSettledTally())
	assert.InDelta(t, 124.316262, r.Quantity.Volume.In(CubicFoot), 5e-7)
	assert.InDelta(t, 0.9712208, r.Quantity.Volume.In(Cord), 5e-8)
	assert.InDelta(t, 4.080056, r.Standard.In(CubicFoot), 5e-7)
	assert.InDelta(t, 879.596, float64(r.Degrees), 5e-4)
	assert.InDelta(t, 1.962665, r.Coverage, 5e-7)
	assert.InDelta(t, 8.007782, r.Expanded.In(CubicFoot), 5e-7)
	require.NotNil(t, r.Finding)
	assert.Equal(t, Unresolved, r.Finding.Word)
	assert.InDelta(t, 0.18342245, r.Finding.Probability, 5e-9)
}
