package stack

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// driedTally is worked example 1, rounded to the nearest, sold green and measured at 18
// percent at most, shrinking 13.7 percent in all: s = 13.7 × (1 − 18/30) = 5.48 percent.
func driedTally() Tally {
	tally := nearestTally()
	tally.SoldCondition, tally.Condition = Green, "seasoned"
	tally.Moisture = &Moisture{Percent: 16, Highest: 18, Basis: DryBasis, Pieces: 6, Method: "meter"}
	tally.Shrinkage = &Shrinkage{Percent: 13.7}
	return tally
}

func TestDryingAllowance(t *testing.T) {
	f := finding(t, driedTally())
	require.NotNil(t, f.Drying)
	assert.InDelta(t, 0.0548, f.Drying.Shrinkage, 1e-12)
	assert.InDelta(t, 128*(1-0.0548), f.Drying.DueDry.In(measure.CubicFoot), 1e-6)
	assert.Equal(t, Unresolved, f.Word, "123.16 of 128 ft³ is short, but 120.99 ft³ is all that may be left of it")
	assert.Equal(t, measure.Cord, f.Due)
	assert.Greater(t, f.Drying.Probability, 0.5)
	assert.NotEmpty(t, f.Drying.Working)
	assert.Contains(t, keys(f.Why), "It is not called short, because drying may account for what is missing.")
}

// Each shrinkage by hand, from Wood Handbook equation 4-9 (FPL-GTR-190, 2010): 13.7
// percent in all gives 4.57 at 20 and 8.22 at 12 percent moisture; 20 wet is 25 dry.
func TestShrinkageAtMoisture(t *testing.T) {
	for _, c := range []struct {
		moisture  Moisture
		shrinkage Shrinkage
		want      float64 // percent
	}{
		{Moisture{Percent: 20, Highest: 20, Basis: DryBasis}, Shrinkage{Percent: 13.7}, 4.57},
		{Moisture{Percent: 10, Highest: 12, Basis: DryBasis}, Shrinkage{Percent: 13.7}, 8.22},
		{Moisture{Percent: 10, Basis: DryBasis}, Shrinkage{Percent: 13.7}, 8.22}, // ± 2 where nobody says
		{Moisture{Percent: 18, Highest: 20, Basis: WetBasis}, Shrinkage{Percent: 12}, 2.00},
		{Moisture{Percent: 15, Highest: 15, Basis: DryBasis}, Shrinkage{BasicGravity: 0.56}, 7.42}, // 26.5 × 0.56 / 2
		{Moisture{Percent: 15, Highest: 15, Basis: DryBasis}, Shrinkage{Percent: 30}, 9.60},        // 19.2 is the table's most
	} {
		c.moisture.Pieces, c.moisture.Method = 5, "oven, at home"
		tally := driedTally()
		tally.Moisture, tally.Shrinkage = &c.moisture, &c.shrinkage
		assert.InDelta(t, c.want, 100*finding(t, tally).Drying.Shrinkage, 0.005)
	}
}

// Short where even the dried quantity is not there; full only against what was
// sold.
func TestDryingDecidesShortAndFull(t *testing.T) {
	tally := driedTally()
	f := finding(t, tally)
	enough := volume(float64(f.ShortAbove) / float64(measure.CubicInch) / (1 - 0.0548))
	assert.Equal(t, Short, finding(t, sellAs(tally, enough+2*measure.CubicInch)).Word)
	assert.Equal(t, Unresolved, finding(t, sellAs(tally, enough-2*measure.CubicInch)).Word)
	assert.Equal(t, Full, finding(t, sellAs(tally, f.FullBelow)).Word)
	assert.Equal(t, NoShortage, finding(t, sellAs(tally, f.FullBelow+1)).Word)
}

// The species sold caps the shrinkage that is typed, and no other.
func TestDryingIsCappedByTheSpecies(t *testing.T) {
	tally := driedTally()
	tally.MostShrinkage = 10
	assert.InDelta(t, 10*(1-18./30)/100, finding(t, tally).Drying.Shrinkage, 1e-12)
	tally.MostShrinkage = 17.2
	assert.InDelta(t, 0.0548, finding(t, tally).Drying.Shrinkage, 1e-12)
}

// There is no allowance for wood sold seasoned or dry or not said, for wood still
// green, or without a moisture that was measured.
func TestNoDryingAllowance(t *testing.T) {
	for name, change := range map[string]func(*Tally){
		"sold seasoned":   func(t *Tally) { t.SoldCondition = Seasoned },
		"sold dry":        func(t *Tally) { t.SoldCondition = Dry },
		"not said":        func(t *Tally) { t.SoldCondition = "" },
		"still green":     func(t *Tally) { t.Condition = "green" },
		"not measured":    func(t *Tally) { t.Moisture = nil },
		"four pieces":     func(t *Tally) { t.Moisture.Pieces = 4 },
		"by feel":         func(t *Tally) { t.Moisture.Method = "by feel" },
		"over 30 percent": func(t *Tally) { t.Moisture.Percent, t.Moisture.Highest = 29, 0 },
		"wet 25 is 33":    func(t *Tally) { t.Moisture.Basis, t.Moisture.Highest = WetBasis, 25 },
		"no shrinkage":    func(t *Tally) { t.Shrinkage = nil },
	} {
		tally := driedTally()
		change(&tally)
		f := finding(t, tally)
		assert.Nil(t, f.Drying, name)
		assert.Equal(t, Short, f.Word, name)
	}
}
