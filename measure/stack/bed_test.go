package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// bedOfPieces is a ranked truck bed 8 × 5 ft filled to 20 in with pieces of a length.
func bedOfPieces(piece float64, lie Lie) Load {
	return Load{Arrangement: measure.Ranked, Box: body(), Lie: lie, Pieces: Pieces{Sample: in(piece, piece, piece, piece, piece)}}
}

// Only whole rows count. Across the 60 in: three of 16 (48 in), three of 20, four of
// 15, and three of 20 1/8, for a row may reach half an inch past the side; two of 20 1/4.
// Along the 96 in: six of 16, four of 20 (80 in).
func TestWholeRowsThatFit(t *testing.T) {
	for _, c := range []struct {
		piece  float64
		lie    Lie
		counts float64 // cubic inches
	}{
		{16, Across, 96 * 48 * 20}, {20, Across, 96 * 60 * 20}, {15, Across, 96 * 60 * 20},
		{20.125, Across, 96 * 60.375 * 20}, {20.25, Across, 96 * 40.5 * 20},
		{16, Along, 96 * 60 * 20}, {20, Along, 80 * 60 * 20},
		{16, "", 96 * 48 * 20}, {20, "", 80 * 60 * 20}, // the way that gives less
		{70, "", 70 * 60 * 20}, // fits only along
	} {
		for name, s := range map[string]Stack{
			"load": bedOfPieces(c.piece, c.lie),
			"bin":  Bin{Arrangement: measure.Ranked, Box: body(), Lie: c.lie, Pieces: Pieces{Sample: in(c.piece, c.piece, c.piece, c.piece, c.piece)}},
		} {
			r := measured(t, carefully(s))
			assert.InDelta(t, c.counts, r.Quantity.Volume.In(measure.CubicInch), 1e-6, "%s, %v in %s", name, c.piece, c.lie)
			assert.Equal(t, measure.Ranked, r.Quantity.Basis)
		}
	}
	_, err := Measure(carefully(bedOfPieces(70, Across)))
	var fault *measure.InputError
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "stack.pieces", fault.Field)
}

// The side that rows make up has no end, zero or rounding of its own: V/P̄ for the
// pieces, and half an inch, a sixteenth and half a division on the other side alone.
func TestWholeRowsBudget(t *testing.T) {
	s := bedOfPieces(16, Across)
	s.Pieces.Sample = in(15, 16, 16, 16, 17) // s = √½
	tally := carefully(s)
	tally.Tape = measure.Inch / 2
	r := measured(t, tally)
	const v, root3 = 96 * 48 * 20, 1.7320508075688772
	for source, want := range map[Source]float64{
		InsideEnds:    0.5 / root3 * v / 96,
		TapeOnSides:   1. / 16 / root3 * v / 96,
		TapeOnHeights: 1. / 16 / root3 * 96 * 48,
		PieceSpread:   math.Sqrt(0.5) / math.Sqrt(5) * v / 16,
		// Four heights are read to the tape's half inch, five pieces to whole inches.
		RoundingNotSaid: (0.25*(96*48+v/96) + 0.5*v/16) / root3,
		TapeScale:       3 * 0.002 / root3 * v,
	} {
		got, ok := contributionOf(r.Doubt, source, 0)
		require.True(t, ok, source)
		assert.InDelta(t, want, got.Standard.In(measure.CubicInch), 1e-6, source)
	}
}

// Pieces that were not measured leave the side open by half of one, and carry no
// accusation.
func TestWholeRowsOfUnmeasuredPieces(t *testing.T) {
	s := bedOfPieces(16, Across)
	s.Pieces = Pieces{Nominal: 33 * measure.Inch / 2} // 16 in once half an inch is off
	r := measured(t, carefully(s))
	assert.InDelta(t, 96*48*20, r.Quantity.Volume.In(measure.CubicInch), 1e-6)
	side, ok := contributionOf(r.Doubt, RowsThatFit, 0)
	require.True(t, ok)
	assert.InDelta(t, 8/math.Sqrt(3)*96*20, side.Standard.In(measure.CubicInch), 1e-6)
}

// What a bed's readings need to carry a word: five pieces, three heights or a line, and
// how the pieces lie.
func TestBedsThatCarryAWord(t *testing.T) {
	line := bedOfPieces(16, Across)
	line.Calibrated, line.Box = &Calibrated{Box: body(), On: "2026-05-01", By: "the owner"}, Box{}
	for name, c := range map[string]struct {
		change func(s *Load)
		held   []Hold
	}{
		"as it should be":  {func(s *Load) {}, nil},
		"filled to a line": {func(s *Load) { *s = line }, nil},
		"lie not said":     {func(s *Load) { s.Lie = "" }, []Hold{HeldByKind}},
		"four pieces":      {func(s *Load) { s.Pieces.Sample = s.Pieces.Sample[:4] }, []Hold{HeldByPieces}},
		"nominal":          {func(s *Load) { s.Pieces = Pieces{Nominal: 16 * measure.Inch} }, []Hold{HeldByPieces}},
		"two heights":      {func(s *Load) { s.Box.Heights = s.Box.Heights[:2] }, []Hold{HeldByHeights}},
		"nothing known":    {func(s *Load) { s.Lie, s.Pieces = "", Pieces{} }, []Hold{HeldByKind, HeldByPieces}},
	} {
		s := bedOfPieces(16, Across)
		c.change(&s)
		tally := carefully(s)
		tally.Apart, tally.Rounded = Apart{Answered: true}, RoundNearest
		f := finding(t, sellAs(tally, 2*measure.Cord))
		assert.Equal(t, c.held, f.HeldBack, name)
		assert.Equal(t, c.held == nil, f.Word == Short, name)
		full := finding(t, sellAs(tally, measure.Cord/10))
		assert.Equal(t, c.held == nil, full.Word == Full, name)
	}
}

// Heaps, round stacks and containers are never short or full, whatever was sold.
func TestKindsThatNeverCarryAWord(t *testing.T) {
	for name, s := range map[string]Stack{
		"heap":  Heap{Shape: RoundedHeap, Length: 12 * measure.Foot, Width: 8 * measure.Foot, Height: 4 * measure.Foot},
		"round": Round{Diameters: in(84, 84, 84, 84), Heights: in(60, 60, 60, 60)},
		"bin":   Bin{Arrangement: measure.Container, Box: body()},
		"load":  loadTally().Stack,
	} {
		for _, basis := range []measure.Basis{measure.Ranked, measure.Loose, measure.Container} {
			for _, sold := range []measure.Volume{measure.CubicFoot, 50 * measure.CubicFoot, 100 * measure.Cord} {
				tally := carefully(s)
				tally.Apart.Answered = true
				tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: sold, Basis: basis}}
				if name == "heap" {
					tally.LooseCord = 180 * measure.CubicFoot // even where the rules define a loose cord
				}
				f := finding(t, tally)
				assert.True(t, f.Expectation(), "%s sold %s", name, basis)
				assert.Equal(t, []Hold{HeldByKind}, f.HeldBack)
			}
		}
	}
}
