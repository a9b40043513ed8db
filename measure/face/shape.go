package face

import "math"

// crosses tells whether two sides of an outline meet that are not neighbours.
func crosses(outline []point) bool {
	n := len(outline)
	for i := range n {
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if meet(outline[i], outline[(i+1)%n], outline[j], outline[(j+1)%n]) {
				return true
			}
		}
	}
	return false
}

// overlap tells whether two outlines, neither of which crosses itself, have a point in
// common.
func overlap(a, b []point) bool {
	for i := range a {
		for j := range b {
			if meet(a[i], a[(i+1)%len(a)], b[j], b[(j+1)%len(b)]) {
				return true
			}
		}
	}
	return inside(a[0], b) || inside(b[0], a)
}

// meet tells whether the line from a to b and that from c to d have a point in common.
func meet(a, b, c, d point) bool {
	return turn(a, b, c)*turn(a, b, d) <= 0 && turn(c, d, a)*turn(c, d, b) <= 0 && boxesMeet(a, b, c, d)
}

func boxesMeet(a, b, c, d point) bool {
	return max(min(a.X, b.X), min(c.X, d.X)) <= min(max(a.X, b.X), max(c.X, d.X)) &&
		max(min(a.Y, b.Y), min(c.Y, d.Y)) <= min(max(a.Y, b.Y), max(c.Y, d.Y))
}

// turn is twice the area of a triangle, above 0 where c is to the left of the way from a
// to b, with y up.
func turn(a, b, c point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (c.X-a.X)*(b.Y-a.Y) }

// inside tells whether a point is within an outline, by the sides that a ray from it
// crosses.
func inside(p point, outline []point) (in bool) {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// within tells whether a gap is in an outline: its points are, and no side of it crosses one
// of the outline's, as where it goes over a dent.
func within(gap, outline []point) bool {
	for i, p := range gap {
		q := gap[(i+1)%len(gap)]
		if !inside(p, outline) {
			return false
		}
		for k, a := range outline {
			if meet(p, q, a, outline[(k+1)%len(outline)]) {
				return false
			}
		}
	}
	return true
}

// onALine is how near to a line three points are that may pass for one: the height of
// their triangle to its longest side, a ratio.
const onALine = 0.02

// spread tells whether among the points are four of which no three are on a line.
func spread(points []point) bool {
	n := len(points)
	for a := range n {
		for b := a + 1; b < n; b++ {
			for c := b + 1; c < n; c++ {
				if lined(points[a], points[b], points[c]) {
					continue
				}
				for d := c + 1; d < n; d++ {
					if !lined(points[a], points[b], points[d]) && !lined(points[a], points[c], points[d]) && !lined(points[b], points[c], points[d]) {
						return true
					}
				}
			}
		}
	}
	return false
}

func lined(a, b, c point) bool {
	longest := max(math.Hypot(b.X-a.X, b.Y-a.Y), math.Hypot(c.X-b.X, c.Y-b.Y), math.Hypot(a.X-c.X, a.Y-c.Y))
	return math.Abs(turn(a, b, c)) < onALine*longest*longest
}

// A box is the room that points take up.
type box struct{ left, right, low, high float64 }

func boxOf(points []point) box {
	b := box{math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)}
	for _, p := range points {
		b.left, b.right = min(b.left, p.X), max(b.right, p.X)
		b.low, b.high = min(b.low, p.Y), max(b.high, p.Y)
	}
	return b
}

// grown is the box with a share of its sides added on each.
func (b box) grown(share float64) box {
	x, y := share*(b.right-b.left), share*(b.high-b.low)
	return box{b.left - x, b.right + x, b.low - y, b.high + y}
}

func (b box) holds(p point) bool {
	return p.X >= b.left && p.X <= b.right && p.Y >= b.low && p.Y <= b.high
}
