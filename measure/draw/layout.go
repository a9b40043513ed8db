package draw

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/storage"
)

// wallDepth is a side wall, seen from above and from the front: how thick it is
// does not matter.
const wallDepth = 4 * measure.Inch

// Layout draws wood in its place from above and from the front, to one scale: the
// room as far as it is near the wood, walls, posts, deck, rows, gaps, braces, the roof
// line, a hatch where there is one, and a person of 5 ft 8 in. Where the roof slopes
// or rows run from front to back it draws the place from the side too. A layout
// without rows gives a Drawing of no size.
func Layout(l storage.Layout, width measure.Length) Drawing {
	if l.Rows <= 0 || l.RowLength <= 0 || l.Width <= 0 || l.Depth <= 0 {
		return Drawing{}
	}
	rows := measure.Say("%d rows", l.Rows)
	if l.Rows == 1 {
		rows = measure.Say("one row")
	}
	high := measure.Say("%s high", l.Height)
	if len(l.Heights) > 0 {
		high = measure.Say("each as high as the roof over it lets it be, %s at most", l.Height)
	}
	d := Drawing{
		Title: measure.Say("How the wood can stand: %s", l.Place.Name()),
		Description: measure.Say("From above and from the front, to scale: %s of %s, %s, the top %s above the floor.",
			rows, l.RowLength, high, l.Top),
		Width: paperWidth(width), Height: margin,
	}
	s := newPlace(l, d.Width)
	d.Scale = s.scale
	d.addPlaceAbove(s)
	d.addPlaceFront(s)
	if s.fromSide() {
		d.addPlaceSide(s)
	}
	d.Height += margin
	return d
}

// A placePaper is where a layout lies on its drawing.
type placePaper struct {
	storagePaper
	layout        storage.Layout
	traits        storage.Traits
	width, depth  measure.Length // of the room that is drawn
	whole         bool           // its sides are on the drawing
	side          measure.Length // of each side wall, 0 where there are none
	left, right   measure.Length // of the room, on paper
	personAt, end measure.Length // on paper
}

func newPlace(l storage.Layout, paper measure.Length) placePaper {
	s := placePaper{layout: l, traits: l.Place.Traits(), storagePaper: storagePaper{plan: l.Plan, x: margin}}
	s.width = min(l.Room.Width, l.Width*3/2)
	s.depth = min(l.Room.Depth, l.Depth+2*measure.Foot)
	s.whole = s.width == l.Room.Width
	if s.traits.Ends {
		s.side = wallDepth
	}
	across := s.width + 2*s.side + personApart + personWidth
	room := paper - 2*margin - s.marginRight()
	high := room * 6 / 10
	if s.fromSide() {
		high = room * 9 / 20 // there are three views
	}
	s.scale = max(scaleFor(across, room), scaleFor(s.depth, high), scaleFor(s.tall(), high))
	s.left = margin + s.on(s.side)
	s.right = s.left + s.on(s.width)
	s.x = s.left
	s.personAt = s.left + s.on(s.width+s.side+personApart+personWidth/2)
	s.end = s.left + s.on(s.width+s.side+personApart+personWidth)
	return s
}

// fromSide tells whether the place is drawn from the side too.
func (s placePaper) fromSide() bool { return s.layout.Across || s.layout.Room.Back > 0 }

// tall is the highest thing that is drawn.
func (s placePaper) tall() measure.Length {
	l := s.layout
	return max(l.Top, l.Room.Height, l.Room.Back, personHeight)
}

// marginRight is the room for the dimensions on the right.
func (s placePaper) marginRight() measure.Length {
	l := s.layout
	return max(textWidth(measure.Say("%s", l.Depth), typeSize), textWidth(measure.Say("%s", l.Height), typeSize)) + 4*measure.Millimetre
}

// head begins a view under its name.
func (d *Drawing) head(name measure.Text, gap measure.Length) {
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, name, "view")
	d.Height += gap
}

// addPlaceAbove draws the place from above, its back at the top.
func (d *Drawing) addPlaceAbove(s placePaper) {
	l := s.layout
	d.head(measure.Say("From above"), 2*measure.Millimetre)
	top := d.Height
	if s.traits.Wall {
		top += wallThick
		d.addBackAbove(s, d.Height, top)
	}
	front := top + s.on(s.depth)
	d.addSideWalls(s, top, front)
	d.addArea(rect(s.left, top, s.right, front), Dashed, "room")
	d.addRows(s, top)
	if s.traits.Front {
		d.addFrontWall(s, front)
	}
	at := max(s.right+s.on(s.side), s.left+s.on(l.Width)) + 2*measure.Millimetre
	d.addDown(at, top, top+s.on(l.Depth), measure.Say("%s", l.Depth), "depth")
	d.Height = front + lineHeight + measure.Millimetre
	d.addAcross(s.left, s.left+s.on(l.Width), d.Height, measure.Say("%s", l.Width), "width")
	d.addNotesBelow(s.gapNotes()...)
	d.Height += rowGap
}

