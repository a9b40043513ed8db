package draw

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Distances on a stack drawing, on paper.
const (
	lineHeight = typeSize * 13 / 10
	rowGap     = 5 * measure.Millimetre
)

// drawRows draws a ranked stack.
func drawRows(rows stack.Rows, tape, raised measure.Length, r stack.Result, width measure.Length) Drawing {
	shapes := rowShapes(rows, raised)
	if len(shapes) == 0 {
		return Drawing{}
	}
	d := Drawing{
		Title:       measure.Say("The stack as measured"),
		Description: describeRows(shapes),
		Width:       width,
		Height:      margin,
	}
	owed := dueOf(rows, r).within(shapes)
	d.Scale = stackScale(shapes, raised, width-2*margin, owed == nil)
	if owed != nil {
		d.Scale = max(d.Scale, scaleFor(owed.height, (width-2*margin)*9/10))
	}
	alike := len(shapes) > 1 && piecesAlike(rows)
	for i, shape := range shapes {
		if shape.length > 0 {
			pieces := piecesOf(rows, i)
			if alike {
				pieces = stack.Pieces{}
			}
			d.addRow(i+1, shape, rows.Rows[i], pieces, tape, raised, owed)
		}
	}
	if alike {
		d.addNote(piecesNote(rows.Pieces, tape))
	}
	if owed == nil {
		if alike {
			d.Height += rowGap
		}
		d.addCord(r.Quantity.Volume)
		return d
	}
	d.addShares(shapes, owed)
	return d
}

// piecesAlike tells whether one sample of pieces is of all rows.
func piecesAlike(rows stack.Rows) bool {
	return !slices.ContainsFunc(rows.Rows, func(row stack.Row) bool { return len(row.Pieces.Sample) > 0 || row.Pieces.Nominal > 0 })
}

// addNote says something of the whole drawing below it; nothing where there is nothing.
func (d *Drawing) addNote(text measure.Text) {
	if text.Key == "" {
		return
	}
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, text, "note")
	d.Height += lineHeight - typeSize
}

// addShares says what the dashed line is, and what ends and gaps add to the rows.
func (d *Drawing) addShares(shapes []rowShape, owed *due) {
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, measure.Say("dashed: due, %s", rounded(owed.height)), "note")
	var extra measure.Volume
	for i, s := range shapes {
		extra += owed.extra(i, s)
	}
	if extra != 0 {
		d.Height += lineHeight
		text := measure.Say("ends, gaps: %s over", extra)
		if extra < 0 {
			text = measure.Say("ends, gaps: %s missing", -extra)
		}
		d.write(Point{margin, d.Height}, Start, text, "share")
	}
	d.Height += margin
}

// rowShapes gives the shape of each row; a row that is not read yet is empty.
func rowShapes(rows stack.Rows, raised measure.Length) []rowShape {
	var shapes []rowShape
	drawable := false
	for _, row := range rows.Rows {
		if row.Length <= 0 || len(row.Heights) == 0 {
			shapes = append(shapes, rowShape{})
			continue
		}
		drawable = true
		shapes = append(shapes, shapeOf(row, raised))
	}
	if !drawable {
		return nil
	}
	return shapes
}

func describeRows(shapes []rowShape) measure.Text {
	if len(shapes) == 1 {
		return measure.Say("One row seen from the front, drawn to scale, with each height where it was read.")
	}
	return measure.Say("%d rows seen from the front, one below another, all to one scale, with each height where it was read.", len(shapes))
}

func piecesOf(rows stack.Rows, i int) stack.Pieces {
	own := rows.Rows[i].Pieces
	if len(own.Sample) > 0 || own.Nominal > 0 {
		return own
	}
	return rows.Pieces
}

// stackScale fits the longest row, and the box of a cord where one is drawn unless the
// row is far shorter, in the room across. It makes rows smaller, by up to a third, so that a
// stack of several can be seen at once.
func stackScale(shapes []rowShape, raised, room measure.Length, box bool) int64 {
	var across, highest, sum measure.Length
	for _, s := range shapes {
		if s.length == 0 {
			continue
		}
		across = max(across, s.width())
		highest = max(highest, s.height()+raised)
		sum += s.height() + raised
	}
	if box && across >= cordLength/2 {
		across = max(across, cordLength+cordSlant)
		sum += cordHeight + cordSlant
	}
	fit := max(scaleFor(across, room), scaleFor(highest, room*9/10))
	return max(fit, min(scaleFor(sum, room*15/10), fit*3/2))
}

