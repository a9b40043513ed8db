package stack

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mathext"
)

// A part is one line of the doubt budget as worked out, in cubic inches.
type part struct {
	source  Source
	row     int     // from 1; 0: the stack as a whole
	u       float64 // |sensitivity|·standard uncertainty
	degrees float64 // of freedom, +Inf where judged and not observed
	cure    cure
}

// A cure is what would make a part smaller, and how much would be left of it.
type cure struct {
	code    string // an Action's code; empty: nothing would
	u       float64
	degrees float64
	minutes float64 // of work, practice: only used to put actions in order
}

// rectangular is the standard uncertainty of a value known to lie within ± half
// (JCGM 100:2008, 4.3.7).
func rectangular(half float64) float64 { return half / math.Sqrt(3) }

// combined is a combined standard uncertainty and its effective degrees of freedom.
type combined struct{ u, degrees float64 }

// combine adds uncorrelated parts: u by the root of the sum of squares (JCGM
// 100:2008, 5.1.2), degrees by Welch–Satterthwaite (G.4.1), as if the action of
// that code had been taken; "" takes the parts as they are.
func combine(parts []part, action string) combined {
	var squares, tail float64
	for i := range parts {
		u, degrees := parts[i].after(action)
		squares += u * u
		tail += u * u * u * u / degrees
	}
	return summed(squares, tail)
}

// summed closes a sum of squares and of fourth powers over their degrees.
func summed(squares, tail float64) combined {
	if tail == 0 {
		return combined{math.Sqrt(squares), math.Inf(1)}
	}
	return combined{math.Sqrt(squares), squares * squares / tail}
}

// coverage is k, Student's t at 97.5 %, the degrees not rounded.
func (c combined) coverage() float64 { return studentQuantile(0.975, c.degrees) }

// expanded is U = k·u.
func (c combined) expanded() float64 { return c.coverage() * c.u }

// contributions puts the budget in order, largest first, ties as they came.
func contributions(parts []part, u float64) []Contribution {
	slices.SortStableFunc(parts, func(a, b part) int { return cmp.Compare(b.u, a.u) })
	doubt := make([]Contribution, len(parts))
	for i, p := range parts {
		doubt[i] = Contribution{
			Source:   p.source,
			Row:      p.row,
			Standard: volume(p.u),
			Degrees:  Degrees(p.degrees),
			Share:    p.u * p.u / (u * u),
		}
	}
	return doubt
}

// manyDegrees is where Student's t is the normal distribution to seven digits.
const manyDegrees = 1e7

// studentCDF is the probability that Student's t with so many degrees of freedom,
// not necessarily whole, stays at or below x.
func studentCDF(x, degrees float64) float64 {
	if degrees > manyDegrees {
		return math.Erfc(-x/math.Sqrt2) / 2
	}
	tail := mathext.RegIncBeta(degrees/2, 0.5, degrees/(degrees+x*x)) / 2
	if x < 0 {
		return tail
	}
	return 1 - tail
}

// expandedDegrees is from where on studentQuantile is an expansion about the
// normal quantile, good to nine digits there and better above.
const expandedDegrees = 100

// studentQuantile is the x at which studentCDF is p, for p in [0.5, 0.999].
func studentQuantile(p, degrees float64) float64 {
	if degrees < expandedDegrees {
		y := mathext.InvRegIncBeta(degrees/2, 0.5, 2*(1-p))
		return math.Sqrt(degrees * (1 - y) / y)
	}
	return studentExpansion(math.Sqrt2*math.Erfinv(2*p-1), 1/degrees)
}

// studentExpansion turns a normal quantile into Student's by the series in 1/ν
// (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5; from memory,
// and held against the incomplete beta function in a test).
func studentExpansion(z, perDegree float64) float64 {
	q := z * z
	first := z * (q + 1) / 4
	second := z * ((5*q+16)*q + 3) / 96
	third := z * (((3*q+19)*q+17)*q - 15) / 384
	fourth := z * ((((79*q+776)*q+1482)*q-1920)*q - 945) / 92160
	return z + perDegree*(first+perDegree*(second+perDegree*(third+perDegree*fourth)))
}
