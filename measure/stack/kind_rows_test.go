package stack

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// plain is a careful tally of rows of one length and height, nothing sold.
func plain(rows int, length, height, piece measure.Length) Tally {
	s := Rows{Pieces: Pieces{Sample: []measure.Length{piece, piece, piece, piece, piece}}}
	for range rows {
		s.Rows = append(s.Rows, Row{Length: length, Heights: []measure.Length{height, height, height, height}, Ends: upright()})
	}
	return Tally{Look: 1, Tape: measure.Inch / 4, Top: Straightedge, Stowed: StowingChecked, Stack: s}
}

func woodOf(t *testing.T, tally Tally) measure.Volume {
	t.Helper()
	return measured(t, tally).Quantity.Volume
}

// Common practice, no source.
func TestRowsEverybodyKnows(t *testing.T) {
	assert.Equal(t, measure.Cord, woodOf(t, plain(1, 8*measure.Foot, 4*measure.Foot, 4*measure.Foot)), "4 × 4 × 8 ft is a cord")
	assert.Equal(t, measure.Cord, woodOf(t, plain(3, 8*measure.Foot, 4*measure.Foot, 16*measure.Inch)), "three rows of 16 in make a cord")
	assert.Equal(t, measure.Cord/3, woodOf(t, plain(1, 8*measure.Foot, 4*measure.Foot, 16*measure.Inch)), "one row of 16 in is a third")
}

// 128 ft³ to the cord (NIST Handbook 130, method of sale, 2.4.1): the row 4 ft
// high that holds it, and the share of a cord in 4 × 8 ft of face.
func TestRowsOfOneCord(t *testing.T) {
	for _, layout := range []struct {
		piece, length measure.Length
		share         measure.Volume
	}{
		{12 * measure.Inch, 32 * measure.Foot, measure.Cord / 4},
		{16 * measure.Inch, 24 * measure.Foot, measure.Cord / 3},
		{24 * measure.Inch, 16 * measure.Foot, measure.Cord / 2},
		{48 * measure.Inch, 8 * measure.Foot, measure.Cord},
	} {
		name := fmt.Sprint(layout.piece.In(measure.Inch), " in pieces")
		assert.Equal(t, measure.Cord, woodOf(t, plain(1, layout.length, 4*measure.Foot, layout.piece)), name)
		assert.Equal(t, layout.share, woodOf(t, plain(1, 8*measure.Foot, 4*measure.Foot, layout.piece)), name)
	}
}

// 120 × 60 × 60 cm is 432 dm³ (Measurement Canada, Measuring prepackaged firewood).
func TestRowsMeasurementCanadaPackage(t *testing.T) {
	assert.Equal(t, 432*measure.Litre, woodOf(t, plain(1, 120*measure.Centimetre, 60*measure.Centimetre, 60*measure.Centimetre)))
}

// Each shape of end by its closed form, on a row 100 in long, 40 in high, of 10 in
// pieces: 40 000 in³.
func TestRowsEndsAndVoids(t *testing.T) {
	for _, c := range []struct {
		name  string
		end   End
		voids []Void
		want  measure.Volume // beside the row's own
	}{
		{"upright adds nothing", End{Kind: Upright}, nil, 0},
		{"shouldered takes off drop·run/2", End{Kind: Shouldered, Over: 10 * measure.Inch, Drop: 8 * measure.Inch}, nil, -400},
		{"tapered adds height·run/2", End{Kind: Tapered, Over: 10 * measure.Inch}, nil, 2000},
		{"cribbed adds 0.80 of height·run", End{Kind: Cribbed, Over: 10 * measure.Inch}, nil, 3200},
		{"cribbed with a judged share", End{Kind: Cribbed, Over: 10 * measure.Inch, Share: 0.5, Judged: true}, nil, 2000},
		{"a void takes off its face", End{Kind: Upright}, []Void{{6 * measure.Inch, 5 * measure.Inch}}, -300},
		{"two voids take off both", End{Kind: Upright}, []Void{{6 * measure.Inch, 5 * measure.Inch}, {1 * measure.Inch, 2 * measure.Inch}}, -320},
	} {
		for side := range 2 {
			tally := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
			row := &tally.Stack.(Rows).Rows[0]
			row.Ends[side], row.Voids = c.end, c.voids
			assert.Equal(t, (40_000+c.want)*measure.CubicInch, woodOf(t, tally), "%s, side %d", c.name, side)
		}
	}
}

