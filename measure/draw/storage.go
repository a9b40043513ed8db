package draw

import (
	"wellstowed/measure"
	"wellstowed/measure/storage"
)

// The person beside the stack, for scale.
const (
	personHeight = 5*measure.Foot + 8*measure.Inch
	personWidth  = 20 * measure.Inch
	personApart  = 12 * measure.Inch // from the stack
)

// minStorage is the least width of a suggested stack's drawing: narrower than others,
// since a receipt shows it small where that saves a page.
const minStorage = 55 * measure.Millimetre

// wallThick is the wall on paper: how thick it is does not matter.
const wallThick = 3 * measure.Millimetre

// Storage draws a plan from above and from the front, to one scale, with a person
// of 5 ft 8 in beside it where there is room. A plan without rows gives a Drawing
// of no size.
func Storage(p storage.Plan, width measure.Length) Drawing {
	if p.Rows <= 0 || p.RowLength <= 0 || p.Width < p.RowLength {
		return Drawing{}
	}
	d := Drawing{
		Title:       measure.Say("Where the wood can go"),
		Description: measure.Say("A stack along a wall, from above and from the front, to scale: %d rows of %s, %s high.", p.Rows, p.RowLength, p.Height),
		Width:       min(max(width, minStorage), maxWidth),
		Height:      margin,
	}
	side := max(textWidth(measure.Say("%s", p.Depth), typeSize), textWidth(measure.Say("%s", p.Height), typeSize)) + 4*measure.Millimetre
	room := d.Width - 2*margin - side
	d.Scale = storageScale(p, room)
	s := storagePaper{plan: p, scale: d.Scale, x: margin}
	d.addAbove(s)
	d.addFront(s, room)
	d.Height += margin
	return d
}

// storageScale fits the footprint, and the person where that makes the stack no
// more than a quarter smaller.
func storageScale(p storage.Plan, room measure.Length) int64 {
	across := p.Width
	if person := personApart + personWidth; person*4 <= p.Width {
		across += person
	}
	return max(scaleFor(across, room), scaleFor(p.Depth, room), scaleFor(personHeight, room*6/10))
}

// A storagePaper is where a plan lies on its drawing: x is its left edge.
type storagePaper struct {
	plan  storage.Plan
	scale int64
	x     measure.Length
}

func (s storagePaper) on(l measure.Length) measure.Length { return scaled(l, s.scale) }

// brace is the room at each end of a row.
func (s storagePaper) brace() measure.Length { return (s.plan.Width - s.plan.RowLength) / 2 }

// addAbove draws the plan from above, the wall at the top.
func (d *Drawing) addAbove(s storagePaper) {
	p := s.plan
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, measure.Say("From above"), "view")
	d.Height += 2 * measure.Millimetre
	right := s.x + s.on(p.Width)
	wall := rect(s.x, d.Height, right, d.Height+wallThick)
	d.addArea(wall, Band, "wall")
	d.addHatch(0, wall, nil, rising)
	top := d.Height + wallThick

	for i := range p.Rows {
		near := p.WallGap + measure.Length(i)*(p.PieceLength+p.RowGap)
		y0, y1 := top+s.on(near), top+s.on(near+p.PieceLength)
		row := rect(s.x+s.on(s.brace()), y0, s.x+s.on(s.brace()+p.RowLength), y1)
		d.addArea(row, Outline, "row").Row = i + 1
		d.addPieces(s, row)
		for _, x := range []measure.Length{0, p.Width - s.brace()} {
			d.addArea(rect(s.x+s.on(x), y0, s.x+s.on(x+s.brace()), y1), Band, "brace").Row = i + 1
		}
	}
	foot := top + s.on(p.Depth)
	d.addDown(right+2*measure.Millimetre, top, foot, measure.Say("%s", p.Depth), "depth")
	d.Height = foot + lineHeight + measure.Millimetre
	d.addAcross(s.x, right, d.Height, measure.Say("%s", p.Width), "width")
	d.addGaps(p)
}

// addPieces marks single pieces across a row seen from above.
func (d *Drawing) addPieces(s storagePaper, row []Point) {
	for x := row[0].X + hatchSpacing; x < row[1].X; x += hatchSpacing {
		d.add(Point{x, row[0].Y}, Point{x, row[2].Y}, Light, "piece")
	}
}

