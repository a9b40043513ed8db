package receipts

import (
	"math"
	"strings"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure"
	"wellstowed/measure/draw"
)

func mm(l measure.Length) float64 { return l.In(measure.Millimetre) }

// onPaper is a length of so many millimetres.
func onPaper(mm float64) measure.Length {
	return measure.Length(math.Round(mm * float64(measure.Millimetre)))
}

// drawing paints a drawing with its top left corner at x, y.
func (w *paper) drawing(d draw.Drawing, x, y float64) {
	if w.dry {
		return
	}
	for _, p := range d.Polygons {
		if p.Style == draw.Wood {
			w.grain(p, x, y, mm(d.Piece))
			continue
		}
		w.polygon(p, x, y)
	}
	for _, l := range d.Lines {
		w.ink(l.Style)
		w.pdf.Line(x+mm(l.A.X), y+mm(l.A.Y), x+mm(l.B.X), y+mm(l.B.Y))
	}
	w.pdf.SetDashPattern(nil, 0)
	for _, l := range d.Labels {
		w.label(l, x, y)
	}
}

func (w *paper) polygon(p draw.Polygon, x, y float64) {
	points := make([]gofpdf.PointType, len(p.Points))
	for i, at := range p.Points {
		points[i] = gofpdf.PointType{X: x + mm(at.X), Y: y + mm(at.Y)}
	}
	w.ink(p.Style)
	switch p.Style {
	case draw.Band:
		w.pdf.SetFillColor(225, 225, 225)
	case draw.Solid:
		w.pdf.SetFillColor(0, 0, 0)
	case draw.Empty:
		w.pdf.SetFillColor(255, 255, 255)
	default:
		w.pdf.Polygon(points, "D")
		return
	}
	w.pdf.Polygon(points, "DF")
}

// ink sets the pen for a style.
func (w *paper) ink(s draw.Style) {
	switch s {
	case draw.Outline:
		w.stroke(0.5, 0)
	case draw.Dashed:
		w.stroke(0.3, 0)
		w.pdf.SetDashPattern([]float64{1.6, 1.1}, 0)
		w.pen = pen{} // the next line has none
	default:
		w.stroke(0.2, 0)
	}
}

func (w *paper) label(l draw.Label, x, y float64) {
	f := face{labelSize(mm(l.Size) / pointInMM), l.Bold}
	text := w.print.Say(l.Text)
	x, y = x+mm(l.At.X), y+mm(l.At.Y)
	switch l.Anchor {
	case draw.Middle:
		w.middleAt(x, y, f, text)
	case draw.End:
		w.rightAt(x, y, f, text)
	default:
		w.at(x, y, f, text)
	}
}

// labelSize is the size that a drawing's label of a size is set in: the next smaller one of
// the paper's, for which the drawing's places have more than room.
func labelSize(size float64) float64 {
	for _, of := range sizes() {
		if of <= size {
			return of
		}
	}
	return noteFace().size
}

// inTwo paints a drawing half as wide as the page in two columns, under a heading.
func (w *paper) inTwo(d draw.Drawing, heading measure.Text) { w.abreast(d, heading, 2) }

// abreast paints a drawing in columns side by side, cut between its parts, and goes on
// overleaf as often as it takes, where its heading is said again. The drawing is as wide as
// a column.
func (w *paper) abreast(d draw.Drawing, heading measure.Text, count int) {
	height, heads := mm(d.Height), heads(d)
	from := 0.0
	if len(heads) > 0 {
		from = heads[0]
	}
	if w.dry {
		w.y += columnHeight(heads, from, height, height+1, count)
		return
	}
	turned := w.y <= marginTop // nothing but the heading is above
	for from < height {
		room := w.bottom() - w.y
		high := columnHeight(heads, from, height, room, count)
		cuts := columnCuts(heads, from, high, height, count)
		if cuts[count] < height && !rising(cuts) { // no place to cut on what is left of this page
			if !turned {
				w.turn()
				turned = true
				continue
			}
			for i := range cuts {
				cuts[i] = from + float64(i)*room
			}
		}
		for i := range count {
			w.slice(d, w.left()+float64(i)*w.inner()/float64(count), cuts[i], min(cuts[i+1], height))
		}
		w.y += high
		if from = cuts[count]; from < height {
			w.turn()
			turned = true
			w.paragraph(labelFace(), strings.ToUpper(w.print.Say(measure.Say("%s, continued", heading))))
			w.gap(1)
		}
	}
}