// A taper stands as high as the station nearest to it.
func TestRowsEndTakesNearestStation(t *testing.T) {
	tally := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	row := &tally.Stack.(Rows).Rows[0]
	row.Heights = in(50, 40, 40, 30)
	row.Ends = [2]End{{Kind: Tapered, Over: 10 * measure.Inch}, {Kind: Upright}}
	assert.Equal(t, 42_500*measure.CubicInch, woodOf(t, tally))
	row.Ends = [2]End{{Kind: Upright}, {Kind: Tapered, Over: 10 * measure.Inch}}
	assert.Equal(t, 41_500*measure.CubicInch, woodOf(t, tally))
	tally.Raised = 10 * measure.Inch
	assert.Equal(t, 31_000*measure.CubicInch, woodOf(t, tally), "what the row stands on is taken off at the end too")
}

// Positions at the middles of equal parts give what no positions give.
func TestRowsPositionsAtTheMiddles(t *testing.T) {
	tally := plain(1, 80*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	row := &tally.Stack.(Rows).Rows[0]
	row.Heights = in(41, 38, 40, 45)
	want := measured(t, tally)
	row.Positions = in(10, 30, 50, 70)
	got := measured(t, tally)
	assert.Equal(t, want.Quantity, got.Quantity)
	assert.Equal(t, want.Standard, got.Standard)
}

// Stations close together stand for little of the row.
func TestRowsTrapezoidWeights(t *testing.T) {
	row := Row{Length: 120 * measure.Inch, Heights: make([]measure.Length, 5), Positions: in(6, 30, 60, 90, 114)}
	for i, want := range []float64{18, 27, 30, 27, 18} {
		assert.InDelta(t, want, row.weight(i, 120), 1e-12)
	}
	single := Row{Length: 120 * measure.Inch, Heights: make([]measure.Length, 1), Positions: in(10)}
	assert.InDelta(t, 120, single.weight(0, 120), 1e-12)
}

// The row's own pieces go before the stack's, and are doubted by themselves.
func TestRowsOwnPieces(t *testing.T) {
	tally := plain(2, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	s := tally.Stack.(Rows)
	s.Rows[1].Pieces = Pieces{Sample: in(19, 20, 20, 21)}
	r := measured(t, tally)
	assert.Equal(t, 120_000*measure.CubicInch, r.Quantity.Volume)
	own, ok := contributionOf(r.Doubt, PieceSpread, 2)
	require.True(t, ok)
	assert.Equal(t, Degrees(3), own.Degrees)
	assert.InDelta(t, 0.816496580927726/2*4000, own.Standard.In(measure.CubicInch), 1e-6) // s = √(2/3), n = 4
	shared, ok := contributionOf(r.Doubt, PieceSpread, 0)
	require.True(t, ok)
	assert.Equal(t, measure.Volume(0), shared.Standard, "five equal pieces show no spread")
}

// All rows with few stations are one judgement: half-widths add up.
func TestRowsFewStationsAreOneJudgement(t *testing.T) {
	tally := plain(3, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	s := tally.Stack.(Rows)
	s.Rows[0].Heights = in(40)
	s.Rows[1].Heights = in(40, 42)
	s.Rows[2].Heights = in(36, 40, 46)
	r := measured(t, tally)
	few, ok := contributionOf(r.Doubt, FewStations, 0)
	require.True(t, ok)
	// ± 3 in with one, ± 2 in with two, half of the range of 10 in with three.
	assert.InDelta(t, 100*10*(3+2+5)/1.7320508075688772, few.Standard.In(measure.CubicInch), 1e-6)
	_, ok = contributionOf(r.Doubt, StationSpread, 1)
	assert.False(t, ok)
}

// A judged share of a crib is doubted half as much.
func TestRowsCribDoubt(t *testing.T) {
	tally := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	row := &tally.Stack.(Rows).Rows[0]
	for share, want := range map[float64]float64{0: 0.20, 0.75: 0.10} {
		row.Ends[0] = End{Kind: Cribbed, Over: 10 * measure.Inch, Share: share, Judged: share > 0}
		crib, ok := contributionOf(measured(t, tally).Doubt, CribShare, 1)
		require.True(t, ok)
		assert.InDelta(t, want*4000/1.7320508075688772, crib.Standard.In(measure.CubicInch), 1e-6)
	}
}

// contributionOf is the first contribution of a source at a row.
func contributionOf(doubt []Contribution, source Source, row int) (Contribution, bool) {
	for _, c := range doubt {
		if c.Source == source && c.Row == row {
			return c, true
		}
	}
	return Contribution{}, false
}
