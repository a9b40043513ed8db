package draw

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A rowShape is the face of a row in real lengths: x along the row from its first
// end, heights from the base of the wood.
type rowShape struct {
	length  measure.Length
	xs, hs  []measure.Length // stations, along the row
	ends    [2]stack.End
	voids   []stack.Void
	outside [2]measure.Length // runs beyond the row length
}

// shapeOf takes raised off the heights, takes both faces and a slope together, and
// gives each station its place.
func shapeOf(row stack.Row, raised measure.Length) rowShape {
	s := rowShape{length: row.Length, ends: row.Ends, voids: row.Voids}
	for i, h := range row.Wood(raised) {
		s.xs = append(s.xs, place(row, i))
		s.hs = append(s.hs, max(h, 0))
	}
	for i, end := range row.Ends {
		if end.Kind == stack.Tapered || end.Kind == stack.Cribbed {
			s.outside[i] = end.Over
		}
	}
	return s
}

// place is where station i stands: as given, else in the middle of its part.
func place(row stack.Row, i int) measure.Length {
	if len(row.Positions) == len(row.Heights) {
		return row.Positions[i]
	}
	return row.Length * measure.Length(2*i+1) / measure.Length(2*len(row.Heights))
}

// height is the greatest height of the row.
func (s rowShape) height() measure.Length { return slices.Max(s.hs) }

// width is the row with its runs outside.
func (s rowShape) width() measure.Length { return s.outside[0] + s.length + s.outside[1] }

// endHeight is the height at the first or second end.
func (s rowShape) endHeight(end int) measure.Length {
	if end == 0 {
		return s.hs[0]
	}
	return s.hs[len(s.hs)-1]
}

// top is the measured top at x: through the stations, flat beyond them.
func (s rowShape) top(x measure.Length) measure.Length {
	for i, at := range s.xs {
		if x > at {
			continue
		}
		if i == 0 {
			return s.hs[0]
		}
		run := at - s.xs[i-1]
		if run == 0 {
			return s.hs[i]
		}
		part := float64(x-s.xs[i-1]) / float64(run)
		return s.hs[i-1] + measure.Length(part*float64(s.hs[i]-s.hs[i-1]))
	}
	return s.endHeight(1)
}

// drop is what shoulders take off the top at x.
func (s rowShape) drop(x measure.Length) measure.Length {
	var off float64
	for i, end := range s.ends {
		from := x
		if i == 1 {
			from = s.length - x
		}
		if end.Kind == stack.Shouldered && from < end.Over {
			off += float64(end.Drop) * (1 - float64(from)/float64(end.Over))
		}
	}
	return measure.Length(off)
}

// wood is the top of the wood at x.
func (s rowShape) wood(x measure.Length) measure.Length { return max(s.top(x)-s.drop(x), 0) }

// breaks are the places where the top may bend, in order.
func (s rowShape) breaks() []measure.Length {
	xs := append([]measure.Length{0, s.length}, s.xs...)
	for i, end := range s.ends {
		if end.Kind != stack.Shouldered {
			continue
		}
		run := min(end.Over, s.length)
		if i == 1 {
			run = s.length - run
		}
		xs = append(xs, run)
	}
	slices.Sort(xs)
	return slices.Compact(xs)
}

// lowest is the lowest wood between two places.
func (s rowShape) lowest(a, b measure.Length) measure.Length {
	low := min(s.wood(a), s.wood(b))
	for _, x := range s.breaks() {
		if x > a && x < b {
			low = min(low, s.wood(x))
		}
	}
	return low
}
