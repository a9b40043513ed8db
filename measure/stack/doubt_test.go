package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure/student"
)

// The end-gauge calibration of JCGM 100:2008, Annex H.1: table H.1 for the
// components, H.1.6 for the expanded uncertainty. From memory. Nanometres here. The
// components are printed to two or three digits, which leaves the sums that much
// open.
func TestCombineGUMEndGauge(t *testing.T) {
	parts := []part{
		{u: 25, degrees: 18},         // calibration of the standard
		{u: 9.7, degrees: 25.6},      // difference between the gauges
		{u: 2.9, degrees: 50},        // difference of the expansion coefficients
		{u: 16.6, degrees: 2},        // difference of the temperatures
		{u: 0, degrees: math.Inf(1)}, // expansion coefficient of the standard
		{u: 0, degrees: math.Inf(1)}, // deviation of the bed's temperature
	}
	c := combine(parts, "")
	assert.InDelta(t, 32, c.u, 0.5)
	assert.InDelta(t, 1002, c.u*c.u, 2) // u_c² as printed, nm²
	assert.InDelta(t, 16.7, c.degrees, 0.1)
	k := student.Quantile(0.995, math.Floor(c.degrees)) // the guide rounds down; model 1 does not
	assert.InDelta(t, 2.92, k, 0.005)
	assert.InDelta(t, 93, k*c.u, 0.5)
}

// JCGM 100:2008, table G.2: t for a fraction p of the distribution within ± t.
// From memory.
func TestStudentQuantileGUMTableG2(t *testing.T) {
	inf := math.Inf(1)
	rows := []struct {
		degrees                   float64
		t68, t90, t95, t9545, t99 float64
		tolerance                 float64
	}{
		{1, 1.84, 6.31, 12.71, 13.97, 63.66, 0.005},
		{2, 1.32, 2.92, 4.30, 4.53, 9.92, 0.005},
		{5, 1.11, 2.02, 2.57, 2.65, 4.03, 0.005},
		{10, 1.05, 1.81, 2.23, 2.28, 3.17, 0.005},
		{20, 1.03, 1.72, 2.09, 2.13, 2.85, 0.005},
		{50, 1.01, 1.68, 2.01, 2.05, 2.68, 0.005},
		{100, 1.005, 1.660, 1.984, 2.025, 2.626, 0.0005},
		{inf, 1.000, 1.645, 1.960, 2.000, 2.576, 0.0005},
	}
	for _, r := range rows {
		within := func(p float64) float64 { return student.Quantile((1+p)/2, r.degrees) }
		assert.InDelta(t, r.t68, within(0.6827), r.tolerance, "68.27 %%, ν %v", r.degrees)
		assert.InDelta(t, r.t90, within(0.90), r.tolerance, "90 %%, ν %v", r.degrees)
		assert.InDelta(t, r.t95, within(0.95), r.tolerance, "95 %%, ν %v", r.degrees)
		assert.InDelta(t, r.t9545, within(0.9545), r.tolerance, "95.45 %%, ν %v", r.degrees)
		assert.InDelta(t, r.t99, within(0.99), r.tolerance, "99 %%, ν %v", r.degrees)
	}
}

// With one degree t is the Cauchy distribution, with two it has a closed form.
func TestStudentCDFClosedForms(t *testing.T) {
	for _, x := range []float64{-40, -3, -0.5, 0, 0.1, 1, 7} {
		assert.InDelta(t, 0.5+math.Atan(x)/math.Pi, student.CDF(x, 1), 1e-14)
		assert.InDelta(t, 0.5+x/(2*math.Sqrt(2+x*x)), student.CDF(x, 2), 1e-14)
	}
}

func TestStudentQuantileUndoesCDF(t *testing.T) {
	for _, degrees := range []float64{0.7, 1, 3.5, 16.7, 108.4607, 1e4, 1e6, student.ManyDegrees, math.Inf(1)} {
		for _, p := range []float64{0.95, 0.975, 0.995} {
			assert.InDelta(t, p, student.CDF(student.Quantile(p, degrees), degrees), 1e-9, "p %v, ν %v", p, degrees)
		}
	}
}

func TestCombineJudgedPartsHaveInfiniteDegrees(t *testing.T) {
	inf := math.Inf(1)
	c := combine([]part{{u: 3, degrees: inf}, {u: 4, degrees: inf}}, "")
	assert.Equal(t, combined{5, inf}, c)
}

func TestContributionsKeepOrderOfTies(t *testing.T) {
	inf := math.Inf(1)
	parts := []part{
		{source: RowEnds, row: 1, u: 1, degrees: inf},
		{source: Stowage, u: 2, degrees: inf},
		{source: RowEnds, row: 2, u: 1, degrees: inf},
		{source: LengthReading, row: 1, u: 1, degrees: inf},
	}
	doubt := contributions(parts, combine(parts, "").u)
	assert.Equal(t, []Source{Stowage, RowEnds, RowEnds, LengthReading},
		[]Source{doubt[0].Source, doubt[1].Source, doubt[2].Source, doubt[3].Source})
	assert.Equal(t, 1, doubt[1].Row)
	assert.Equal(t, 2, doubt[2].Row)
	assert.InDelta(t, 4./7, doubt[0].Share, 1e-15)
}
