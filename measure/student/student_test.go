package student

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mathext"
)

// The quantile and the tail agree with another library's incomplete beta function and its
// inverse to twelve digits, for as many degrees as that one keeps them.
func TestStudentAgreesWithTheBetaFunction(t *testing.T) {
	for _, degrees := range []float64{0.7, 1, 1.3, 2, 3.5, 4, 5, 7.2, 10, 16.7, 30, 60, 99, 100, 101, 108.4607, 150, 200} {
		for _, tail := range []float64{0.1, 0.05, 0.025, 0.0125, 0.005, 0.001, 1e-5} {
			y := mathext.InvRegIncBeta(degrees/2, 0.5, 2*tail)
			want := math.Sqrt(degrees * (1 - y) / y)
			assert.InEpsilon(t, want, Upper(tail, degrees), 1e-12, "tail %v, ν %v", tail, degrees)
		}
		for _, x := range []float64{0.5, 1, 1.7, 2, 2.9, 3, 6, 40} {
			tail, _ := tailOf(x, degrees)
			assert.InEpsilon(t, mathext.RegIncBeta(degrees/2, 0.5, degrees/(degrees+x*x))/2, tail, 1e-12, "x %v, ν %v", x, degrees)
		}
	}
}

// Where the other library loses digits, and where findings after many checks lead: worked
// out to forty digits with mpmath 1.3 (betainc and erfc, solved by findroot).
func TestStudentFarOut(t *testing.T) {
	sixtieth := 0.05 / math.Pow(2, 60)
	for _, c := range []struct{ tail, degrees, want float64 }{
		{0.05, 1000, 1.646378817285464715593},
		{0.025, 3000, 1.960755055322458453653},
		{0.05, 100_000, 1.644868864784969733960},
		{0.05, math.Inf(1), 1.644853626951472714864},
		{0.025, math.Inf(1), 1.959963984540054235524},
		{0.025, 0.7, 36.61141503158868808679},
		{0.05, 1.3, 4.333339183467030577061},
		{sixtieth, 4, 91198.51096165669986946507},
		{sixtieth, 108, 11.20042941402455108271},
		{sixtieth, math.Inf(1), 9.104410508738379250836},
	} {
		assert.InEpsilon(t, c.want, Upper(c.tail, c.degrees), 1e-12, "tail %v, ν %v", c.tail, c.degrees)
	}
	// erfc itself keeps ten digits out there.
	assert.InEpsilon(t, 37.19158964061017865884, Upper(0.05*math.Pow(2, -1000), math.Inf(1)), 1e-10)
	for _, c := range []struct{ x, degrees, want float64 }{
		{0.01, 100_000, 0.4960106536594115781449},
		{2, 100_000, 0.02275148172875323162464},
		{1.7, 1000, 0.04472094347962002102516},
		{1.3, 5e6, 0.09680051454940707058365},
	} {
		tail, _ := tailOf(c.x, c.degrees)
		assert.InEpsilon(t, c.want, tail, 1e-13, "x %v, ν %v", c.x, c.degrees)
	}
	assert.Zero(t, Upper(0.5, 3))
}

// The further out, the less lies beyond; with more degrees too. Nothing in between is not
// a number, whatever the level of a late check.
func TestStudentUpperFalls(t *testing.T) {
	for _, degrees := range []float64{0.5, 1, 2, 3, 10, 99, 500, 1e4, ManyDegrees, math.Inf(1)} {
		before := 0.0
		for k := range 1000 {
			x := Upper(0.4*math.Pow(2, -float64(k)), degrees)
			if endless := math.IsInf(x, 1); !(x > before) && !endless || endless && degrees > 3 {
				t.Fatalf("ν %v, level 0.4/2^%d: %v after %v", degrees, k, x, before)
			}
			before = x
		}
	}
}
