package receipts

import (
	"math"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure"
	"wellstowed/measure/draw"
)

func mm(l measure.Length) float64 { return l.In(measure.Millimetre) }

// drawing paints a drawing with its top left corner at x, y.
func (w *paper) drawing(d draw.Drawing, x, y float64) {
	for _, p := range d.Polygons {
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
	case draw.Light:
		w.stroke(0.1, 120)
	case draw.Dashed:
		w.stroke(0.3, 0)
		w.pdf.SetDashPattern([]float64{1.6, 1.1}, 0)
	default:
		w.stroke(0.2, 0)
	}
}

func (w *paper) label(l draw.Label, x, y float64) {
	f := face{mm(l.Size) / pointInMM, l.Bold}
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

// picture paints a drawing across the page and goes on below it; one that is
// higher than what is left is cut between its parts and goes on overleaf.
func (w *paper) picture(d draw.Drawing) {
	height := mm(d.Height)
	if whole := w.bottom() - marginTop; height <= whole {
		w.need(height)
	}
	for from := 0.0; from < height; {
		room := w.bottom() - w.y
		to := cut(d, from, from+room)
		if to <= from { // no gap to cut at on what is left of this page
			if w.y > marginTop {
				w.turn()
				continue
			}
			to = from + room
		}
		w.slice(d, from, min(to, height))
		w.y += min(to, height) - from
		from = to
		if from < height {
			w.turn()
		}
	}
}

// slice paints what of a drawing lies between two heights.
func (w *paper) slice(d draw.Drawing, from, to float64) {
	w.pdf.ClipRect(0, w.y, w.width, to-from, false)
	w.drawing(within(d, from, to), w.left(), w.y-from)
	w.pdf.ClipEnd()
}

// within is the part of a drawing that reaches between two heights.
func within(d draw.Drawing, from, to float64) draw.Drawing {
	part := draw.Drawing{Width: d.Width, Height: d.Height}
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

// cut is the lowest height between from and to that goes through nothing, to
// itself where the drawing ends above it, and from where there is none.
func cut(d draw.Drawing, from, to float64) float64 {
	if to >= mm(d.Height) {
		return to
	}
	at := to
	for moved := true; moved; {
		moved = false
		for _, span := range spans(d) {
			if span[0] < at && at < span[1] {
				at, moved = span[0], true
			}
		}
		if at <= from {
			return from
		}
	}
	return at
}

// spans are the heights that each part of a drawing takes up.
func spans(d draw.Drawing) [][2]float64 {
	var all [][2]float64
	add := func(a, b float64) { all = append(all, [2]float64{a, b}) }
	for _, p := range d.Polygons {
		add(reach(p.Points...))
	}
	for _, l := range d.Lines {
		add(reach(l.A, l.B))
	}
	for _, l := range d.Labels {
		add(labelReach(l))
	}
	return all
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