// columnCuts are where columns of a height begin, and where the last ends.
func columnCuts(heads []float64, from, high, end float64, count int) []float64 {
	cuts := []float64{from}
	for range count {
		from = cut(heads, from, from+high, end)
		cuts = append(cuts, from)
	}
	return cuts
}

// rising tells whether every column holds something.
func rising(cuts []float64) bool {
	for i, at := range cuts[1:] {
		if at <= cuts[i] {
			return false
		}
	}
	return true
}

// columnHeight is the least height of the columns that takes the drawing from a
// height on to its end, or all the room there is.
func columnHeight(heads []float64, from, end, room float64, count int) float64 {
	for high := (end - from) / float64(count); high < room; high += 2 {
		if columnCuts(heads, from, high, end, count)[count] >= end {
			return high
		}
	}
	return room
}

// slice paints what of a drawing lies between two heights, at x.
func (w *paper) slice(d draw.Drawing, x, from, to float64) {
	if to <= from || w.dry {
		return
	}
	w.pdf.ClipRect(x, w.y, mm(d.Width), to-from, false)
	w.drawing(within(d, from, to), x, w.y-from)
	w.pdf.ClipEnd()
	// The clip's end takes the fill back to what it was before, unknown to the library,
	// which sets text in it.
	w.pdf.SetFillColor(0, 0, 0)
	w.forget()
}

// firstPart is the height of a drawing down to where it may first be cut.
func firstPart(d draw.Drawing) float64 {
	heads := heads(d)
	switch len(heads) {
	case 0:
		return mm(d.Height)
	case 1:
		return mm(d.Height) - heads[0]
	}
	return heads[1] - heads[0]
}

// within is the part of a drawing that reaches between two heights.
func within(d draw.Drawing, from, to float64) draw.Drawing {
	part := draw.Drawing{Title: d.Title, Width: d.Width, Height: d.Height, Piece: d.Piece}
	for _, p := range d.Polygons {
		if a, b := reach(p.Points...); b >= from && a <= to {
			part.Polygons = append(part.Polygons, p)
		}
	}
	for _, l := range d.Lines {
		if a, b := reach(l.A, l.B); b >= from && a <= to {
			part.Lines = append(part.Lines, l)
		}
	}
	for _, l := range d.Labels {
		if a, b := labelReach(l); b >= from && a <= to {
			part.Labels = append(part.Labels, l)
		}
	}
	return part
}

// cut is the lowest head between from and to: end where to is past it, and from
// where there is no head.
func cut(heads []float64, from, to, end float64) float64 {
	if to >= end {
		return end
	}
	at := from
	for _, head := range heads {
		if head > at && head <= to {
			at = head
		}
	}
	return at
}

// heads are the heights where a part of a drawing begins with its own caption: a
// row, a view, the box beside a stack.
func heads(d draw.Drawing) []float64 {
	var all []float64
	foot := math.Inf(-1) // of the caption before
	for _, l := range d.Labels {
		if l.Role != "row" && l.Role != "view" && l.Role != "cord" {
			continue
		}
		top, bottom := labelReach(l)
		if top > foot+mm(l.Size)/2 { // not the next line of the same caption
			all = append(all, top-0.5)
		}
		foot = bottom
	}
	if top := inkTop(d); len(all) > 0 && top < all[0]-1 { // what has another caption
		all = append([]float64{top}, all...)
	}
	return all
}

// inkTop is where the topmost area or text of a drawing begins.
func inkTop(d draw.Drawing) float64 {
	top := mm(d.Height)
	for _, p := range d.Polygons {
		low, _ := reach(p.Points...)
		top = min(top, low-0.5)
	}
	for _, l := range d.Labels {
		low, _ := labelReach(l)
		top = min(top, low-0.5)
	}
	return max(top, 0)
}

// inkFoot is where the lowest line or text of a drawing ends.
func inkFoot(d draw.Drawing) float64 {
	foot := 0.0
	for _, p := range d.Polygons {
		_, high := reach(p.Points...)
		foot = max(foot, high+0.5)
	}
	for _, l := range d.Lines {
		_, high := reach(l.A, l.B)
		foot = max(foot, high+0.5)
	}
	for _, l := range d.Labels {
		_, high := labelReach(l)
		foot = max(foot, high+0.5)
	}
	return foot
}

func reach(points ...draw.Point) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		low, high = min(low, mm(p.Y)), max(high, mm(p.Y))
	}
	return low, high
}

func labelReach(l draw.Label) (low, high float64) {
	return mm(l.At.Y) - mm(l.Size), mm(l.At.Y) + 0.3*mm(l.Size)
}
