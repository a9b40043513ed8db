package draw

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// handHigh is how high a row in hand may be drawn, as a share of the drawing's width.
const handHigh = 0.55

// RowInHand draws a row while it is read, to scale: the wood as far as it is read, each of
// the places at which a height is to be read in the middle of its part, as a dashed line
// with its number (role "place", index from 1), and the due height, 0 where that isn't
// known yet. row has the heights read so far; places are at least as many. width is
// that of the drawing on paper. A row without a length gives a Drawing of no size.
func RowInHand(row stack.Row, places int, due, width measure.Length) Drawing {
	places = max(places, len(row.Heights))
	if row.Length <= 0 || places == 0 || width <= 2*margin {
		return Drawing{}
	}
	part := stack.Row{Length: row.Length * measure.Length(len(row.Heights)) / measure.Length(places), Heights: row.Heights}
	highest := max(due, 4*measure.Foot)
	if len(row.Heights) > 0 {
		highest = max(slices.Max(row.Heights), due)
	}
	room := width - 2*margin
	scale := max(scaleFor(row.Length, room), scaleFor(highest, measure.Length(float64(width)*handHigh)))
	d := Drawing{Title: measure.Say("The row in hand"), Description: measure.Say("The row seen from the front, drawn to scale as far as it is read."), Width: width, Scale: scale}
	p := rowPaper{row: 1, scale: scale, x: (width - scaled(row.Length, scale)) / 2, base: margin + scaled(highest, scale)}
	d.add(p.at(0, 0), p.at(row.Length, 0), Outline, "base")
	d.add(p.at(row.Length, 0), p.at(row.Length, highest), Dashed, "far-end")
	if len(row.Heights) > 0 {
		p.shape = shapeOf(part, 0)
		d.addFace(p)
		if due > 0 {
			d.addDue(p, due)
		}
	}
	if due > 0 {
		d.add(p.at(0, due), p.at(row.Length, due), Dashed, "due")
	}
	d.Height = p.base + lineHeight
	for i := range places {
		x := row.Length * measure.Length(2*i+1) / measure.Length(2*places)
		d.add(p.at(x, 0), p.at(x, highest), Dashed, "place").Index = i + 1
		d.write(Point{p.at(x, 0).X, d.Height}, Middle, measure.Say("%d", i+1), "number")
	}
	d.Height += lineHeight - typeSize
	return d
}

// DueHeight is the height at which the rows would hold what is due, 0 where nothing is
// held against what was sold, or where that height isn't known.
func DueHeight(rows stack.Rows, r stack.Result) measure.Length {
	if owed := dueOf(rows, r); owed != nil {
		return owed.height
	}
	return 0
}
