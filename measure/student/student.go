// Package student works out Student's t for any number of degrees of freedom.
package student

import "math"

// ManyDegrees is where Student's t is the normal distribution to seven digits.
const ManyDegrees = 1e7

// CDF is the probability that Student's t with so many degrees of freedom,
// not necessarily whole, stays at or below x.
func CDF(x, degrees float64) float64 {
	tail, _ := tailOf(math.Abs(x), degrees)
	if x < 0 {
		return tail
	}
	return 1 - tail
}

// Quantile is the x at which CDF is p, for p in [0.5, 1).
func Quantile(p, degrees float64) float64 { return Upper(1-p, degrees) }

// Upper is the x above which Student's t lies with a probability in (0, 0.5]: a
// first guess by the normal quantile, drawn in until the tail beyond it is right to some
// thirteen digits. It is endless where it would be above 10¹⁰⁰.
func Upper(tail, degrees float64) float64 {
	z := normalUpper(tail)
	x := expansion(z, 1/degrees)
	if z*z+1 <= surelyNormal*degrees || x == 0 {
		return x
	}
	return refined(x, tail, degrees)
}

// surelyNormal is the (z² + 1)/ν up to which the expansion about the normal quantile is
// right to twelve digits: what it leaves out goes with the fifth power of it.
const surelyNormal = 0.004

// normalUpper is Upper of the normal distribution. What the library's inverse can
// no longer tell from nothing is worked out from the tail itself.
func normalUpper(tail float64) float64 {
	const least = 1e-6
	if tail >= least {
		return math.Sqrt2 * math.Erfinv(1-2*tail)
	}
	return refined(math.Sqrt(-2*math.Log(tail)), tail, math.Inf(1))
}

// refined draws x in until a tail lies beyond it. Far off, it goes by Newton's step in the
// logarithms of both, which from any x above 0 lands at or above the answer and falls from
// there, since the logarithm of the tail is concave in the logarithm of x; near by, by the
// inverse's own series to the third order.
func refined(x, tail, degrees float64) float64 {
	const rounds = 200 // some ten are ever needed
	for range rounds {
		beyond, mass := tailOf(x, degrees)
		step := (beyond - tail) / mass // of x
		if !(math.Abs(step) < 0.02) {
			x *= math.Exp(math.Log(beyond/tail) * beyond / mass)
			if !(x < outOfReach) {
				return math.Inf(1)
			}
			continue
		}
		// −f′/f of the density and its derivative, in x and its square.
		q := 1 + x*x/degrees
		first := (1 + 1/degrees) * x * x / q
		second := first * (2/q - 1)
		x += x * step * (1 + step*(first/2+step*(second+2*first*first)/6))
		if math.Abs(step) < 1e-4 {
			break
		}
	}
	return x
}

// outOfReach is where a quantile is as good as endless: its square still is a number.
const outOfReach = 1e100

// tailOf is how much of Student's t lies beyond x, from 0 up, and x times its density
// there. The tail is the incomplete beta function I_y(ν/2, 1/2)/2 at y = ν/(ν + x²), by
// the continued fraction of the side of x on which it converges sooner (NIST Digital
// Library of Mathematical Functions, 8.17.4 and 8.17.22, from memory).
func tailOf(x, degrees float64) (tail, mass float64) {
	if degrees > ManyDegrees {
		return math.Erfc(x/math.Sqrt2) / 2, x * math.Exp(-x*x/2) / math.Sqrt(2*math.Pi)
	}
	a, r := degrees/2, x*x/degrees
	mass = gammaStep(a) / math.Sqrt(degrees*math.Pi) * math.Exp(math.Log(x)-(a+0.5)*math.Log1p(r))
	if r*(degrees+2) < 3 || x < 3 && degrees >= 2 {
		return 0.5 - mass*betaFraction(0.5, a, r/(1+r)), mass
	}
	return mass / degrees * betaFraction(a, 0.5, 1/(1+r)), mass
}

// betaFraction is the continued fraction in the incomplete beta function,
// 1/(1 + d₁/(1 + d₂/(1 + …))), by its convergents.
func betaFraction(a, b, y float64) float64 {
	const most = 10_000 // some ten are needed near what findings ask for
	above, below := 1.0, 1.0
	lastAbove, lastBelow := 0.0, 1.0
	was := 1.0
	for m := 0.0; m < most; m++ {
		odd := -(a + m) * (a + b + m) * y / ((a + 2*m) * (a + 2*m + 1))
		midAbove, midBelow := above+odd*lastAbove, below+odd*lastBelow
		m1 := m + 1
		even := m1 * (b - m1) * y / ((a + 2*m1 - 1) * (a + 2*m1))
		nextAbove, nextBelow := midAbove+even*above, midBelow+even*below
		scale := 1 / nextBelow
		above, below = nextAbove*scale, 1
		lastAbove, lastBelow = midAbove*scale, midBelow*scale
		if math.Abs(above-was) <= 1e-15*above {
			break
		}
		was = above
	}
	return above
}

// gammaStep is Γ(a + 1/2)/Γ(a): from a = 12 on by its asymptotic series about a − 1/4
// (the expansion of ln Γ in Bernoulli polynomials, NIST Digital Library of Mathematical
// Functions, 5.11.8, from memory), below by going up to there.
func gammaStep(a float64) float64 {
	above, below := 1.0, 1.0
	for a < 12 {
		above, below, a = above*a, below*(a+0.5), a+1
	}
	w := a - 0.25
	s := 1 / (w * w)
	series := s * (1./64 - s*(5./2048-s*(61./49152-s*(1385./1048576-s*50521./20971520))))
	return math.Sqrt(w) * math.Exp(series) * above / below
}

// expansion turns a normal quantile into Student's by the series in 1/ν
// (Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5; from memory,
// and held against the incomplete beta function in a test).
func expansion(z, perDegree float64) float64 {
	q := z * z
	first := z * (q + 1) / 4
	second := z * ((5*q+16)*q + 3) / 96
	third := z * (((3*q+19)*q+17)*q - 15) / 384
	fourth := z * ((((79*q+776)*q+1482)*q-1920)*q - 945) / 92160
	return z + perDegree*(first+perDegree*(second+perDegree*(third+perDegree*fourth)))
}
