package stack

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

func boxedTally() Tally {
	return carefully(Packaged{Method: Boxed, Sections: []Section{{
		Inside: 24 * measure.Inch, Headspace: in(1, 1.3, 0.9, 1.2, 1.1, 0.7), Widths: in(16, 16.1, 15.9), Pieces: in(15.7, 15.9, 16, 15.8, 16.1),
	}}})
}

// The procedure's own result, by hand: headspace down to eighths 1, 1¼, ⅞, 1⅛, 1, ⅝,
// mean 0.979167; widths up to 3/16 in 16⅛, 16⅛, 15 15/16, mean 16.0625; pieces
// 15¾, 15 15/16, 16⅛, 15 15/16, 16⅛, mean 15.975. The rounding is from memory.
func TestBoxedProcedure(t *testing.T) {
	p := measured(t, boxedTally()).Procedure
	require.NotNil(t, p)
	assert.InDelta(t, (24-0.9791666667)*16.0625*15.975/1728, p.Volume.In(measure.CubicFoot), 1e-6)
	for _, note := range p.Notes {
		assert.Contains(t, note.String(), "from memory")
	}
}

// Rounding favours the packer: the procedure never gives less than the readings.
func TestProcedureFavoursThePacker(t *testing.T) {
	for name, s := range map[string]Packaged{
		"boxed": boxedTally().Stack.(Packaged),
		"crosshatched": {Method: Crosshatched, Heights: in(18.1, 18.2, 18.3, 17.9, 18, 18.1, 18.2, 18.4), Lengths: in(24.1, 24.3, 24, 23.9),
			Pieces: Pieces{Sample: in(15.7, 15.9, 16, 15.8, 16.1)}},
		"bundle": {Method: Bundled, Ends: [2]Traced{{4*118 + 1, measure.Inch}, {4 * 121, measure.Inch}}, Pieces: Pieces{Sample: in(15.7, 15.9, 16, 15.8, 16.1)}},
	} {
		for _, tape := range []measure.Length{measure.Inch / 16, measure.Millimetre} {
			tally := carefully(s)
			tally.Tape = tape
			r := measured(t, tally)
			assert.GreaterOrEqual(t, r.Procedure.Volume, r.Quantity.Volume, name)
			assert.Less(t, r.Procedure.Volume.In(r.Quantity.Volume), 1.05, name)
		}
	}
}

// 120 × 60 × 60 cm is 432 dm³ (Measurement Canada, Measuring prepackaged firewood);
// readings in half centimetres are not rounded.
func TestCrosshatchedMeasurementCanada(t *testing.T) {
	cm := func(n int, each measure.Length) []measure.Length {
		ls := make([]measure.Length, n)
		for i := range ls {
			ls[i] = each * measure.Centimetre
		}
		return ls
	}
	tally := carefully(Packaged{Method: Crosshatched, Heights: cm(8, 60), Lengths: cm(4, 120), Pieces: Pieces{Sample: cm(5, 60)}})
	tally.Tape = measure.Millimetre
	r := measured(t, tally)
	assert.InDelta(t, 1, r.Quantity.Volume.In(432*measure.Litre), 1e-12)
	assert.InDelta(t, 1, r.Procedure.Volume.In(432*measure.Litre), 1e-12)
	assert.Len(t, r.Procedure.Notes, 3, "it is over 4 cubic feet, and that is said")
}

// Two sections ranked across each other add up.
func TestBoxedSectionsAdd(t *testing.T) {
	one := boxedTally()
	s := one.Stack.(Packaged)
	two := carefully(Packaged{Method: Boxed, Sections: append(s.Sections, s.Sections...)})
	a, b := measured(t, one), measured(t, two)
	assert.InDelta(t, 2*float64(a.Quantity.Volume), float64(b.Quantity.Volume), 1)
	assert.InDelta(t, 2*float64(a.Procedure.Volume), float64(b.Procedure.Volume), 1)
}

func TestOnlyPackagesHaveAProcedure(t *testing.T) {
	assert.Nil(t, measured(t, shortTally()).Procedure)
	assert.Nil(t, measured(t, loadTally()).Procedure)
}
