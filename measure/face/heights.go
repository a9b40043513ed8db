package face

import (
	"math"

	"wellstowed/measure"
)

// Heights are the heights of the outline in the middle of n equal parts of the row, for a
// drawing: the length of the upright line there that is within the outline. None is below
// a sixteenth of an inch.
func (f *Face) Heights(n int) []measure.Length {
	outline := points(f.Outline)
	wood := boxOf(outline)
	out := make([]measure.Length, n)
	for i := range out {
		x := wood.left + (wood.right-wood.left)*(float64(i)+0.5)/float64(n)
		low, high := math.Inf(1), math.Inf(-1)
		for k, a := range outline {
			b := outline[(k+1)%len(outline)]
			if (a.X > x) != (b.X > x) {
				y := a.Y + (x-a.X)/(b.X-a.X)*(b.Y-a.Y)
				low, high = min(low, y), max(high, y)
			}
		}
		out[i] = max(measure.Inch/16, measure.Length(math.Round((high-low)*float64(measure.Inch))))
	}
	return out
}