// addBackAbove draws what stands behind, from above: posts where one can walk behind,
// else a wall.
func (d *Drawing) addBackAbove(s placePaper, from, to measure.Length) {
	if s.traits.Behind {
		d.addPosts(s, func(x0, x1 measure.Length) []Point { return rect(x0, from, x1, to) })
		return
	}
	wall := rect(s.left-s.on(s.side), from, s.right+s.on(s.side), to)
	d.addArea(wall, Band, "wall")
	d.addHatch(0, wall, nil, rising)
}

// addPosts draws a post at each end of the room that is drawn, and about every eight
// feet.
func (d *Drawing) addPosts(s placePaper, at func(x0, x1 measure.Length) []Point) {
	const apart = 8 * measure.Foot
	bays := min(max(s.width/apart, 1), 40)
	for i := range bays + 1 {
		x := s.left + s.on((s.width-wallDepth)*i/bays)
		d.addArea(at(x, x+s.on(wallDepth)), Solid, "post")
	}
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
	for i := range s.plan.Rows {
		x, y, wide, deep := s.row(i)
		row := rect(s.left+s.on(x), top+s.on(y), s.left+s.on(x+wide), top+s.on(y+deep))
		d.addArea(row, Outline, "row").Row = i + 1
		braces := [][]Point{
			rect(s.left+s.on(x-storage.EndBrace), row[0].Y, row[0].X, row[2].Y),
			rect(row[2].X, row[0].Y, s.left+s.on(x+wide+storage.EndBrace), row[2].Y),
		}
		if s.layout.Across {
			d.addPiecesAside(row)
			braces = [][]Point{
				rect(row[0].X, top+s.on(y-storage.EndBrace), row[2].X, row[0].Y),
				rect(row[0].X, row[2].Y, row[2].X, top+s.on(y+deep+storage.EndBrace)),
			}
		} else {
			d.addPieces(s.storagePaper, row)
		}
		for _, brace := range braces {
			d.addArea(brace, Band, "brace").Row = i + 1
		}
	}
}

// row is where the i-th row lies from the left and from the back, and how far it goes.
func (s placePaper) row(i int) (x, y, wide, deep measure.Length) {
	l := s.layout
	next := measure.Length(i) * (l.PieceLength + l.RowGap)
	if l.Across {
		return l.SideGap + next, l.WallGap + storage.EndBrace, l.PieceLength, l.RowLength
	}
	return storage.EndBrace, l.WallGap + next, l.RowLength, l.PieceLength
}

