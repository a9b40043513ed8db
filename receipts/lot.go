package receipts

import (
	"strconv"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Lot paints the report on a packaged lot that was judged under a rule set or the zero
// set: the verdict, the plan and the draw, every package with its error, and what the
// verdict rests on, each with how it is known. when is the time of printing, in the zone it is to be worded in. The same
// data come out as the same bytes.
func (p *Painter) Lot(language string, under rules.Set, l lot.Lot, v lot.Verdict, paper orders.Paper, units act.Units, when time.Time) ([]byte, error) {
	w := p.paper(setup{title: measure.Say("Packaged lot"), paper: paper, units: units, language: language, made: when, zone: "UTC"})
	w.print = w.print.Under(under)
	w.lotHead(l, when)
	w.verdict(v)
	w.plan(l, v)
	w.packages(l, v)
	w.grounded(v)
	w.lay(w.signatures("Measured by, and seen by", "Measured by", "Seller or packer, who was present"))
	return w.bytes()
}

func (w *paper) lotHead(l lot.Lot, when time.Time) {
	w.letterhead(head{kind: w.print.Heading("Packaged lot"), facts: []string{
		w.print.Field("Labelled", w.print.Package(l.Labelled)),
		w.print.Field("Packages in the lot", strconv.Itoa(l.LotSize)),
		w.print.Field("Packages measured", strconv.Itoa(len(l.Packages))),
		w.print.Field("Printed", w.print.Time(when, when.Location().String())),
	}})
	half := w.inner()/2 - gutter/2
	w.writeOn(w.left(), w.y+8, half, "Whose packages, and the place")
	w.writeOn(w.left()+half+gutter, w.y+8, half, "What the label says they are")
	w.gap(14)
}

// lotFace is that of a lot's verdict, which is a sentence.
func lotFace() face { return face{24, true} }

// verdict is the finding in a sentence, its figures, and why.
func (w *paper) verdict(v lot.Verdict) {
	w.gap(1)
	w.paragraph(lotFace(), w.print.LotFinding(v))
	w.paragraph(boldFace(), w.print.Volunteer())
	w.gap(1.5)
	w.rule(ruleLine)
	third := w.inner() / 3
	w.columns(
		w.under(0, third, "Average error", w.print.PackageError(v.Mean)),
		w.under(1, third, "Standard deviation s of the errors", w.print.PackageOr(v.Spread)),
		w.under(2, third, "Sample error limit", w.print.PackageOr(v.Limit)))
	w.gap(1)
	for _, why := range v.Why {
		w.item(mainFace(), w.print.Say(why.Text))
	}
	for _, note := range v.Notes {
		w.item(mainFace(), w.print.Say(note.Text))
	}
}

// plan is how the sample was to be drawn, with how each figure is known, and how
// it was drawn.
func (w *paper) plan(l lot.Lot, v lot.Verdict) {
	w.heading(w.print.Heading("Plan and draw"), 6*mainFace().lead())
	w.paragraph(boldFace(), w.print.PlanName(v.Plan))
	third := w.inner() / 3
	cells := []column{
		w.under(0, third, "Packages to measure", strconv.Itoa(v.Plan.Sample.Value)),
		w.under(1, third, w.print.Say(measure.Say("Factor for the %d measured", len(v.Packages))), w.print.Factor(v.Factor)),
		w.under(2, third, "May be over an individual limit", strconv.Itoa(v.Plan.Allowed.Value)),
	}
	marks := []string{w.print.Mark(v.Plan.Sample.Known), "", w.print.Mark(v.Plan.Allowed.Known)}
	if v.Factor != nil {
		marks[1] = w.print.Mark(v.Factor.Known)
	}
	for i, mark := range marks {
		cells[i].lines = append(cells[i].lines, w.lines(noteFace(), third-4, mark)...)
	}
	w.columns(cells...)
	w.gap(1)
	if l.Seed != nil {
		w.paragraph(mainFace(), w.print.Drawn(*l.Seed, v.Picks))
		if draws := l.Draws(); draws.Key != "" {
			w.paragraph(boldFace(), w.print.Say(draws))
		}
		w.paragraph(noteFace(), w.print.Repeat())
	}
	w.paragraph(mainFace(), w.print.IndividualLimit(l, v))
}

// A lotTable is the packages, some of them side by side.
type lotTable struct {
	across int
	names  []string
	ends   []float64 // where each cell ends, in millimetres from where its package begins
	rows   [][]string
}

// packages is the table of packages and their errors, with the readings where
// volumes were worked out from some.
func (w *paper) packages(l lot.Lot, v lot.Verdict) {
	t := lotTable{names: []string{"Package", "Picked", "Measured", "Error"}}
	read := map[int]lot.Package{}
	for _, p := range l.Packages {
		if p.Area > 0 {
			t.names = []string{"Package", "Picked", "Length", "End", "Measured", "Error"}
		}
		read[p.Number] = p
	}
	for _, e := range v.Packages {
		t.rows = append(t.rows, w.lotRow(t, e, read[e.Number]))
	}
	w.setLotTable(&t)
	w.heading(w.print.Heading("Packages: error = measured − labelled"), 4*noteFace().lead())
	w.lotHeadings(t)
	for from := 0; from < len(t.rows); from += t.across {
		if page := w.pdf.PageNo(); from > 0 {
			w.need(mainFace().lead())
			if w.pdf.PageNo() > page {
				w.lotHeadings(t)
			}
		}
		for i, row := range t.rows[from:min(from+t.across, len(t.rows))] {
			w.tableLine(t, i, mainFace(), row)
		}
		w.y += mainFace().lead()
	}
	w.paragraph(noteFace(), w.print.Star(v))
}

// lotHeadings paints the names of the columns, as many times as packages stand side by side.
func (w *paper) lotHeadings(t lotTable) {
	for i := range min(t.across, len(t.rows)) {
		w.tableLine(t, i, labelFace(), w.headings(t.names))
	}
	w.y += labelFace().lead()
}

// setLotTable puts as many packages side by side as there is room for, at most three,
// each cell as wide as its widest text.
func (w *paper) setLotTable(t *lotTable) {
	const apart, most = 1.0, 3
	widths := make([]float64, len(t.names))
	for n, name := range w.headings(t.names) {
		widths[n] = w.measure(labelFace(), name)
		for _, row := range t.rows {
			widths[n] = max(widths[n], w.measure(mainFace(), row[n]))
		}
	}
	all := 0.0
	for _, width := range widths {
		all += width + apart
	}
	t.across = max(1, min(most, int(w.inner()/all)))
	spare := max(0, w.inner()/float64(t.across)-all) / float64(len(widths))
	end := 0.0
	for _, width := range widths {
		end += spare + width
		t.ends = append(t.ends, end)
		end += apart
	}
}

func (w *paper) headings(keys []string) []string {
	said := make([]string, len(keys))
	for i, key := range keys {
		said[i] = w.print.Heading(key)
	}
	return said
}

func (w *paper) lotRow(t lotTable, e lot.Error, p lot.Package) []string {
	cells := []string{strconv.Itoa(e.Number), w.print.HowPicked(e)}
	if len(t.names) == 6 { // with readings
		length, end := "", ""
		if p.Area > 0 {
			length, end = w.print.Reading(p.Length), w.print.End(p.Area)
		}
		cells = append(cells, length, end)
	}
	return append(cells, w.print.Package(e.Volume), w.print.ErrorOf(e))
}

// tableLine paints the cells of the i-th package of a line, each to the right.
func (w *paper) tableLine(t lotTable, i int, f face, cells []string) {
	width := w.inner() / float64(t.across)
	x, y := w.left()+float64(i)*width, w.y+f.lead()*0.76
	for n, cell := range cells {
		w.rightAt(x+t.ends[n], y, f, cell)
	}
}

// grounded is what the verdict rests on, each with how it is known.
func (w *paper) grounded(v lot.Verdict) {
	lines := make([]string, len(v.Grounds))
	for i, g := range v.Grounds {
		lines[i] = w.print.Ground(g)
	}
	w.list("What this rests on, and how it is known", lines)
}
