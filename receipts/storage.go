package receipts

import (
	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/rules"
	"wellstowed/measure/storage"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// StoragePlan paints the n-th layout of an answer, from 0, on one page to build
// from: the place from above and from the front, the measures, the pressure on the
// floor, and what to take care of. Where the answer has no such layout it is a
// *measure.InputError. Quantities are in a unit of sale, empty as the units go. The same data come out as the same bytes.
func (p *Painter) StoragePlan(language string, a storage.Answer, n int, on orders.Paper, units act.Units, unit rules.UnitCode) ([]byte, error) {
	if n < 0 || n >= len(a.Layouts) {
		return nil, &measure.InputError{Field: "plan", Code: "no-plan",
			Reason: measure.Say("that plan to print isn’t here"), Accepts: measure.Say("1 to %d", max(1, len(a.Layouts)))}
	}
	var w *paper
	for _, curve := range []bool{true, false} { // the sentence of when it burns well says as much
		w = p.paper(setup{title: measure.Say("Storage plan"), paper: on, units: units, unit: unit, language: language,
			whose: words.New(language, units).Say(a.Layouts[n].Place.Name())})
		w.storagePlan(a, a.Layouts[n], curve)
		if w.pdf.PageNo() == 1 {
			break
		}
	}
	return w.bytes()
}

// storagePlan paints a layout, with the curve of how the wood dries or without.
func (w *paper) storagePlan(a storage.Answer, l storage.Layout, curve bool) {
	half := onPaper(w.inner() / 2)
	pictures := []draw.Drawing{draw.Layout(l, half), draw.Pressure(l, half, w.units == act.Metric)}
	if curve {
		pictures = append(pictures, draw.Drying(a.Burns.Forecast, half))
	}
	w.storageHead(a, l, pictures[0].Scale)
	w.sideBySide(pictures...)
	w.heading(w.print.Heading("To build by"), noteFace().lead())
	w.inColumns(noteFace(), append(w.print.BesideDrawing(l), w.print.Burns(a.Burns)))
	w.care(a)
}

// storageHead says what is to stand where, and whether all of it does.
func (w *paper) storageHead(a storage.Answer, l storage.Layout, scale int64) {
	w.letterhead(head{kind: w.print.Heading("Storage plan"), facts: []string{
		w.print.Field("Place", w.print.Say(l.Place.Name())),
		w.print.Say(measure.Say("Pieces of %s, drawn 1:%d", l.PieceLength, int((scale+500)/1000))),
	}})
	wood := w.print.Quantity(measure.Quantity{Volume: l.Volume, Basis: measure.Ranked})
	w.paragraph(headFace(), wood)
	w.paragraph(mainFace(), w.print.Layout(l))
	if !a.Fits {
		w.paragraph(boldFace(), w.print.Fits(a))
	}
	if thrown := w.print.Thrown(a.Request); thrown != "" {
		w.paragraph(noteFace(), thrown)
	}
	w.gap(0.5)
}

// drawingFoot is what is cut off the empty foot of a drawing, in millimetres.
const drawingFoot = 1.5

// A piece of a drawing is what of it lies between two heights.
type piece struct {
	of       draw.Drawing
	from, to float64
}

// sideBySide paints drawings half as wide as the page in two columns, cut between
// their views so that the longer column is as short as can be.
func (w *paper) sideBySide(drawings ...draw.Drawing) {
	var all []piece
	for _, d := range drawings {
		from := append(heads(d), mm(d.Height)-drawingFoot)
		for i := range len(from) - 1 {
			all = append(all, piece{d, from[i], from[i+1]})
		}
	}
	height := func(pieces []piece) (sum float64) {
		for _, p := range pieces {
			sum += p.to - p.from
		}
		return sum
	}
	cut := len(all)
	for n := range all {
		if max(height(all[:n]), height(all[n:])) < max(height(all[:cut]), height(all[cut:])) {
			cut = n
		}
	}
	high := max(height(all[:cut]), height(all[cut:]))
	w.need(high)
	top := w.y
	for i, column := range [][]piece{all[:cut], all[cut:]} {
		w.y = top
		for _, p := range column {
			w.slice(p.of, w.left()+float64(i)*w.inner()/2, p.from, p.to)
			w.y += p.to - p.from
		}
	}
	w.y = top + high
}

// inColumns paints texts one below the other in two columns, as even as whole texts
// can be.
func (w *paper) inColumns(f face, texts []string) {
	const apart = 4
	half := w.inner() / 2
	var wrapped [][]written
	all := 0
	for _, text := range texts {
		lines := w.lines(f, half-apart, text)
		wrapped, all = append(wrapped, lines), all+len(lines)
	}
	var left, right []written
	for _, lines := range wrapped {
		if len(right) == 0 && 2*len(left)+len(lines) <= all+1 {
			left = append(left, lines...)
			continue
		}
		right = append(right, lines...)
	}
	w.columns(column{x: w.left(), lines: left}, column{x: w.left() + half, lines: right})
}

// care is the cautions and, in small type, what the figures rest on.
func (w *paper) care(a storage.Answer) {
	w.heading(w.print.Heading("Take care"), 2*noteFace().lead())
	for _, line := range w.print.Lines(a.Cautions) {
		w.item(noteFace(), line)
	}
	w.gap(1.5)
	w.paragraph(noteFace(), w.print.Field("What the figures rest on", w.print.GroundsInShort(a.Grounds)))
}
