package stack

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

// Wood sold as 180 ft³ loose and stacked in 16 in rows: 108 to 129.6 ft³ is
// expected (0.60 to 0.72, common practice, no source).
func TestLooseSaleMeasuredRanked(t *testing.T) {
	tally := shortTally() // 123.16 ± 5.65 ft³
	for _, c := range []struct {
		sold measure.Volume
		want Word
	}{
		{180 * measure.CubicFoot, Expected},
		{214 * measure.CubicFoot, Expected},      // 0.60 × 214 = 128.4, within U
		{215 * measure.CubicFoot, BelowExpected}, // 0.60 × 215 = 129.0 > 128.81
		{164 * measure.CubicFoot, Expected},      // 0.72 × 164 = 118.08, within U
		{163 * measure.CubicFoot, AboveExpected}, // 0.72 × 163 = 117.36 < 117.51
	} {
		tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: c.sold, Basis: measure.Loose}}
		f := finding(t, tally)
		assert.Equal(t, c.want, f.Word, "%v ft³", c.sold.In(measure.CubicFoot))
		assert.InDelta(t, 0.60*c.sold.In(measure.CubicFoot), f.ExpectedLow.In(measure.CubicFoot), 1e-9)
		assert.InDelta(t, 0.72*c.sold.In(measure.CubicFoot), f.ExpectedHigh.In(measure.CubicFoot), 1e-9)
		assert.Zero(t, f.Probability)
		assert.Zero(t, f.Margin)
		assert.Zero(t, f.ShortAbove)
		assert.Nil(t, f.CannotRuleOut)
		assert.NotEmpty(t, f.Why)
	}
}

// Apart comes off before the range is taken.
func TestLooseSaleLessApart(t *testing.T) {
	tally := shortTally()
	tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: 180 * measure.CubicFoot, Basis: measure.Loose}}
	tally.Apart.Quantity = measure.Quantity{Volume: 80 * measure.CubicFoot, Basis: measure.Loose}
	f := finding(t, tally)
	assert.InDelta(t, 60, f.ExpectedLow.In(measure.CubicFoot), 1e-9)
	assert.Equal(t, AboveExpected, f.Word)
}

// The same shares backwards: a cord ranked is expected to be 1/0.72 to 1/0.58
// thrown where the piece length is not known.
func TestRankedSaleMeasuredLoose(t *testing.T) {
	for _, c := range []struct {
		measured measure.Volume
		want     Word
	}{
		{177 * measure.CubicFoot, BelowExpected},
		{178 * measure.CubicFoot, Expected}, // 128/0.72 = 177.78
		{220 * measure.CubicFoot, Expected}, // 128/0.58 = 220.69
		{221 * measure.CubicFoot, AboveExpected},
	} {
		f := Finding{Sold: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, Due: measure.Cord}
		f.expect(&estimate{basis: measure.Loose, value: c.measured.In(measure.CubicInch)}, 1)
		assert.Equal(t, c.want, f.Word)
		assert.InDelta(t, 128/0.72, f.ExpectedLow.In(measure.CubicFoot), 1e-6)
		assert.InDelta(t, 128/0.58, f.ExpectedHigh.In(measure.CubicFoot), 1e-6)
	}
}

// A bin that holds 128 ft³ anyhow is 0.58 to 1 of that once ranked, so a cord sold
// ranked takes up 128 to 128/0.58 ft³ of it (common practice, no source).
func TestRankedSaleMeasuredInABin(t *testing.T) {
	for _, c := range []struct {
		high float64 // inches, over 8 × 4 ft
		want Word
	}{{40, BelowExpected}, {48, Expected}, {72, Expected}, {96, AboveExpected}} {
		tally := carefully(Bin{Arrangement: measure.Container, Box: Box{Length: 8 * measure.Foot, Width: 4 * measure.Foot, Heights: in(c.high, c.high, c.high, c.high)}})
		tally.Sold = oneCord()
		r := measured(t, tally)
		assert.Equal(t, c.want, r.Finding.Word, "%v in", c.high)
		assert.InDelta(t, 128, r.Finding.ExpectedLow.In(measure.CubicFoot), 1e-6)
		assert.InDelta(t, 128/0.58, r.Finding.ExpectedHigh.In(measure.CubicFoot), 1e-6)
		assert.Equal(t, []Hold{HeldByKind}, r.Finding.HeldBack)
		assert.Contains(t, codes(r.Next), "stack")
	}
}

func TestThrownToRankedByPieceLength(t *testing.T) {
	for _, c := range []struct{ piece, low, high float64 }{
		{12, 0.60, 0.72}, {16, 0.60, 0.72}, {16.01, 0.58, 0.72}, {23.99, 0.58, 0.72},
		{24, 0.58, 0.68}, {48, 0.58, 0.68}, {0, 0.58, 0.72},
	} {
		low, high := thrownToRanked(c.piece)
		assert.InDelta(t, c.low, low, 0, "%v in", c.piece)
		assert.InDelta(t, c.high, high, 0, "%v in", c.piece)
	}
}
