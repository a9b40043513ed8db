package lot

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/rules"
)

// Lot sizes, samples, factors and allowances: NIST Handbook 133, Appendix A,
// Table 2-1, from memory.
func TestPlanForEveryLineOfTheTable(t *testing.T) {
	for _, row := range []struct {
		lot, sample int
		factor      float64
		allowed     int
	}{
		{2, 2, 8.985, 0}, {3, 3, 2.484, 0}, {4, 4, 1.591, 0}, {5, 5, 1.242, 0}, {6, 6, 1.049, 0}, {7, 7, 0.925, 0},
		{8, 8, 0.836, 0}, {9, 9, 0.769, 0}, {10, 10, 0.715, 0}, {11, 11, 0.672, 0}, {12, 12, 0.635, 0}, {30, 12, 0.635, 0},
		{250, 12, 0.635, 0}, {251, 24, 0.422, 0}, {3200, 24, 0.422, 0}, {3201, 48, 0.290, 1}, {MaxLotSize, 48, 0.290, 1},
	} {
		plan, err := PlanFor(rules.Set{}, row.lot)
		require.NoError(t, err)
		require.NotNil(t, plan.Factor, row.lot)
		assert.Equal(t, row.sample, plan.Sample.Value, row.lot)
		assert.Equal(t, row.factor, plan.Factor.Value, row.lot)
		assert.Equal(t, row.allowed, plan.Allowed.Value, row.lot)
		for _, known := range []rules.Known{plan.Sample.Known, plan.Factor.Known, plan.Allowed.Known} {
			assert.Equal(t, rules.FromMemory, known.Status)
			assert.Contains(t, known.Source, "Table 2-1")
		}
		// Independent of the table: t₀.₉₇₅(n − 1)/√n, to the table's three decimals.
		n := float64(row.sample)
		assert.InDelta(t, tQuantile(n-1)/math.Sqrt(n), plan.Factor.Value, 0.0005, "lot of %d", row.lot)
	}
}

func TestALotOfOneHasNoFactor(t *testing.T) {
	plan, err := PlanFor(rules.Set{}, 1)
	require.NoError(t, err)
	assert.Nil(t, plan.Factor)
	assert.Equal(t, 1, plan.Sample.Value)
}

func TestPlanForRefusesOtherSizes(t *testing.T) {
	for _, size := range []int{0, -3, MaxLotSize + 1} {
		_, err := PlanFor(rules.Set{}, size)
		assert.ErrorContains(t, err, "1 to 1000000", size)
	}
}

// The quantiles that the factors rest on, two-sided 95 %: standard table of
// Student's t, from memory.
func TestQuantileOfThisTest(t *testing.T) {
	for df, want := range map[float64]float64{1: 12.706, 2: 4.303, 4: 2.776, 11: 2.201, 23: 2.069, 47: 2.012} {
		assert.InDelta(t, want, tQuantile(df), 0.0005, df)
	}
}

// tQuantile is t₀.₉₇₅(df), by bisection on Simpson's rule over the density.
func tQuantile(df float64) float64 {
	low, high := 0.0, 20.0
	for range 60 {
		if middle := (low + high) / 2; tHalf(middle, df) < 0.475 {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// tHalf is the probability between 0 and x.
func tHalf(x, df float64) float64 {
	top, _ := math.Lgamma((df + 1) / 2)
	bottom, _ := math.Lgamma(df / 2)
	scale := math.Exp(top-bottom) / math.Sqrt(df*math.Pi)
	density := func(t float64) float64 { return scale * math.Pow(1+t*t/df, -(df+1)/2) }
	const parts = 2000
	h := x / parts
	sum := density(0) + density(x)
	for i := 1; i < parts; i++ {
		sum += float64(2+2*(i%2)) * density(float64(i)*h)
	}
	return sum * h / 3
}