// addPiecesAside marks single pieces that lie across the drawing.
func (d *Drawing) addPiecesAside(row []Point) {
	for y := row[0].Y + hatchSpacing; y < row[2].Y; y += hatchSpacing {
		d.add(Point{row[0].X, y}, Point{row[2].X, y}, Light, "piece")
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
	wide := min(storage.HatchWidth, s.plan.Width-2*storage.EndBrace)
	middle := s.plan.Width / 2
	return s.left + s.on(middle-wide/2), s.left + s.on(middle+wide/2)
}

// gapNotes say what is too narrow on paper to carry a dimension.
func (s placePaper) gapNotes() []measure.Text {
	l := s.layout
	var notes []measure.Text
	switch {
	case l.SideGap > 0 && l.Rows > 1:
		notes = append(notes, measure.Say("%s of air on all sides of each row", l.WallGap))
	case l.WallGap > 0 && l.Rows > 1:
		notes = append(notes, measure.Say("%s of air behind and between rows", l.WallGap))
	case l.WallGap > 0:
		notes = append(notes, measure.Say("%s of air behind", l.WallGap))
	case l.Rows > 1:
		notes = append(notes, measure.Say("%s of air between rows", l.RowGap))
	}
	return append(notes, measure.Say("room dashed, %s by %s", l.Room.Width, l.Room.Depth))
}

// addNotesBelow writes notes, as many on a line as it takes.
func (d *Drawing) addNotesBelow(notes ...measure.Text) {
	line := measure.Text{}
	flush := func() {
		d.Height += lineHeight
		d.write(Point{margin, d.Height + measure.Millimetre}, Start, line, "gap")
	}
	for i, note := range notes {
		longer := measure.Say("%s; %s", line, note)
		switch {
		case i == 0:
			line = note
		case textWidth(longer, typeSize) <= d.Width-margin*3/2:
			line = longer
		default:
			flush()
			line = note
		}
	}
	if line.Key != "" {
		flush()
	}
}

// addPlaceFront draws the place from the front: floor, runners, wood, roof line,
// hatch and person.
func (d *Drawing) addPlaceFront(s placePaper) {
	l := s.layout
	d.head(measure.Say("From the front"), 3*measure.Millimetre)
	ground := d.Height + s.on(s.tall())
	base := ground - s.on(l.OffGround)
	top := base - s.on(l.Height)
	d.addRoofFront(s, ground)
	if s.traits.Wall && s.traits.Behind {
		end := s.left + s.on(l.Width)
		d.addPosts(s, func(x0, x1 measure.Length) []Point {
			foot := ground
			if x0 < end { // the wood stands before it
				foot = top
			}
			return rect(x0, ground-s.on(l.Room.Height), x1, foot)
		})
	}
	d.addFaces(s, top, base, ground)
	if s.traits.Front {
		from, to := s.hatch()
		high := min(storage.HatchSill+storage.HatchHeight, l.Room.Height)
		d.addArea(rect(from, ground-s.on(high), to, ground-s.on(storage.HatchSill)), Dashed, "hatch opening")
	}
	d.addPerson(s.storagePaper, s.personAt, ground)
	d.add(Point{s.left - s.on(s.side), ground}, Point{s.end, ground}, Thin, "ground")
	d.addDown(s.end+2*measure.Millimetre, top, base, measure.Say("%s", l.Height), "height")
	d.Height = ground + s.addDeck(d, s.left, s.right, ground) + lineHeight + measure.Millimetre
	if l.Across {
		d.addAcross(s.left+s.on(l.SideGap), s.left+s.on(l.Width-l.SideGap), d.Height, measure.Say("%s", l.Width-2*l.SideGap), "rows")
	} else {
		d.addAcross(s.left+s.on(storage.EndBrace), s.left+s.on(storage.EndBrace+l.RowLength), d.Height, measure.Say("%s", l.RowLength), "row length")
	}
	d.addNotesBelow(s.frontNotes()...)
}

// addFaces draws the wood from the front on its runners: the cut ends of a row along
// the back between its braces, or the front ends of rows from front to back.
func (d *Drawing) addFaces(s placePaper, top, base, ground measure.Length) {
	l := s.layout
	if l.Across {
		for i := range l.Rows {
			x, _, wide, _ := s.row(i)
			face := rect(s.left+s.on(x), top, s.left+s.on(x+wide), base)
			d.addArea(face, Outline, "face").Row = i + 1
			d.addPiecesAside(face)
			d.addArea(rect(face[0].X, base, face[2].X, ground), Band, "runner")
		}
		return
	}
	left, right := s.left+s.on(storage.EndBrace), s.left+s.on(storage.EndBrace+l.RowLength)
	foot := base
	for i := l.Rows - 1; i >= 0; i-- { // from the front: of a row behind what is above those before it
		head := base - s.on(l.RowHeight(i))
		if head >= foot {
			continue
		}
		face := rect(left, head, right, foot)
		d.addArea(face, Outline, "face")
		d.addWood(0, face, nil)
		foot = head
	}
	for _, x := range []measure.Length{0, l.Width - storage.EndBrace} {
		d.addArea(rect(s.left+s.on(x), top, s.left+s.on(x+storage.EndBrace), ground), Band, "brace")
	}
	d.addRunners(s.storagePaper, base, ground)
}

// addRoofFront draws side walls and roof line, the lower end of a slope dashed.
func (d *Drawing) addRoofFront(s placePaper, ground measure.Length) {
	l := s.layout
	if l.Room.Height == 0 {
		d.addSideWalls(s, ground-s.on(l.Top), ground)
		return
	}
	line := func(high measure.Length, style Style, role string) {
		y := ground - s.on(high)
		d.add(Point{s.left - s.on(s.side), y}, Point{s.right + s.on(s.side), y}, style, role)
	}
	d.addSideWalls(s, ground-s.on(l.Room.Height), ground)
	line(l.Room.Height, Outline, "roof")
	if l.Room.Back > 0 {
		line(l.Room.Back, Dashed, "roof at the back")
	}
}

// addDeck draws the boards and joists of a floor that is not the ground, and gives
// how far they reach down.
func (s placePaper) addDeck(d *Drawing, left, right, ground measure.Length) measure.Length {
	if !s.traits.Boards {
		return 0
	}
	const board, joist, apart = measure.Millimetre, 3 * measure.Millimetre, 16 * measure.Inch
	d.addArea(rect(left, ground, right, ground+board), Band, "deck boards")
	step := max(s.on(apart), 3*measure.Millimetre)
	for x := left; x+board <= right; x += step {
		d.addArea(rect(x, ground+board, x+board, ground+board+joist), Band, "joist")
	}
	return board + joist
}

// addPlaceSide draws the place from the side, its back at the left.
func (d *Drawing) addPlaceSide(s placePaper) {
	l := s.layout
	d.Height += rowGap
	d.head(measure.Say("From the side, the back on the left"), 3*measure.Millimetre)
	ground := d.Height + s.on(max(l.Top, l.Room.Height, l.Room.Back))
	base := ground - s.on(l.OffGround)
	top := base - s.on(l.Height)
	back, front := margin, margin+s.on(s.depth)
	if s.traits.Wall {
		wall := rect(back, ground-s.on(max(s.roofAt(0), l.Top)), back+wallThick, ground)
		d.addArea(wall, Band, "wall")
		d.addHatch(0, wall, nil, rising)
		back, front = back+wallThick, front+wallThick
	}
	if l.Room.Height > 0 {
		d.add(Point{back, ground - s.on(s.roofAt(0))}, Point{front, ground - s.on(s.roofAt(s.depth))}, Outline, "roof")
	}
	d.addSideRows(s, back, top, base, ground)
	d.add(Point{margin, ground}, Point{front, ground}, Thin, "ground")
	foot := back + s.on(l.Depth)
	d.addDown(max(front, foot)+2*measure.Millimetre, top, base, measure.Say("%s", l.Height), "height")
	d.Height = ground + s.addDeck(d, back, front, ground) + lineHeight + measure.Millimetre
	if l.Across {
		from := back + s.on(l.WallGap+storage.EndBrace)
		d.addAcross(from, from+s.on(l.RowLength), d.Height, measure.Say("%s", l.RowLength), "row length")
	} else {
		d.addAcross(back, foot, d.Height, measure.Say("%s", l.Depth), "depth")
	}
	d.addNotesBelow(s.heightNotes()...)
}

// heightsOnALine is how many heights a note has room for on the narrowest drawing.
const heightsOnALine = 3

// heightNotes say how high each row is from the back, where they differ.
func (s placePaper) heightNotes() (notes []measure.Text) {
	for some := range slices.Chunk(s.layout.Heights, heightsOnALine) {
		note := measure.Say("then %s", some[0])
		if len(notes) == 0 {
			note = measure.Say("from the back %s", some[0])
		}
		for _, h := range some[1:] {
			note = measure.Say("%s, %s", note, h)
		}
		notes = append(notes, note)
	}
	return notes
}

// addSideRows draws the rows from the side on their runners.
func (d *Drawing) addSideRows(s placePaper, back, top, base, ground measure.Length) {
	if s.layout.Across {
		_, y, _, deep := s.row(0)
		face := rect(back+s.on(y), top, back+s.on(y+deep), base)
		d.addArea(face, Outline, "side face")
		d.addWood(0, face, nil)
		for _, at := range []measure.Length{y - storage.EndBrace, y + deep} {
			d.addArea(rect(back+s.on(at), top, back+s.on(at+storage.EndBrace), ground), Band, "brace")
		}
		side := s.storagePaper
		side.x, side.plan.Width = back+s.on(s.layout.WallGap), deep+2*storage.EndBrace
		d.addRunners(side, base, ground)
		return
	}
	l := s.layout
	for i := range l.Rows {
		_, y, _, deep := s.row(i)
		face := rect(back+s.on(y), base-s.on(l.RowHeight(i)), back+s.on(y+deep), base)
		d.addArea(face, Outline, "side face").Row = i + 1
		d.addPiecesAside(face)
		d.addArea(rect(face[0].X, base, face[2].X, ground), Band, "runner")
	}
}

// roofAt is the clear height so far from the back.
func (s placePaper) roofAt(from measure.Length) measure.Length {
	r := s.layout.Room
	if r.Back == 0 || r.Depth == 0 {
		return r.Height
	}
	const micrometre = measure.Millimetre / 1000
	return r.Back + (r.Height-r.Back)/micrometre*(from/micrometre)/(r.Depth/micrometre)*micrometre
}

func (s placePaper) frontNotes() []measure.Text {
	l := s.layout
	notes := []measure.Text{
		measure.Say("%s off the ground, both ends braced", l.OffGround),
	}
	if l.Room.Height > 0 {
		notes = append(notes, measure.Say("roof %s up", l.Room.Height))
	}
	if l.Room.Back > 0 {
		notes = append(notes, measure.Say("at the back %s", l.Room.Back))
	}
	if s.traits.Front {
		notes = append(notes, measure.Say("hatch dashed, sill %s up", storage.HatchSill))
	}
	notes = append(notes, measure.Say("person %s", personHeight))
	if s.traits.Boards {
		notes = append(notes, measure.Say("joists as a sign"))
	}
	return notes
}
