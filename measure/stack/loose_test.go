package stack

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

// Wood sold and measured loose is short only where a rule set defines loose measure.
func TestLooseSaleMeasuredLoose(t *testing.T) {
	of := func(sold measure.Volume, rule measure.Volume) *Finding {
		tally := loadTally() // 66.67 ft³
		tally.Apart = Apart{Answered: true}
		tally.LooseCord = rule
		tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: sold, Basis: measure.Loose}}
		return finding(t, tally)
	}
	loose := func(feet float64) measure.Volume { return volume(feet * 1728) }
	for _, c := range []struct {
		feet       float64
		want, rule Word
	}{
		{90, BelowExpected, Short},
		{68, Expected, Unresolved},
		{66, Expected, NoShortage},
		{40, AboveExpected, Full},
	} {
		f := of(loose(c.feet), 0)
		assert.Equal(t, c.want, f.Word, "%v ft³ without a rule", c.feet)
		assert.Equal(t, f.Due, f.ExpectedLow)
		assert.Equal(t, f.Due, f.ExpectedHigh)
		assert.Zero(t, f.Probability)
		assert.Zero(t, f.ShortAbove)
		f = of(loose(c.feet), 180*measure.CubicFoot)
		assert.Equal(t, c.rule, f.Word, "%v ft³ with a rule", c.feet)
		assert.Zero(t, f.ExpectedLow)
		assert.Contains(t, keys(f.Why), "The rules of the sale define loose measure: a loose cord is %s.")
	}
}

// A rule for loose measure does not make a ranked stack of wood sold loose short.
func TestLooseRuleDoesNotCrossBases(t *testing.T) {
	tally := shortTally()
	tally.LooseCord = 180 * measure.CubicFoot
	tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: 300 * measure.CubicFoot, Basis: measure.Loose}}
	assert.Equal(t, BelowExpected, finding(t, tally).Word)
}

// Published shares of thrown wood lie in the range for their piece length.
func TestPublishedSharesOfThrownWood(t *testing.T) {
	for _, c := range []struct {
		source string
		piece  float64 // inches, 0 where not said
		share  float64
	}{
		{"TFZ Straubing 2006, beech of 33 cm, second-hand", 33 / 2.54, 1 / 1.48},
		{"TFZ Straubing 2006, spruce of 33 cm, second-hand", 33 / 2.54, 1 / 1.62},
		{"Minnesota Statutes 239.33, sawed", 0, 110. / 160},
		{"Minnesota Statutes 239.33, sawed and split", 0, 120. / 175},
		{"Maine, 10 MRSA 2302(1), 12 and 16 in", 12, 128. / 180},
		{"Maine, 10 MRSA 2302(1), 12 and 16 in", 16, 128. / 180},
		{"Maine, 10 MRSA 2302(1), 24 in", 24, 128. / 195},
		{"Maine's consumer guide, 180 ft³ come to 115 ft³ at least, second-hand", 16, 115. / 180},
		{"Maine's consumer guide, 180 ft³ come to 124 ft³ at most, second-hand", 16, 124. / 180},
		{"Everett (Washington) Municipal Code 9.70.330, 16 in or less", 16, 128. / 192},
		{"Finland, averages of the trade", 0, 1 / 1.67},
	} {
		low, high := thrownToRanked(c.piece)
		assert.GreaterOrEqual(t, c.share, low, c.source)
		assert.LessOrEqual(t, c.share, high, c.source)
	}
}
