package draw

import (
	"wellstowed/measure"
	"wellstowed/measure/storage"
)

// wallDepth is a side wall, seen from above and from the front: how thick it is
// does not matter.
const wallDepth = 4 * measure.Inch

// Layout draws wood in its place from above and from the front, to one scale: the
// room as far as it is near the wood, walls, rows, gaps, braces, the roof line, a
// hatch where there is one, and a person of 5 ft 8 in. A layout without rows gives
// a Drawing of no size.
func Layout(l storage.Layout, width measure.Length) Drawing {
	if l.Rows <= 0 || l.RowLength <= 0 || l.Width < l.RowLength {
		return Drawing{}
	}
	rows := measure.Say("%d rows", l.Rows)
	if l.Rows == 1 {
		rows = measure.Say("one row")
	}
	d := Drawing{
		Title: measure.Say("How the wood can stand: %s", l.Place.Name()),
		Description: measure.Say("From above and from the front, to scale: %s of %s, %s high, the top %s above the floor.",
			rows, l.RowLength, l.Height, l.Top),
		Width: paperWidth(width), Height: margin,
	}
	s := newPlace(l, d.Width)
	d.Scale = s.scale
	d.addPlaceAbove(s)
	d.addPlaceFront(s)
	d.Height += margin
	return d
}

// A placePaper is where a layout lies on its drawing.
type placePaper struct {
	storagePaper
	layout        storage.Layout
	width, depth  measure.Length // of the room that is drawn
	whole         bool           // its sides are on the drawing
	side          measure.Length // of each side wall, 0 where there are none
	left, right   measure.Length // of the room, on paper
	personAt, end measure.Length // on paper
}

func newPlace(l storage.Layout, paper measure.Length) placePaper {
	s := placePaper{layout: l, storagePaper: storagePaper{plan: l.Plan, x: margin}}
	s.width = min(l.Room.Width, l.Width*3/2)
	s.depth = min(l.Room.Depth, l.Depth+2*measure.Foot)
	s.whole = s.width == l.Room.Width
	if l.Place == storage.Alcove || l.Place == storage.Shed {
		s.side = wallDepth
	}
	across := s.width + 2*s.side + personApart + personWidth
	room := paper - 2*margin - s.marginRight()
	tall := max(l.Top, l.Room.Height, personHeight)
	s.scale = max(scaleFor(across, room), scaleFor(s.depth, room), scaleFor(tall, room*7/10))
	s.left = margin + s.on(s.side)
	s.right = s.left + s.on(s.width)
	s.x = s.left
	s.personAt = s.left + s.on(s.width+s.side+personApart+personWidth/2)
	s.end = s.left + s.on(s.width+s.side+personApart+personWidth)
	return s
}

// marginRight is the room for the dimensions on the right.
func (s placePaper) marginRight() measure.Length {
	l := s.layout
	return max(textWidth(measure.Say("%s", l.Depth), typeSize), textWidth(measure.Say("%s", l.Height), typeSize)) + 4*measure.Millimetre
}

// addPlaceAbove draws the place from above, its back at the top.
func (d *Drawing) addPlaceAbove(s placePaper) {
	l := s.layout
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, measure.Say("From above"), "view")
	d.Height += 2 * measure.Millimetre
	top := d.Height
	if !l.FreeBehind {
		top += wallThick
		wall := rect(s.left-s.on(s.side), d.Height, s.right+s.on(s.side), top)
		d.addArea(wall, Band, "wall")
		d.addHatch(0, wall, nil, rising)
	}
	front := top + s.on(s.depth)
	d.addSideWalls(s, top, front)
	d.addArea(rect(s.left, top, s.right, front), Dashed, "room")
	d.addRows(s, top)
	if l.HasHatch {
		d.addFrontWall(s, front)
	}
	foot := top + s.on(l.Depth)
	at := max(s.right+s.on(s.side), s.left+s.on(l.Width)) + 2*measure.Millimetre
	d.addDown(at, top, foot, measure.Say("%s", l.Depth), "depth")
	d.Height = front + lineHeight + measure.Millimetre
	d.addAcross(s.left, s.left+s.on(l.Width), d.Height, measure.Say("%s", l.Width), "width")
	d.addNotesBelow(s.gapNotes()...)
	d.Height += rowGap
}

// addSideWalls draws the walls at both ends of a niche or a shed; the far one only
// where the room is drawn whole.
func (d *Drawing) addSideWalls(s placePaper, top, foot measure.Length) {
	if s.side == 0 {
		return
	}
	d.addArea(rect(s.left-s.on(s.side), top, s.left, foot), Band, "side wall")
	if s.whole {
		d.addArea(rect(s.right, top, s.right+s.on(s.side), foot), Band, "side wall")
	}
}

