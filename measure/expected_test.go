package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Wood sold as 180 ft³ loose and stacked in 16 in rows: 108 to 129.6 ft³ is
// expected (0.60 to 0.72, common practice, no source).
func TestLooseSaleMeasuredRanked(t *testing.T) {
	tally := shortTally() // 123.16 ± 3.76 ft³
	for _, c := range []struct {
		sold Volume
		want Word
	}{
		{180 * CubicFoot, Expected},
		{211 * CubicFoot, Expected},      // 0.60 × 211 = 126.6, within U
		{212 * CubicFoot, BelowExpected}, // 0.60 × 212 = 127.2 > 126.93
		{166 * CubicFoot, Expected},      // 0.72 × 166 = 119.52, within U
		{165 * CubicFoot, AboveExpected}, // 0.72 × 165 = 118.8 < 119.40
	} {
		tally.Sold = &Said{Quantity: Quantity{Volume: c.sold, Basis: Loose}}
		f := finding(t, tally)
		assert.Equal(t, c.want, f.Word, "%v ft³", c.sold.In(CubicFoot))
		assert.InDelta(t, 0.60*c.sold.In(CubicFoot), f.ExpectedLow.In(CubicFoot), 1e-9)
		assert.InDelta(t, 0.72*c.sold.In(CubicFoot), f.ExpectedHigh.In(CubicFoot), 1e-9)
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
	tally.Sold = &Said{Quantity: Quantity{Volume: 180 * CubicFoot, Basis: Loose}}
	tally.Apart.Quantity = Quantity{Volume: 80 * CubicFoot, Basis: Loose}
	f := finding(t, tally)
	assert.InDelta(t, 60, f.ExpectedLow.In(CubicFoot), 1e-9)
	assert.Equal(t, AboveExpected, f.Word)
}

// The same shares backwards: a cord ranked is expected to be 1/0.72 to 1/0.58
// thrown where the piece length is not known.
func TestRankedSaleMeasuredLoose(t *testing.T) {
	for _, c := range []struct {
		measured Volume
		want     Word
	}{
		{177 * CubicFoot, BelowExpected},
		{178 * CubicFoot, Expected}, // 128/0.72 = 177.78
		{220 * CubicFoot, Expected}, // 128/0.58 = 220.69
		{221 * CubicFoot, AboveExpected},
	} {
		f := Finding{Sold: Quantity{Cord, Ranked}, Due: Cord}
		f.expect(Loose, &estimate{value: c.measured.In(CubicInch)}, 1e-3)
		assert.Equal(t, c.want, f.Word)
		assert.InDelta(t, 128/0.72, f.ExpectedLow.In(CubicFoot), 1e-6)
		assert.InDelta(t, 128/0.58, f.ExpectedHigh.In(CubicFoot), 1e-6)
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
