package stack

import (
	"math"

	"wellstowed/measure"
)

// A Slope is how the ground along a row slopes, and how its heights were held.
// Heights held perpendicular to it count as read; heights held vertical, with Rise
// over Run of the ground, count as read times the slope's cosine: a row's length is
// read along the slope. The zero Slope is level ground, or not said.
type Slope struct {
	Held Held
	Rise measure.Length // over Run; ≥ 0
	Run  measure.Length
}

// Held is how heights were held on a slope.
type Held string

// The ways of holding a height on a slope.
const (
	Perpendicular Held = "perpendicular"
	Vertical      Held = "vertical"
)

// Cosine is what a height as read is multiplied by, a ratio.
func (s Slope) Cosine() float64 {
	if s.Held != Vertical || s.Run <= 0 {
		return 1
	}
	return float64(s.Run) / math.Hypot(float64(s.Rise), float64(s.Run))
}

// WoodAt is the height of the wood at station i in inches: of both faces where the
// back was read, perpendicular to the base. Every reading counts up inches more.
func (r *Row) WoodAt(i int, raised measure.Length, up float64) float64 {
	h := inches(r.Heights[i] - raised)
	if i < len(r.Back) {
		h = (h + inches(r.Back[i]-raised)) / 2
	}
	return (h + up) * r.Slope.Cosine()
}

// step is how much the wood rises from station i − 1 to station i, in inches.
func (r *Row) step(i int) float64 {
	d := inches(r.Heights[i] - r.Heights[i-1])
	if len(r.Back) > 0 {
		d = (d + inches(r.Back[i]-r.Back[i-1])) / 2
	}
	return d * r.Slope.Cosine()
}

// halfRange is half of the largest less the smallest height of the wood, in inches.
func (r *Row) halfRange() float64 {
	if len(r.Back) == 0 {
		return halfRange(r.Heights) * r.Slope.Cosine()
	}
	low, high := r.WoodAt(0, 0, 0), r.WoodAt(0, 0, 0)
	for i := range r.Heights {
		low, high = min(low, r.WoodAt(i, 0, 0)), max(high, r.WoodAt(i, 0, 0))
	}
	return (high - low) / 2
}

// Wood gives the height of the wood at each station, after raised is taken off: of
// both faces where the back was read, and perpendicular to the base. It is what a
// drawing of the row shows.
func (r Row) Wood(raised measure.Length) []measure.Length {
	heights := make([]measure.Length, len(r.Heights))
	for i := range heights {
		heights[i] = measure.Length(math.RoundToEven(r.WoodAt(i, raised, 0) * float64(measure.Inch)))
	}
	return heights
}