// addGaps says in words what is too narrow on paper to carry a dimension.
func (d *Drawing) addGaps(p storage.Plan) {
	lines := []measure.Text{measure.Say("%s of air behind", p.WallGap)}
	if p.Rows > 1 {
		lines = append(lines, measure.Say("%s of air between rows", p.RowGap))
	}
	for _, line := range lines {
		d.Height += lineHeight
		d.write(Point{margin, d.Height + measure.Millimetre}, Start, line, "gap")
	}
	d.Height += rowGap
}

// addFront draws the stack from the front, on its runners, with the person.
func (d *Drawing) addFront(s storagePaper, room measure.Length) {
	p := s.plan
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, measure.Say("From the front"), "view")
	d.Height += 2 * measure.Millimetre
	person := s.on(p.Width+personApart+personWidth) <= room
	tallest := p.Height + p.OffGround
	if person {
		tallest = max(tallest, personHeight)
	}
	ground := d.Height + s.on(tallest)
	base := ground - s.on(p.OffGround)
	left, right := s.x+s.on(s.brace()), s.x+s.on(s.brace()+p.RowLength)
	top := base - s.on(p.Height)

	face := rect(left, top, right, base)
	d.addArea(face, Outline, "row")
	d.addWood(0, face, nil)
	for _, x := range []measure.Length{0, p.Width - s.brace()} {
		d.addArea(rect(s.x+s.on(x), top, s.x+s.on(x+s.brace()), ground), Band, "brace")
	}
	d.addRunners(s, base, ground)
	edge := s.x + s.on(p.Width)
	end := edge
	if person {
		end = edge + s.on(personApart+personWidth)
		d.addPerson(s, edge+s.on(personApart+personWidth/2), ground)
	}
	d.add(Point{s.x, ground}, Point{end, ground}, Thin, "ground")
	d.addDown(end+2*measure.Millimetre, top, base, measure.Say("%s", p.Height), "height")
	d.Height = ground + lineHeight + measure.Millimetre
	d.addAcross(left, right, d.Height, measure.Say("%s", p.RowLength), "row length")
	d.Height += lineHeight
	d.write(Point{margin, d.Height}, Start, measure.Say("%s off the ground, both ends braced", p.OffGround), "off ground")
	if person {
		d.Height += lineHeight
		d.write(Point{margin, d.Height}, Start, measure.Say("the person is %s", personHeight), "person")
	}
}

// addRunners draws the blocks under the row, about every four feet.
func (d *Drawing) addRunners(s storagePaper, base, ground measure.Length) {
	const block, apart = 4 * measure.Inch, 4 * measure.Foot
	bays := min(max(s.plan.RowLength/apart, 1), 60)
	for i := range bays + 1 {
		x := s.brace() + (s.plan.RowLength-block)*i/bays
		d.addArea(rect(s.x+s.on(x), base, s.x+s.on(x+block), ground), Solid, "runner")
	}
}

// addPerson draws a plain figure standing at x on the ground.
func (d *Drawing) addPerson(s storagePaper, x, ground measure.Length) {
	at := func(dx, h measure.Length) Point { return Point{x + s.on(dx), ground - s.on(h)} }
	const in = measure.Inch
	var body []Point
	right := []Point{
		at(3*in, 60*in), at(4*in, 62*in), at(4*in, 66*in), at(2*in, 68*in),
	}
	left := []Point{
		at(-2*in, 68*in), at(-4*in, 66*in), at(-4*in, 62*in), at(-3*in, 60*in),
	}
	trunk := []Point{
		at(-2*in, 58*in), at(-9*in, 55*in), at(-10*in, 32*in), at(-8*in, 32*in), at(-6*in, 48*in),
		at(-6*in, 0), at(-1*in, 0), at(0, 30*in), at(1*in, 0), at(6*in, 0),
		at(6*in, 48*in), at(8*in, 32*in), at(10*in, 32*in), at(9*in, 55*in), at(2*in, 58*in),
	}
	body = append(append(append(body, right...), left...), trunk...)
	d.addArea(body, Thin, "person")
}