// A rowPaper is where a row lies on its drawing.
type rowPaper struct {
	shape   rowShape
	row     int
	scale   int64
	x, base measure.Length // the first end and the base of the wood, on paper
}

func (p rowPaper) at(x, height measure.Length) Point {
	return Point{p.x + scaled(x, p.scale), p.base - scaled(height, p.scale)}
}

// addRow draws one row below what is there.
func (d *Drawing) addRow(n int, s rowShape, row stack.Row, pieces stack.Pieces, tape, raised measure.Length, owed *due) {
	length, heights := row.Length, row.Heights
	if row.Photo != nil { // they are of its outline, no readings
		length, heights = nearestQuarter(length), nil
	}
	last := d.writeRowName(n, length, pieces, tape)
	if owed != nil {
		d.writeShare(last, owed.share(n-1, s))
	}
	p := rowPaper{shape: s, row: n, scale: d.Scale, x: margin + scaled(s.outside[0], d.Scale)}
	readings := d.placeReadings(p, heights)
	d.Height += lineHeight * measure.Length(levels(readings))
	crest := d.Height + measure.Millimetre
	high := s.height()
	if owed != nil {
		high = max(high, owed.height)
	}
	p.base = crest + scaled(high, d.Scale)

	d.addFace(p)
	if owed != nil {
		d.addDue(p, owed.height)
	}
	for end := range s.ends {
		d.addEnd(p, end)
	}
	d.addStations(p, readings, crest)
	d.Height = p.base
	d.addGround(p, raised)
	d.Height += rowGap
}

// nearestQuarter is a length to the quarter inch, since a photo shows no finer.
func nearestQuarter(l measure.Length) measure.Length {
	const mark = measure.Inch / 4
	return (l + mark/2) / mark * mark
}

// writeRowName writes what a row is, and returns the last line of it.
func (d *Drawing) writeRowName(n int, length measure.Length, pieces stack.Pieces, tape measure.Length) measure.Text {
	lines := []measure.Text{measure.Say("Row %d: %s", n, length)}
	if of := piecesNote(pieces, tape); of.Key != "" {
		lines = d.oneLine(measure.Say("%s, %s", lines[0], of), lines[0], of)
	}
	for _, line := range lines {
		d.Height += typeSize
		d.write(Point{margin, d.Height}, Start, line, "row")
		d.Height += lineHeight - typeSize
	}
	return lines[len(lines)-1]
}

// piecesNote is how long pieces are: as measured, or as said; no text where neither is known.
func piecesNote(p stack.Pieces, tape measure.Length) measure.Text {
	switch {
	case len(p.Sample) > 0:
		return measure.Say("pieces %s", meanPiece(p.Sample, tape))
	case p.Nominal > 0:
		return measure.Say("pieces said to be %s", p.Nominal)
	}
	return measure.Text{}
}

// writeShare says what is missing of a row or over, behind the last line of its name
// where there is room.
func (d *Drawing) writeShare(last measure.Text, share measure.Volume) {
	text := measure.Say("%s over", share)
	if share < 0 {
		text = measure.Say("%s missing", -share)
	}
	y := d.Height - lineHeight + typeSize
	if margin+textWidth(last, typeSize)+2*margin+textWidth(text, typeSize) > d.Width {
		y += lineHeight
		d.Height += lineHeight
	}
	d.write(Point{d.Width - margin/2, y}, End, text, "share").Bold = true
}

// meanPiece is the mean of a sample to the smallest division read.
func meanPiece(sample []measure.Length, tape measure.Length) measure.Length {
	if tape <= 0 {
		tape = measure.Inch / 4
	}
	var sum measure.Length
	for _, l := range sample {
		sum += l
	}
	mean := sum / measure.Length(len(sample))
	return (mean + tape/2) / tape * tape
}

