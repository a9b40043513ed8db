package words_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// A difference that is next to nothing of a cord is said in cubic feet, and never as 0 cord.
func TestSmallDifferencesAreNeverZeroCord(t *testing.T) {
	p := words.New("en", act.Imperial)
	pair := stack.Pair{Difference: measure.CubicFoot / 20, Limit: measure.Cord / 100, Agree: true}
	assert.Equal(t, "Between Ann and Bo: 0.05 ft³, within the 0.01 cord (1.3 ft³) that their give or take allows.",
		p.Apartness(pair, measure.Ranked, "Ann", "Bo"))
	pair.Difference = 0
	assert.Contains(t, p.Apartness(pair, measure.Ranked, "Ann", "Bo"), ": 0 ft³, ")
}

// A species that is in a load is never said to be 0 % of it.
func TestSmallSharesAreNeverZeroPercent(t *testing.T) {
	mix, err := wood.ParseMix("red oak 0.04 %; beech 99.96 %")
	require.NoError(t, err)
	assert.Contains(t, words.New("en", act.Imperial).Mix(mix), "less than 0.1 %")
	assert.NotContains(t, words.New("en", act.Imperial).Mix(mix), " 0 %")
}

// A package is said in cubic feet or litres and never in cords: the answer, what is missing and
// the give or take alike.
func TestAPackageIsNeverSaidInCords(t *testing.T) {
	tally, err := stack.ParseTally([]byte(`{"format":2,"sold":"0.75 cu ft","apart":"none","look":1,"tape":"1/16 in","rounded":"nearest","top":"straightedge","stowed":"checked",
		"stack":{"kind":"rows","pieces":["16 in","16 in","15.9 in"],"rows":[{"length":"10 in","heights":["8 in","8 in","8 in"],"ends":[{"kind":"upright"},{"kind":"upright"}]}]}}`))
	require.NoError(t, err)
	r, err := stack.Measure(tally)
	require.NoError(t, err)
	for units, unit := range map[act.Units]string{act.Imperial: "ft³", act.Metric: "litres"} {
		p := words.New("en", units)
		said := strings.Join(append(p.After(tally, r), p.Finding(r)), " ")
		assert.Contains(t, said, unit)
		assert.NotContains(t, said, "cord")
	}
}