// addRows draws rows, braces and single pieces from above.
func (d *Drawing) addRows(s placePaper, top measure.Length) {
	p := s.plan
	for i := range p.Rows {
		near := p.WallGap + measure.Length(i)*(p.PieceLength+p.RowGap)
		y0, y1 := top+s.on(near), top+s.on(near+p.PieceLength)
		row := rect(s.left+s.on(s.brace()), y0, s.left+s.on(s.brace()+p.RowLength), y1)
		d.addArea(row, Outline, "row").Row = i + 1
		d.addPieces(s.storagePaper, row)
		for _, x := range []measure.Length{0, p.Width - s.brace()} {
			d.addArea(rect(s.left+s.on(x), y0, s.left+s.on(x+s.brace()), y1), Band, "brace").Row = i + 1
		}
	}
}

// addFrontWall draws the front of a shed, open where its hatch is.
func (d *Drawing) addFrontWall(s placePaper, y measure.Length) {
	from, to := s.hatch()
	d.add(Point{s.left, y}, Point{from, y}, Outline, "front")
	if s.right > to {
		d.add(Point{to, y}, Point{s.right, y}, Outline, "front")
	}
}

// hatch is where the hatch begins and ends across the front, on paper.
func (s placePaper) hatch() (from, to measure.Length) {
	wide := min(storage.HatchWidth, s.plan.RowLength)
	middle := s.plan.Width / 2
	return s.left + s.on(middle-wide/2), s.left + s.on(middle+wide/2)
}

// gapNotes say what is too narrow on paper to carry a dimension.
func (s placePaper) gapNotes() []measure.Text {
	l := s.layout
	var notes []measure.Text
	if l.WallGap > 0 {
		notes = append(notes, measure.Say("%s of air behind", l.WallGap))
	}
	if l.Rows > 1 {
		notes = append(notes, measure.Say("%s of air between rows", l.RowGap))
	}
	return append(notes, measure.Say("dashed: the room, %s by %s", l.Room.Width, l.Room.Depth))
}

func (d *Drawing) addNotesBelow(lines ...measure.Text) {
	for _, line := range lines {
		d.Height += lineHeight
		d.write(Point{margin, d.Height + measure.Millimetre}, Start, line, "gap")
	}
}

// addPlaceFront draws the place from the front: floor, runners, wood, roof line,
// hatch and person.
func (d *Drawing) addPlaceFront(s placePaper) {
	l := s.layout
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, measure.Say("From the front"), "view")
	d.Height += 3 * measure.Millimetre
	ground := d.Height + s.on(max(l.Top, l.Room.Height, personHeight))
	base := ground - s.on(l.OffGround)
	left, right := s.left+s.on(s.brace()), s.left+s.on(s.brace()+l.RowLength)
	top := base - s.on(l.Height)

	face := rect(left, top, right, base)
	d.addArea(face, Outline, "face")
	d.addHatch(0, face, nil, rising)
	for _, x := range []measure.Length{0, l.Width - s.brace()} {
		d.addArea(rect(s.left+s.on(x), top, s.left+s.on(x+s.brace()), ground), Band, "brace")
	}
	d.addRunners(s.storagePaper, base, ground)
	if l.Room.Height > 0 {
		roof := ground - s.on(l.Room.Height)
		d.addSideWalls(s, roof, ground)
		d.add(Point{s.left - s.on(s.side), roof}, Point{s.right + s.on(s.side), roof}, Outline, "roof")
	} else {
		d.addSideWalls(s, top, ground)
	}
	if l.HasHatch {
		from, to := s.hatch()
		high := min(storage.HatchSill+storage.HatchHeight, l.Room.Height)
		d.addArea(rect(from, ground-s.on(high), to, ground-s.on(storage.HatchSill)), Dashed, "hatch opening")
	}
	d.addPerson(s.storagePaper, s.personAt, ground)
	d.add(Point{s.left - s.on(s.side), ground}, Point{s.end, ground}, Thin, "ground")
	d.addDown(s.end+2*measure.Millimetre, top, base, measure.Say("%s", l.Height), "height")
	d.Height = ground + lineHeight + measure.Millimetre
	d.addAcross(left, right, d.Height, measure.Say("%s", l.RowLength), "row length")
	d.addNotesBelow(s.frontNotes()...)
}

func (s placePaper) frontNotes() []measure.Text {
	l := s.layout
	notes := []measure.Text{
		measure.Say("%s off the ground, both ends braced", l.OffGround),
		measure.Say("top of the wood %s up", l.Top),
	}
	if l.Room.Height > 0 {
		notes = append(notes, measure.Say("roof line %s up", l.Room.Height))
	}
	if l.HasHatch {
		notes = append(notes, measure.Say("dashed: a hatch, sill %s up", storage.HatchSill))
	}
	return append(notes, measure.Say("the person is %s", personHeight))
}
