package draw

import "wellstowed/measure"

// WhereToRead shows where the readings of a row are taken. It is not to scale.
func WhereToRead(width measure.Length) Drawing {
	d := Drawing{
		Title: measure.Say("Where to read"),
		Description: measure.Say("A row of wood from the front. Heights are read in the middle of five equal parts, " +
			"from the underside of the lowest piece to a straightedge across the top pieces. " +
			"The length is read from end to end. A piece is read between the centres of its cut ends."),
		Width:  paperWidth(width),
		Height: margin,
	}
	w := whereRow{left: margin + 2*measure.Millimetre, right: d.Width - margin - 2*measure.Millimetre}
	w.piece = (w.right - w.left) / wherePieces
	d.addNotes(measure.Say("Heights in the middle of equal parts,"),
		measure.Say("up to a board across the top pieces"))
	w.top = d.Height + 4*measure.Millimetre
	w.base = w.top + whereLayers*w.piece
	d.addWherePieces(w)
	d.addWhereStations(w)
	d.addWhereGround(w)
	d.addWherePiece(w)
	d.Height += margin
	return d
}

// The row of the picture, in pieces.
const (
	wherePieces = 20
	whereLayers = 8
)

// A whereRow is where the row lies on the picture.
type whereRow struct {
	left, right, top, base measure.Length
	piece                  measure.Length // across one piece end
}

func (d *Drawing) addNotes(lines ...measure.Text) {
	for _, line := range lines {
		d.Height += lineHeight
		d.write(Point{margin, d.Height}, Start, line, "note")
	}
}

// addWherePieces draws the piece ends, some a little lower on the top layer.
func (d *Drawing) addWherePieces(w whereRow) {
	for layer := range whereLayers {
		for i := range wherePieces {
			x := w.left + measure.Length(i)*w.piece
			y := w.base - measure.Length(layer+1)*w.piece
			if layer == whereLayers-1 && i%5 == 0 {
				y += w.piece / 4
			}
			foot := w.base - measure.Length(layer)*w.piece
			d.addArea(pieceEnd(x, y, w.piece, foot-y, (layer*3+i)%4), Light, "piece")
		}
	}
}

// pieceEnd is a split seen from its end, in one of four shapes.
func pieceEnd(x, y, w, h measure.Length, shape int) []Point {
	switch shape {
	case 0:
		return []Point{{x, y + h}, {x + w/6, y + h/6}, {x + w/2, y}, {x + w*5/6, y + h/6}, {x + w, y + h}}
	case 1:
		return []Point{{x, y}, {x + w, y}, {x + w*5/6, y + h*5/6}, {x + w/2, y + h}, {x + w/6, y + h*5/6}}
	case 2:
		return []Point{{x + w/4, y}, {x + w*3/4, y}, {x + w, y + h/2}, {x + w*3/4, y + h}, {x + w/4, y + h}, {x, y + h/2}}
	}
	return []Point{{x, y + h/8}, {x + w*7/8, y}, {x + w, y + h*7/8}, {x + w/8, y + h}}
}

// addWhereStations draws five heights with the straightedge and the part lines.
func (d *Drawing) addWhereStations(w whereRow) {
	part := (w.right - w.left) / 5
	for i := range measure.Length(5) {
		x := w.left + part*i + part/2
		d.add(Point{x, w.base}, Point{x, w.top}, Outline, "station").Index = int(i) + 1
		d.addArea([]Point{{x, w.top}, {x - arrow/3, w.top + arrow}, {x + arrow/3, w.top + arrow}}, Solid, "station")
		d.addArea([]Point{{x, w.base}, {x - arrow/3, w.base - arrow}, {x + arrow/3, w.base - arrow}}, Solid, "station")
		if i > 0 {
			d.add(Point{w.left + part*i, w.base}, Point{w.left + part*i, w.top}, Dashed, "part")
		}
	}
	middle := w.left + part*2 + part/2
	d.addArea(rect(middle-part*45/100, w.top-1_500_000, middle+part*45/100, w.top), Band, "straightedge")
}

// addWhereGround draws the runners, the ground and the length of the row.
func (d *Drawing) addWhereGround(w whereRow) {
	d.add(Point{w.left, w.base}, Point{w.right, w.base}, Outline, "base")
	ground := w.base + 4*measure.Millimetre
	for _, x := range []measure.Length{w.left + w.piece, (w.left + w.right) / 2, w.right - 2*w.piece} {
		d.addArea(rect(x, w.base, x+w.piece, ground), Band, "runner")
	}
	d.add(Point{margin, ground}, Point{d.Width - margin, ground}, Dashed, "ground")
	d.Height = ground
	d.addNotes(
		measure.Say("from the underside of the lowest piece,"),
		measure.Say("not from the ground"))
	d.Height += lineHeight + 2*measure.Millimetre
	d.addAcross(w.left, w.right, d.Height, measure.Say("Length of the row"), "row length")
	d.add(Point{w.left, d.Height - 4*measure.Millimetre}, Point{w.left, d.Height + measure.Millimetre}, Thin, "edge")
	d.add(Point{w.right, d.Height - 4*measure.Millimetre}, Point{w.right, d.Height + measure.Millimetre}, Thin, "edge")
}

// addWherePiece draws one piece from the side, cut aslant, with its length from
// centre to centre.
func (d *Drawing) addWherePiece(w whereRow) {
	d.Height += 3 * measure.Millimetre
	d.addNotes(measure.Say("Piece: centre to centre of its ends"))
	const thick, aslant = 9 * measure.Millimetre, 4 * measure.Millimetre
	left, right := w.left+4*measure.Millimetre, (w.left+w.right)*6/10
	y := d.Height + 3*measure.Millimetre
	d.addArea([]Point{{left, y}, {right + aslant, y}, {right, y + thick}, {left + aslant, y + thick}}, Outline, "piece")
	for _, at := range []measure.Length{3, 6} {
		dy := thick * at / 9
		d.add(Point{left + aslant*2, y + dy}, Point{right - aslant, y + dy}, Light, "grain")
	}
	d.Height = y + thick + margin
	a, b := left+aslant/2, right+aslant/2
	for _, x := range []measure.Length{a, b} {
		d.add(Point{x, y + thick/2}, Point{x, d.Height + measure.Millimetre}, Thin, "edge")
	}
	d.add(Point{a, d.Height}, Point{b, d.Height}, Thin, "piece length")
	d.addArea([]Point{{a, d.Height}, {a + arrow, d.Height - arrow/4}, {a + arrow, d.Height + arrow/4}}, Solid, "piece length")
	d.addArea([]Point{{b, d.Height}, {b - arrow, d.Height - arrow/4}, {b - arrow, d.Height + arrow/4}}, Solid, "piece length")
}
