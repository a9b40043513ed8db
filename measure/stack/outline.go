package stack

import (
	"math"

	"wellstowed/measure"
)

// The bottom, top and ends of a row do not interlock: the same wood measures so much
// more for each row, whatever its size. Own simulation of stacks, no published source.
const (
	looseHeight = 1.8 // inches of height, over a row's length
	looseLength = 2.3 // inches of length, over a row's height
)

// An outline is how much of a stack's volume is due to the shape of its rows, in cubic
// inches; 0 where the wood does not stand in rows.
type outline float64

// outline works it out of the rows' lengths and mean heights.
func (s Rows) outline(t *Tally) outline {
	var sum float64
	for i := range s.Rows {
		r := &s.Rows[i]
		length := inches(r.Length)
		area, _ := r.area(t.Raised, length, 0)
		p := s.PiecesOf(i).judge(t.Tape)
		sum += (looseHeight*length + looseLength*area/length) * p.mean
	}
	return outline(sum)
}

// outline is that of the stack that was estimated.
func (e *estimate) outline() outline {
	if s, ok := e.tally.Stack.(Rows); ok {
		return s.outline(e.tally)
	}
	return 0
}

// shapeMatters is the share of the volume from which a difference in shape is told of.
const shapeMatters = 0.005

// shapes is how much more the first of two estimates measures of the same wood because
// its rows are lower or shorter; 0 where that doesn't matter.
func shapes(a, b *estimate) measure.Volume {
	first, second := a.outline(), b.outline()
	more := float64(first - second)
	if first == 0 || second == 0 || math.Abs(more) < shapeMatters*min(a.value, b.value) {
		return 0
	}
	return volume(more)
}

// noteShape says that two tallies are of stacks of other shapes.
func (p *Pair) noteShape() measure.Text {
	first, second, more := p.First, p.Second, p.Shape
	if more < 0 {
		first, second, more = second, first, -more
	}
	return measure.Say("Tally %d has lower or shorter rows than tally %d: of the same wood they measure about %s more, since each row’s top, bottom and ends lie loose. A simulation of stacks, no published source.",
		first, second, more)
}
