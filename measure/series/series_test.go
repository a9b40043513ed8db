package series

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// NIST/SEMATECH e-Handbook of Statistical Methods, section 1.3.5.2, confidence limits
// for the mean of the data set ZARR13: 195 values, mean 9.261460, deviation 0.022789,
// limits 9.258242 and 9.264679. From memory.
func TestMeanIntervalAgainstTheHandbook(t *testing.T) {
	half := meanHalf(0.022789, 195)
	assert.InDelta(t, 9.258242, 9.261460-half, 2e-6)
	assert.InDelta(t, 9.264679, 9.261460+half, 2e-6)
}

func audited(percent float64, word stack.Word) Audited {
	return Audited{Volume: measure.Volume(math.Round((1 + percent/100) * float64(measure.Cord))), Standard: measure.Cord / 50, Sold: measure.Cord, Word: word}
}

// By hand: errors −4, −2, −6, 0 and −3 %: mean −3, deviation √(20/4) = 2.23607, half
// width t₀.₉₇₅(4)·s/√5 = 2.77645·1 = 2.77645 (t from table G.2 of JCGM 100).
func TestSeriesByHand(t *testing.T) {
	s, err := Of([]Audited{audited(-4, stack.Short), audited(-2, stack.Unresolved), audited(-6, stack.Short), audited(0, stack.Full), audited(-3, stack.Unresolved)})
	require.NoError(t, err)
	assert.Equal(t, 5, s.Count)
	assert.InDelta(t, -0.03, s.Mean, 1e-12)
	assert.InDelta(t, 0.0223607, *s.Deviation, 1e-7)
	assert.InDelta(t, -0.0577645, *s.Low, 1e-6)
	assert.InDelta(t, -0.0022355, *s.High, 1e-6)
	assert.InDelta(t, 0.02, s.Measuring, 1e-12)
	assert.Equal(t, 2, s.Short)
	assert.Equal(t, 1, s.Full)
	assert.Contains(t, s.Notes[0].String(), "less was measured than sold")
}

// An interval goes no lower than all of it missing, and holds 0 where the audits show no
// usual error.
func TestSeriesIsNeverBelowAllOfIt(t *testing.T) {
	s, err := Of([]Audited{audited(-95, stack.Short), audited(-99, stack.Short), audited(20, stack.Full), audited(-99, stack.Short), audited(-90, stack.Short)})
	require.NoError(t, err)
	assert.InDelta(t, -1, *s.Low, 1e-12)
	s, err = Of([]Audited{audited(-4, stack.Short), audited(4, stack.Full), audited(0, stack.Full), audited(1, stack.Full), audited(-1, stack.Unresolved)})
	require.NoError(t, err)
	assert.Contains(t, s.Notes[0].String(), "holds 0")
}

// Under five audits there is no interval: they are listed, one by one.
func TestAFewAuditsSayNothingOfWhatIsUsual(t *testing.T) {
	s, err := Of([]Audited{audited(-6.2, stack.Short), audited(-22.2, stack.Short)})
	require.NoError(t, err)
	assert.Nil(t, s.Low)
	assert.Nil(t, s.High)
	assert.Equal(t, []stack.Word{stack.Short, stack.Short}, s.Words)
	assert.Contains(t, s.Notes[0].String(), "Too few to say what is usual with this seller: 2 of the 5")
}

func TestSeriesOfOneHasNoInterval(t *testing.T) {
	s, err := Of([]Audited{audited(-4, stack.Short)})
	require.NoError(t, err)
	assert.InDelta(t, -0.04, s.Mean, 1e-12)
	assert.Nil(t, s.Deviation)
	assert.Nil(t, s.Low)
	assert.Nil(t, s.High)
	assert.Contains(t, s.Notes[0].String(), "Too few")
	none, err := Of(nil)
	require.NoError(t, err)
	assert.Zero(t, none.Mean)
	_, err = Of([]Audited{{}})
	assert.Error(t, err, "nothing was sold")
}

// A seller who is always short by about as much is said to be.
func TestSeriesSaysWhatIsUsual(t *testing.T) {
	s, err := Of([]Audited{audited(-4, stack.Short), audited(-5, stack.Short), audited(-6, stack.Short), audited(-5, stack.Short), audited(-5, stack.Short)})
	require.NoError(t, err)
	assert.Negative(t, *s.High)
	assert.Contains(t, s.Notes[0].String(), "less was measured than sold")
	assert.Contains(t, s.Notes[2].String(), "closer together than measuring alone", "1 % between them, 2 % of measuring")
	assert.NotContains(t, s.Notes[0].String(), "%%")
}
