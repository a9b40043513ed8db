package receipts

import (
	"math"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
)

// Working paints what a measurement sheet of one page rests on: how it was read, why the
// result is what it is, the whole budget, an office's procedure step by step, what would
// make it surer, and the notes with their sources. It returns what Sheet returns.
func (p *Painter) Working(s orders.Sheet) ([]byte, error) {
	if err := p.letters.printable(sheetTexts(s)); err != nil {
		return nil, err
	}
	tally, err := readTally(s.Tally)
	if err != nil {
		return nil, err
	}
	var w *paper
	for _, try := range workings() {
		w = p.sheetPaper(measure.Say("Working of measurement sheet %d", int(s.Number)), s)
		w.sheetHead("Working of measurement", s, tally)
		w.answer(s.Result, tally)
		if try.readings {
			w.gauge(s.Result)
			w.readings(tally)
		}
		w.working(s, tally, try.doubt, nil)
		if w.pdf.PageNo() == 1 || w.full() {
			break
		}
	}
	return w.bytes()
}

// A workingTry is a way to set a working: with the readings again or without, and so many
// lines of the budget one by one.
type workingTry struct {
	readings bool
	doubt    int
}

// workings are the ways to set a working, the best first, so that no last page holds but a
// few lines.
func workings() []workingTry {
	return []workingTry{{false, 20}, {false, 14}, {false, 9}, {false, 6}, {true, 20}, {true, 14}, {true, 9}, {false, 3}}
}

// working is all that a result rests on, so many lines of the budget one by one, but for
// what is said above it.
func (w *paper) working(s orders.Sheet, tally stack.Tally, doubt int, above []string) {
	w.circumstances(s, tally)
	w.doubt(s.Result, doubt)
	if s.Procedure != nil {
		w.list(w.print.ProcedureTitle(s.Procedure.Named != nil), w.procedureLines(*s.Procedure))
	}
	w.list("Asked about the readings", w.print.Questions(s.Result))
	w.list("What would make it surer", w.nextLines(s.Result, tally, above))
	w.list("Notes", w.notes(s))
}

// circumstances are what was measured, with what and how, and why the result is what it
// is.
func (w *paper) circumstances(s orders.Sheet, t stack.Tally) {
	w.heading(w.print.Heading("How it was read"), 5*mainFace().lead())
	w.circumstancesOf(s.Result, t)
	if f := s.Result.Finding; f != nil {
		w.list("Why", w.print.Lines(f.Why))
	}
}

// circumstancesOf are with what and how a tally was read, said or not.
func (w *paper) circumstancesOf(r stack.Result, t stack.Tally) {
	var cells []column
	const across = 4
	width := w.inner() / across
	for i, fact := range slices.Concat(w.print.Answered(t, r), w.print.HowRead(t, r)) {
		lines := append(w.lines(noteFace(), width-3, fact.Label), w.lines(boldFace(), width-3, fact.Text)...)
		if cells = append(cells, column{x: w.left() + float64(i%across)*width, lines: lines}); i%across == across-1 {
			w.columns(cells...)
			cells = nil
		}
	}
	w.columns(cells...)
}

// doubt is the budget in plain words, with ticks for the shares: so many lines one by one,
// and one for the rest together.
func (w *paper) doubt(r stack.Result, most int) {
	w.heading(w.print.Heading("How sure is this?"), 4*noteFace().lead())
	lines, rest := r.Doubt, []stack.Contribution(nil)
	if len(lines) > most+1 {
		lines, rest = r.Doubt[:most], r.Doubt[most:]
	}
	f := noteFace()
	w.doubtLine(labelFace(), w.print.Heading("Source"), w.print.Heading("Standard uncertainty"), w.print.Heading("Share"), 0)
	for _, c := range lines {
		w.doubtLine(f, w.print.Source(c.Source, c.Row), w.print.Column(c.Standard), w.print.Percent(c.Share), c.Share)
	}
	if len(rest) > 0 {
		standard, share := combined(rest)
		w.doubtLine(f, w.print.Smaller(len(rest)), w.print.Column(standard), w.print.Percent(share), share)
	}
	w.doubtLine(labelFace(), w.print.Heading("All together"), w.print.Column(r.Standard), w.print.Percent(1), 0)
	w.paragraph(f, w.print.Coverage(r))
}

// combined adds contributions: the root of their squares, and their share.
func combined(cs []stack.Contribution) (measure.Volume, float64) {
	var square, share float64
	for _, c := range cs {
		square += float64(c.Standard) * float64(c.Standard)
		share += c.Share
	}
	return measure.Volume(math.Round(math.Sqrt(square))), share
}

func (w *paper) doubtLine(f face, source, standard, share string, part float64) {
	const bar = 52.0
	x := w.right() - bar
	room := x - 42 - w.left()
	for i, line := range w.wrap(f, source, room) {
		w.need(f.lead())
		w.y += f.lead()
		y := w.y - f.lead()*0.24
		w.at(w.left(), y, f, line)
		if i > 0 {
			continue
		}
		w.rightAt(x-19, y, f, standard)
		w.rightAt(x-3, y, f, share)
		w.ticks(x, y, bar, part)
	}
}

// ticks draw a share as a scale stick: marks a millimetre apart, a longer one for every
// five.
func (w *paper) ticks(x, y, width, part float64) {
	all := math.Round(width / 1.04)
	for i := range int(math.Round(min(max(part, 0), 1) * all)) {
		long := 1.5
		if (i+1)%5 == 0 {
			long = 2.6
		}
		at := x + float64(i)*width/all
		w.line(at, y, at, y-long, hairline)
	}
}

// procedureLines are a procedure's result and what it rests on.
func (w *paper) procedureLines(r procedure.Result) []string {
	lines := []string{w.print.ProcedureLead(r)}
	for _, part := range w.print.Procedure(r) {
		lines = append(lines, w.print.Field(part.Heading, strings.Join(part.Lines, " ")))
	}
	return lines
}

// nextLines are what would make a result surer, but for what stands under it already, and
// above.
func (w *paper) nextLines(r stack.Result, t stack.Tally, above []string) (lines []string) {
	above = slices.Concat([]string{w.print.Finding(r)}, w.print.After(t, r), above)
	for _, n := range r.Next {
		if next := w.print.Next(n, r); !slices.Contains(above, next) && !slices.Contains(above, w.print.Say(n.Text)) {
			lines = append(lines, next)
		}
	}
	return lines
}

// notes are those of the result, but for what the procedure's own notes say already.
func (w *paper) notes(s orders.Sheet) []string {
	lines := append(w.print.Lines(s.Result.Notes), w.print.Reasons(s.Result)...)
	if s.Procedure != nil {
		said := w.print.Lines(s.Procedure.Notes)
		lines = slices.DeleteFunc(lines, func(line string) bool { return slices.Contains(said, line) })
	}
	return append(lines, w.print.NotOfficial(s.Result.Model))
}
