package words_test

import (
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
