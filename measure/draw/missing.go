package draw

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A due is what should stand in a stack of rows, as one height common to all of them.
type due struct {
	height measure.Length
	depths []float64 // of each row, the mean length of its pieces, in nanometres
}

// dueOf is the common due height of rows: what is due over the sum of length × piece
// length. There is none where nothing is held against what was sold, or where a row's
// piece length isn't known.
func dueOf(rows stack.Rows, r stack.Result) *due {
	f := r.Finding
	if f == nil || f.Expectation() || f.Due <= 0 {
		return nil
	}
	d := &due{}
	var floor float64
	for i, row := range rows.Rows {
		depth := depthOf(piecesOf(rows, i))
		if depth <= 0 || row.Length <= 0 {
			return nil
		}
		d.depths = append(d.depths, depth)
		floor += float64(row.Length) * depth
	}
	cubicMetre := float64(measure.Metre) * float64(measure.Metre) * float64(measure.Metre)
	height := float64(f.Due) / float64(measure.CubicMetre) * cubicMetre / floor
	if height > float64(stack.MaxHeight) {
		return nil
	}
	d.height = measure.Length(math.Round(height))
	return d
}

// mostDue is how many times as high as the highest reading a due height is drawn: above
// it a part of the stack isn't in the tally, and no row of it is shaped like that.
const mostDue = 2

// within is the due height where the rows can show it, else nil.
func (d *due) within(shapes []rowShape) *due {
	var highest measure.Length
	for _, s := range shapes {
		if s.length > 0 {
			highest = max(highest, s.height())
		}
	}
	if d == nil || d.height > mostDue*highest {
		return nil
	}
	return d
}

// depthOf is the mean length of pieces in nanometres, 0 where it isn't known.
func depthOf(p stack.Pieces) float64 {
	if len(p.Sample) == 0 {
		return float64(max(p.Nominal-measure.Inch/2, 0)) // as the model takes what nobody measured
	}
	var sum float64
	for _, l := range p.Sample {
		sum += float64(l)
	}
	return sum / float64(len(p.Sample))
}

// share is what a row's face has over what is due of it, below 0 where it lacks some; of
// the face alone, without ends and gaps.
func (d *due) share(i int, s rowShape) measure.Volume {
	var area float64
	xs := s.breaks()
	for j, x := range xs[1:] {
		area += float64(x-xs[j]) * (float64(s.top(x)) + float64(s.top(xs[j]))) / 2
	}
	return d.volume(i, area-float64(s.length)*float64(d.height))
}

// extra is what a row's ends and gaps add to its face, below 0 where they take some off.
func (d *due) extra(i int, s rowShape) measure.Volume {
	var area float64
	for end, e := range s.ends {
		switch high := float64(s.endHeight(end)); e.Kind {
		case stack.Shouldered:
			area -= float64(e.Drop) * float64(e.Over) / 2
		case stack.Tapered:
			area += high * float64(e.Over) / 2
		case stack.Cribbed:
			area += e.Share * high * float64(e.Over)
		}
	}
	for _, v := range s.voids {
		area -= float64(v.Width) * float64(v.Height)
	}
	return d.volume(i, area)
}

// volume is an area of a row's face times the row's depth.
func (d *due) volume(i int, area float64) measure.Volume {
	metre := float64(measure.Metre)
	return measure.Volume(math.Round(area / metre / metre * d.depths[i] / metre * float64(measure.CubicMetre)))
}

// addDue draws the common due height through a row: solid where wood is missing below
// it, an open outline where there is more.
func (d *Drawing) addDue(p rowPaper, at measure.Length) {
	s := p.shape
	y := p.at(0, at).Y
	xs := s.breaks()
	for i, x := range xs[1:] {
		for _, part := range crossing(s, xs[i], x, at) {
			d.addGapPart(p, part, at)
		}
	}
	line := d.add(Point{max(p.at(0, 0).X-2*measure.Millimetre, margin/2), y}, Point{min(p.at(s.length, 0).X+2*measure.Millimetre, d.Width-margin/2), y}, Dashed, "due")
	line.Row = p.row
}

// addGapPart draws one stretch between the top of the wood and the due height.
func (d *Drawing) addGapPart(p rowPaper, part [2]measure.Length, at measure.Length) {
	a, b := p.shape.top(part[0]), p.shape.top(part[1])
	style, role := Solid, "missing"
	if a+b > 2*at {
		style, role = Empty, "more"
	}
	if a == at && b == at {
		return
	}
	points := []Point{p.at(part[0], a), p.at(part[1], b), p.at(part[1], at), p.at(part[0], at)}
	d.addArea(points, style, role).Row = p.row
}

// crossing cuts a stretch of the top where it crosses a height.
func crossing(s rowShape, from, to, at measure.Length) [][2]measure.Length {
	a, b := s.top(from), s.top(to)
	if min(a, b) >= at || max(a, b) <= at {
		return [][2]measure.Length{{from, to}}
	}
	x := from + measure.Length(float64(to-from)*float64(at-a)/float64(b-a))
	return [][2]measure.Length{{from, x}, {x, to}}
}
