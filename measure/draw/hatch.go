package draw

import (
	"math"
	"slices"

	"wellstowed/measure"
)

// hatchSpacing is the distance between hatch lines along an axis, on paper.
const hatchSpacing = 3_200_000 * measure.Nanometre

// A slant is the way hatch lines go.
type slant float64

const (
	rising  slant = 1  // x + y is constant along a line
	falling slant = -1 // x − y is constant along a line
)

// hatch covers an area with light lines at 45°, leaving holes out. The area may
// have any simple shape, a hole is convex.
func hatch(area []Point, holes [][]Point, s slant) []Line {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range area {
		c := s.of(p)
		lo, hi = min(lo, c), max(hi, c)
	}
	var lines []Line
	step := float64(hatchSpacing)
	for c := (math.Floor(lo/step) + 0.5) * step; c < hi; c += step {
		spans := crossings(area, c, s)
		for _, hole := range holes {
			spans = without(spans, crossings(hole, c, s))
		}
		lines = append(lines, s.lines(spans, c)...)
	}
	return lines
}

// of is what stays constant along a line of this slant.
func (s slant) of(p Point) float64 { return float64(p.X) + float64(s)*float64(p.Y) }

// at is the point of the line c at x.
func (s slant) at(x, c float64) Point {
	return Point{measure.Length(math.Round(x)), measure.Length(math.Round((c - x) * float64(s)))}
}

// lines turns spans of x on the line c into hatch lines; crumbs are left out.
func (s slant) lines(spans []float64, c float64) []Line {
	const crumb = float64(measure.Millimetre) / 4
	var lines []Line
	for i := 0; i+1 < len(spans); i += 2 {
		if spans[i+1]-spans[i] < crumb {
			continue
		}
		lines = append(lines, Line{A: s.at(spans[i], c), B: s.at(spans[i+1], c), Style: Light, Role: "hatch"})
	}
	return lines
}

// crossings are the x where the line c enters and leaves an area, in order.
func crossings(area []Point, c float64, s slant) []float64 {
	var xs []float64
	for i, a := range area {
		b := area[(i+1)%len(area)]
		fa, fb := s.of(a)-c, s.of(b)-c
		if (fa < 0) == (fb < 0) {
			continue
		}
		xs = append(xs, float64(a.X)+(float64(b.X)-float64(a.X))*fa/(fa-fb))
	}
	slices.Sort(xs)
	return xs
}

// without takes one span off the others.
func without(spans, hole []float64) []float64 {
	if len(hole) < 2 {
		return spans
	}
	var left []float64
	for i := 0; i+1 < len(spans); i += 2 {
		a, b := spans[i], spans[i+1]
		if a < hole[0] {
			left = append(left, a, min(b, hole[0]))
		}
		if b > hole[1] {
			left = append(left, max(a, hole[1]), b)
		}
	}
	return left
}