// addFace draws the base, the measured top, shoulders, voids and the hatch.
func (d *Drawing) addFace(p rowPaper) {
	s := p.shape
	d.add(p.at(0, 0), p.at(s.length, 0), Outline, "base").Row = p.row
	face := []Point{p.at(0, 0)}
	xs := s.breaks()
	for i, x := range xs {
		face = append(face, p.at(x, s.wood(x)))
		if i > 0 {
			d.addTop(p, i, xs[i-1], x)
		}
	}
	face = append(face, p.at(s.length, 0))
	d.add(face[0], face[1], Outline, "end").Row = p.row
	d.add(face[len(face)-2], face[len(face)-1], Outline, "end").Row = p.row
	d.addWood(p.row, face, d.addVoids(p))
}

// addTop draws the top between two places: where a shoulder drops it, the wood
// is drawn solid and the measured line above it dashed.
func (d *Drawing) addTop(p rowPaper, i int, a, b measure.Length) {
	s := p.shape
	style := Outline
	if s.drop((a+b)/2) > 0 {
		style = Dashed
		d.add(p.at(a, s.wood(a)), p.at(b, s.wood(b)), Outline, "shoulder").Row = p.row
	}
	top := d.add(p.at(a, s.top(a)), p.at(b, s.top(b)), style, "top")
	top.Row, top.Index = p.row, i
}

// addVoids spreads the voids over the face at half its height: where they were
// is not read.
func (d *Drawing) addVoids(p rowPaper) [][]Point {
	var holes [][]Point
	s := p.shape
	for i, v := range s.voids {
		w := min(v.Width, s.length)
		x := s.length*measure.Length(2*i+1)/measure.Length(2*len(s.voids)) - w/2
		x = min(max(x, 0), s.length-w)
		room := s.lowest(x, x+w)
		h := min(v.Height, room)
		low, high := p.at(x, (room-h)/2), p.at(x+w, (room+h)/2)
		hole := rect(low.X, high.Y, high.X, low.Y)
		area := d.addArea(hole, Empty, "void")
		area.Row, area.Index = p.row, i+1
		holes = append(holes, hole)
	}
	return holes
}

func (d *Drawing) addHatch(row int, area []Point, holes [][]Point, s slant) {
	for _, line := range hatch(area, holes, s) {
		line.Row = row
		d.Lines = append(d.Lines, line)
	}
}

// addEnd draws what lies outside the row length at one end.
func (d *Drawing) addEnd(p rowPaper, end int) {
	s := p.shape
	inner, outer, h := measure.Length(0), -s.outside[0], s.endHeight(end)
	if end == 1 {
		inner, outer = s.length, s.length+s.outside[1]
	}
	switch s.ends[end].Kind {
	case stack.Tapered:
		area := []Point{p.at(inner, 0), p.at(inner, h), p.at(outer, 0)}
		d.addArea(area, Outline, "taper").Row = p.row
		d.addWood(p.row, area, nil)
	case stack.Cribbed:
		area := []Point{p.at(inner, 0), p.at(inner, h), p.at(outer, h), p.at(outer, 0)}
		d.addArea(area, Outline, "crib").Row = p.row
		d.addHatch(p.row, area, nil, rising)
		d.addHatch(p.row, area, nil, falling)
	}
}

// addStations draws the plumb lines and writes the readings, or their numbers.
func (d *Drawing) addStations(p rowPaper, readings []reading, crest measure.Length) {
	for i, x := range p.shape.xs {
		line := d.add(p.at(x, 0), p.at(x, p.shape.hs[i]), Thin, "station")
		line.Row, line.Index = p.row, i+1
	}
	for _, r := range readings {
		foot := crest - measure.Millimetre - lineHeight*measure.Length(r.level)
		d.write(Point{r.x, foot}, Middle, r.text, r.role)
		top := p.at(p.shape.xs[r.station], p.shape.hs[r.station])
		if tip := foot + measure.Millimetre; top.Y-tip > measure.Millimetre {
			d.add(top, Point{top.X, tip}, Light, "leader").Row = p.row
		}
	}
}

// addGround shows what the heights take in below the wood.
func (d *Drawing) addGround(p rowPaper, raised measure.Length) {
	if raised <= 0 {
		return
	}
	y := p.base + scaled(raised, p.scale)
	right := p.x + scaled(p.shape.length+p.shape.outside[1], p.scale)
	d.add(Point{margin, y}, Point{right, y}, Dashed, "ground").Row = p.row
	d.Height = y
	if p.row == 1 {
		d.Height += lineHeight
		d.write(Point{margin, d.Height}, Start,
			measure.Say("read from %s below it", raised), "ground")
		d.Height += lineHeight - typeSize
	}
}
