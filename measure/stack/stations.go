package stack

import (
	"math"

	"wellstowed/measure"
)

// What is taken where few heights of a row were read: practice, no source.
const (
	fewStations     = 4   // from here on the spread between stations is used
	oneStationHalf  = 3.0 // ± inches with one station
	fewStationsHalf = 2.0 // ± inches with two or three
	usualStep       = 1.0 // inches, the spread expected of stations not yet read
	moreStations    = 4   // a row, that the advice asks for
)

// weight is how much of a row so many inches long station i stands for: half way to
// its neighbours, and out to the end for the first and last.
func (r *Row) weight(i int, length float64) float64 {
	m := len(r.Heights)
	if len(r.Positions) == 0 {
		return length / float64(m)
	}
	from, to := 0.0, length
	if i > 0 {
		from = inches(r.Positions[i-1]+r.Positions[i]) / 2
	}
	if i < m-1 {
		to = inches(r.Positions[i]+r.Positions[i+1]) / 2
	}
	return to - from
}

// area is the face between the ends of a row so many inches long in square inches,
// heights counting up inches more, and the root of the sum of its squared station
// weights in inches.
func (r *Row) area(raised measure.Length, length, up float64) (area, weights float64) {
	var squares float64
	for i := range r.Heights {
		w := r.weight(i, length)
		area += w * r.WoodAt(i, raised, up)
		squares += w * w
	}
	return area, math.Sqrt(squares)
}

// stepSpread is s_d in inches: the spread of the heights from their successive
// differences, √(Σ(hᵢ₊₁ − hᵢ)²/(2(m−1))), the usual estimator for a systematic
// sample. 0 with a single height.
func (r *Row) stepSpread() float64 {
	m := len(r.Heights)
	if m < 2 {
		return 0
	}
	var squares float64
	for i := 1; i < m; i++ {
		d := r.step(i)
		squares += d * d
	}
	return math.Sqrt(squares / float64(2*(m-1)))
}

// stepDegrees are the degrees of freedom of stepSpread, 2(m−1)²/(3m−4).
func stepDegrees(m int) float64 {
	return 2 * float64((m-1)*(m-1)) / float64(3*m-4)
}

// fewHalf is the half-width, in inches, on the mean height of a row with fewer
// than four stations.
func (r *Row) fewHalf() float64 {
	if len(r.Heights) == 1 {
		return oneStationHalf
	}
	return max(fewStationsHalf, r.halfRange())
}

// moreHeights is what four more stations would leave on the row's mean height, in
// inches: equal parts, the same spread, at least 1 in where fewer than four were read.
func (r *Row) moreHeights() combined {
	m, s := len(r.Heights), r.stepSpread()
	if m < fewStations {
		s = max(s, usualStep)
	}
	m = min(m+moreStations, MaxStations)
	return combined{s / math.Sqrt(float64(m)), stepDegrees(m)}
}
