package receipts

import (
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/storage"
	"wellstowed/orders"
)

// StoragePlan paints the n-th layout of an answer, from 0, on one page to build
// from: the place from above and from the front, the measures, the pressure on the
// floor, and what to take care of. Where the answer has no such layout it is a
// *measure.InputError. The same data come out as the same bytes.
func (p *Painter) StoragePlan(a storage.Answer, n int, paper orders.Paper, units orders.Units) ([]byte, error) {
	if n < 0 || n >= len(a.Layouts) {
		return nil, &measure.InputError{Field: "plan", Code: "no-plan",
			Reason: measure.Say("there is no such plan to print"), Accepts: measure.Say("1 to %d", max(1, len(a.Layouts)))}
	}
	l := a.Layouts[n]
	w := p.paper(setup{title: "Storage plan", paper: paper, units: units, language: "en"})
	picture := draw.Layout(l, onPaper(w.inner()/2))
	w.storageHead(a, l, picture.Scale)
	w.inTwo(picture)
	w.build(l)
	w.care(a)
	return w.bytes()
}

// storageHead says what is to stand where, and whether all of it does.
func (w *paper) storageHead(a storage.Answer, l storage.Layout, scale int64) {
	w.letterhead(w.print.Heading("Storage plan"), "", []string{
		w.print.Field("Pieces", w.print.Length(l.PieceLength)),
		w.print.Field("Place", w.print.Say(l.Place.Name())),
		w.print.Field("Room", w.room(l)),
		w.print.Field("Drawn to scale", "1:"+strconv.FormatInt((scale+500)/1000, 10)),
	}, side{"Wood", orders.Party{Name: w.print.Quantity(measure.Quantity{Volume: l.Volume, Basis: measure.Ranked}), Address: w.print.Layout(l)}})
	if !a.Fits {
		w.paragraph(boldFace(), w.print.Fits(a))
	}
	if thrown := w.print.Thrown(a.Request); thrown != "" {
		w.paragraph(noteFace(), thrown)
	}
	w.gap(1)
	w.rule(heavyLine)
	w.gap(1.5)
}

func (w *paper) room(l storage.Layout) string {
	parts := []string{w.print.Length(l.Room.Width), w.print.Length(l.Room.Depth)}
	if l.Room.Height > 0 {
		parts = append(parts, w.print.Length(l.Room.Height))
	}
	return strings.Join(parts, " × ")
}

// build is the measures to build by, beside the pressure on the floor.
func (w *paper) build(l storage.Layout) {
	half := w.inner() / 2
	bar := draw.Pressure(l, onPaper(half), w.units == orders.Metric)
	w.heading(w.print.Heading("To build by"), mm(bar.Height))
	top := w.y
	w.drawing(bar, w.left()+half, top)
	for _, fact := range w.print.LayoutFacts(l) {
		w.block(w.left(), half-4, noteFace(), fact)
		w.gap(0.6)
	}
	w.y = max(w.y, top+mm(bar.Height))
}

// care is the cautions and what the figures rest on.
func (w *paper) care(a storage.Answer) {
	w.heading(w.print.Heading("Take care"), 2*noteFace().lead())
	for _, line := range w.print.Lines(a.Cautions) {
		w.item(noteFace(), line)
	}
	w.heading(w.print.Heading("What the figures rest on"), noteFace().lead())
	for _, line := range w.print.Grounds(a.Grounds) {
		w.item(face{7.5, false}, line)
	}
}
