package draw

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A body is something filled with wood, seen from its side.
type body struct {
	name  []measure.Text
	row   stack.Row // the fill
	wells []stack.Well
	above crownShape
	walls bool           // it stands in walls that are drawn up to the fill
	rim   measure.Length // height of the walls where they are higher; 0: not known
}

// A crownShape is the outline of what stands above the fill: so high at its crest,
// and at x, from 0 to 1 along the fill, that share of it.
type crownShape struct {
	crest measure.Length
	at    func(x float64) float64
	style Style
}

// height is the greatest height of a body, crown and all.
func (b body) height(raised measure.Length) measure.Length {
	return max(shapeOf(b.row, raised).height()+b.above.crest, b.rim)
}

// drawable tells whether there is anything to draw.
func (b body) drawable() bool { return b.row.Length > 0 && len(b.row.Heights) > 0 }

// drawBodies draws bodies one below another, to one scale, and ranked wood redrawn
// as a cord.
func drawBodies(title, description measure.Text, bodies []body, raised measure.Length, r stack.Result, width measure.Length) Drawing {
	var shapes []rowShape
	for _, b := range bodies {
		if !b.drawable() {
			return Drawing{}
		}
		shapes = append(shapes, rowShape{length: b.row.Length, hs: []measure.Length{b.height(raised)}})
	}
	d := Drawing{Title: title, Description: description, Width: width, Height: margin,
		Scale: stackScale(shapes, raised, width-2*margin, true)}
	for i, b := range bodies {
		d.addBody(i+1, b, raised)
	}
	if r.Quantity.Basis == measure.Ranked {
		d.addCord(r.Quantity.Volume)
	} else {
		d.Height += margin - rowGap
	}
	return d
}

// addBody draws one body below what is there.
func (d *Drawing) addBody(n int, b body, raised measure.Length) {
	d.writeName(b.name)
	p := rowPaper{shape: shapeOf(b.row, raised), row: n, scale: d.Scale, x: margin}
	readings := d.placeReadings(p, b.row.Heights)
	d.Height += lineHeight * measure.Length(levels(readings))
	crest := d.Height + measure.Millimetre
	p.base = crest + scaled(b.height(raised), d.Scale)
	d.addFill(p, b)
	d.addCrown(p, b.above)
	d.addStations(p, readings, crest)
	d.Height = p.base
	d.addGround(p, raised)
	d.Height += rowGap
}

// writeName writes the parts of a name, each on lines of its own.
func (d *Drawing) writeName(name []measure.Text) {
	for _, line := range name {
		d.Height += typeSize
		d.write(Point{margin, d.Height}, Start, line, "body")
		d.Height += lineHeight - typeSize
	}
}

// addFill draws the base, the measured top, the sides, the wells and the hatch.
func (d *Drawing) addFill(p rowPaper, b body) {
	s := p.shape
	d.add(p.at(0, 0), p.at(s.length, 0), Outline, "base").Row = p.row
	face := []Point{p.at(0, 0)}
	xs := s.breaks()
	for i, x := range xs {
		face = append(face, p.at(x, s.top(x)))
		if i > 0 {
			top := d.add(p.at(xs[i-1], s.top(xs[i-1])), p.at(x, s.top(x)), Outline, "top")
			top.Row, top.Index = p.row, i
		}
	}
	face = append(face, p.at(s.length, 0))
	side := "end"
	if b.walls {
		side = "wall"
	}
	d.add(face[0], face[1], Outline, side).Row = p.row
	d.add(face[len(face)-2], face[len(face)-1], Outline, side).Row = p.row
	if b.rim > 0 {
		d.add(face[1], p.at(0, b.rim), Outline, "rim").Row = p.row
		d.add(face[len(face)-2], p.at(s.length, b.rim), Outline, "rim").Row = p.row
	}
	d.addWood(p.row, face, d.addWells(p, b.wells))
}

// addWells spreads the wells over the floor: where they were is not read.
func (d *Drawing) addWells(p rowPaper, wells []stack.Well) [][]Point {
	var holes [][]Point
	s := p.shape
	for i, w := range wells {
		long := min(w.Length, s.length)
		x := s.length*measure.Length(2*i+1)/measure.Length(2*len(wells)) - long/2
		x = min(max(x, 0), s.length-long)
		low, high := p.at(x, 0), p.at(x+long, min(w.Height, s.lowest(x, x+long)))
		hole := rect(low.X, high.Y, high.X, low.Y)
		area := d.addArea(hole, Empty, "well")
		area.Row, area.Index = p.row, i+1
		holes = append(holes, hole)
	}
	return holes
}

// crownSteps is how many parts a crown's outline is drawn in.
const crownSteps = 40

// addCrown draws what stands above the fill.
func (d *Drawing) addCrown(p rowPaper, c crownShape) {
	if c.crest <= 0 {
		return
	}
	s := p.shape
	var area []Point
	for i := range crownSteps + 1 {
		x := s.length * measure.Length(i) / crownSteps
		high := measure.Length(math.Round(c.at(float64(i)/crownSteps) * float64(c.crest)))
		area = append(area, p.at(x, s.top(x)+high))
	}
	for i := crownSteps; i >= 0; i-- {
		x := s.length * measure.Length(i) / crownSteps
		area = append(area, p.at(x, s.top(x)))
	}
	d.addArea(area, c.style, "crown").Row = p.row
	d.addHatch(p.row, area, nil, falling)
}

// The outlines of crowns, from one end to the other: as said, not as read.
func crownOutline(shape stack.CrownShape) func(x float64) float64 {
	switch shape {
	case stack.Peak:
		return func(x float64) float64 { return 1 - math.Abs(2*x-1) }
	case stack.Ridge:
		return func(float64) float64 { return 1 }
	case stack.FlatTopped:
		return func(x float64) float64 { return math.Sqrt(math.Sqrt(max(0, 1-math.Pow(2*x-1, 4)))) }
	}
	return func(x float64) float64 { return 1 - math.Pow(2*x-1, 2) }
}

// meanLength is the mean of lengths; 0 of none.
func meanLength(ls []measure.Length) measure.Length {
	if len(ls) == 0 {
		return 0
	}
	var sum measure.Length
	for _, l := range ls {
		sum += l
	}
	return sum / measure.Length(len(ls))
}

// rounded is a length to the quarter inch, for what no tape read.
func rounded(l measure.Length) measure.Length {
	const quarter = measure.Inch / 4
	return (l + quarter/2) / quarter * quarter
}
