package receipts

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Sheet paints a measurement sheet: the answer, the two pictures, the readings
// and the doubt budget, on as many pages as they take. The same data come out as
// the same bytes. The tally is inside as a file, for TallyIn. It returns an *act.Error of Kind Invalid that names the field
// where a text can't be printed or the readings can't be read.
func (p *Painter) Sheet(s orders.Sheet) ([]byte, error) {
	if err := p.letters.printable(sheetTexts(s)); err != nil {
		return nil, err
	}
	if err := p.lawful(s.RuleSet, named{"tally.condition", string(s.Tally.Condition)}); err != nil {
		return nil, err
	}
	tally, err := readTally(s.Tally)
	if err != nil {
		return nil, err
	}
	var w *paper
	for _, try := range sheetTries() {
		if w = p.sheet(s, tally, try); w.pdf.PageNo() == 1 || try.overleaf && w.full() {
			break
		}
	}
	w.sheetPhotos(s)
	if err := w.inside(s.Tally); err != nil {
		return nil, err
	}
	return w.bytes()
}

// A sheetTry is a way to set a sheet: what it rests on overleaf or below what is signed,
// and how many lines of the budget one by one.
type sheetTry struct {
	overleaf bool
	doubt    int
}

// sheetTries are the ways to set a sheet, the best first: on one page, then with all that
// it rests on overleaf, and so that no last page holds but a few lines.
func sheetTries() []sheetTry {
	return []sheetTry{{false, 14}, {true, 14}, {true, 9}, {true, 6}, {true, 14}}
}

// sheet paints a sheet in one way of setting it.
func (p *Painter) sheet(s orders.Sheet, tally stack.Tally, try sheetTry) *paper {
	w := p.paper(setup{
		title: measure.Say("Measurement sheet %d", int(s.Number)),
		paper: s.Paper, units: s.Units, unit: s.RuleSet.Unit, language: s.Language, made: s.Issued, whose: s.Vendor.Name, zone: s.Zone,
	})
	w.sheetHead(s, tally)
	w.answer(s.Result, tally)
	below := []block{
		func() { w.readings(tally) },
		func() { w.list("What to do", w.print.Advice(tally.By, s.Result)) },
		func() { w.signed("Read by", "Seen by") },
	}
	w.pictures(s.Result, tally, w.high(below...))
	w.lay(below...)
	if try.overleaf && w.pdf.PageNo() == 1 {
		w.turn()
	}
	w.circumstances(s, tally)
	w.doubt(s.Result, try.doubt)
	if s.Procedure != nil {
		w.list(w.print.ProcedureTitle(s.Procedure.Named != nil), w.procedureLines(*s.Procedure))
	}
	w.list("Asked about the readings", w.print.Questions(s.Result))
	w.list("What would make it surer", w.nextLines(s.Result, tally))
	w.list("Notes", w.notes(s))
	return w
}

// sheetTexts are the texts on a sheet that people typed. Readings are printed as
// parsed, never as typed.
func sheetTexts(s orders.Sheet) []named {
	texts := []named{
		{"vendor.name", s.Vendor.Name}, {"vendor.address", s.Vendor.Address}, {"vendor.phone", s.Vendor.Phone},
		{"purchaser.name", s.Purchaser.Name}, {"purchaser.address", s.Purchaser.Address}, {"purchaser.phone", s.Purchaser.Phone},
		{"read_by", s.ReadBy}, {"tally.condition", string(s.Tally.Condition)},
	}
	for i, r := range s.Receipts {
		texts = append(texts, named{fmt.Sprintf("receipts[%d].seal", i), r.Seal})
	}
	return texts
}

func readTally(doc stack.Document) (stack.Tally, error) {
	raw, err := json.Marshal(doc)
	if err != nil {
		return stack.Tally{}, badTally(err)
	}
	tally, err := stack.ParseTally(raw)
	if err != nil {
		return stack.Tally{}, badTally(err)
	}
	return tally, nil
}

func badTally(err error) error {
	return &act.Error{Kind: act.Invalid, Message: measure.Say("The readings of this sheet can’t be read."),
		Fields: []*measure.InputError{{Field: "tally", Code: "unreadable", Reason: measure.Say("%s", err.Error()), Accepts: measure.Say("a tally document of format %d", stack.TallyFormat)}}}
}

// sheetHead is the number with its facts, and below it in small type who sold, who bought,
// who read, and what the sheet speaks of.
func (w *paper) sheetHead(s orders.Sheet, t stack.Tally) {
	w.letterhead(head{kind: w.print.Heading("Measurement"), number: strconv.FormatInt(s.Number, 10), facts: []string{
		w.print.Field("Saved", w.print.Time(s.Issued, s.Zone)),
		w.print.Field("Order", strconv.FormatInt(s.Order, 10)), w.print.Field("Check", strconv.Itoa(t.Look)),
		w.print.Field("Read by", w.print.Reader(s.ReadBy, t.By)),
	}})
	purchaser := w.erased(s.Erased, s.Purchaser)
	for _, p := range []side{{"Seller", s.Vendor}, {"Purchaser", purchaser}} {
		w.paragraph(noteFace(), w.print.Field(p.label, w.filled(noteFace(), w.inner()-20, []string{p.party.Name, strings.ReplaceAll(p.party.Address, "\n", ", "), p.party.Phone})))
	}
	if len(s.Receipts) == 0 {
		w.paragraph(noteFace(), w.print.Heading("No receipt was issued when this was measured."))
	}
	for _, r := range s.Receipts {
		w.paragraph(noteFace(), w.print.ReceiptRef(r))
	}
}

// answer is the verdict, what is here of what is due, and how sure that is.
func (w *paper) answer(r stack.Result, t stack.Tally) {
	w.gap(2)
	head, rest := w.print.Verdict(r)
	w.paragraph(verdictFace(), head)
	w.paragraph(leadFace(), rest)
	for _, line := range w.print.After(t, r) {
		w.gap(0.5)
		w.paragraph(mainFace(), line)
	}
}

// pictures are the gauge and the stack to scale, the stack in fewer and so larger columns
// where that leaves room on the page for what comes below. Wood that is not ranked and is
// held against nothing has no place on the gauge.
func (w *paper) pictures(r stack.Result, t stack.Tally, below float64) {
	if r.Finding != nil || r.Quantity.Basis == measure.Ranked {
		gauge := draw.Gauge(r, onPaper(w.inner()), w.print.GaugeUnit())
		w.need(mm(gauge.Height))
		w.drawing(gauge, w.left(), w.y)
		w.y += mm(gauge.Height)
	}
	columns := 2
	if rows, ok := t.Stack.(stack.Rows); ok && len(rows.Rows) > 1 {
		columns = 3
	}
	picture := func(columns int) draw.Drawing { return draw.Stack(t, r, onPaper(w.inner()/float64(columns))) }
	fits := func(columns int) bool {
		return w.y+w.high(func() { w.stackPicture(picture(columns), columns) })+below <= w.bottom()
	}
	if columns == 2 && (firstPart(picture(2)) > mostPicture || !fits(2) && fits(3)) {
		columns = 3
	}
	w.stackPicture(picture(columns), columns)
}

// mostPicture is how high, in millimetres, a row may be drawn on half the page.
const mostPicture = 60

// stackPicture is a stack in columns under its heading.
func (w *paper) stackPicture(d draw.Drawing, columns int) {
	w.heading(w.print.Say(d.Title), max(firstPart(d)+2, min(mm(d.Height)/float64(columns)+10, 60)))
	w.abreast(d, d.Title, columns)
}

// signed are lines to sign on, with a printed name and a day.
func (w *paper) signed(who ...string) {
	const high = 13.0
	w.need(high)
	width := w.inner()/float64(len(who)) - 4
	for i, name := range who {
		w.writeOn(w.left()+float64(i)*w.inner()/float64(len(who)), w.y+high-4, width, name+": printed name, signature, day")
	}
	w.y += high
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
	for i, fact := range w.print.HowRead(t, r) {
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

// ticks draw a share as a scale stick: a mark for each two per cent, a longer one
// for every ten.
func (w *paper) ticks(x, y, width, part float64) {
	for i := range int(math.Round(min(max(part, 0), 1) * 50)) {
		long := 1.5
		if (i+1)%5 == 0 {
			long = 2.6
		}
		at := x + float64(i)*width/50
		w.line(at, y, at, y-long, hairline)
	}
}

// procedureLines are a procedure's result and what it rests on.
func (w *paper) procedureLines(r stack.ProcedureResult) []string {
	lines := []string{w.print.ProcedureLead(r)}
	for _, part := range w.print.Procedure(r) {
		lines = append(lines, w.print.Field(part.Heading, strings.Join(part.Lines, " ")))
	}
	return lines
}

// nextLines are what would make a result surer, but for what stands under it already.
func (w *paper) nextLines(r stack.Result, t stack.Tally) (lines []string) {
	above := slices.Concat([]string{w.print.Finding(r)}, w.print.After(t, r), w.print.Advice(t.By, r))
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

// list is a section of lines, left out where there are none.
func (w *paper) list(heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.heading(w.print.Heading(heading), 2*noteFace().lead())
	for _, line := range lines {
		w.item(noteFace(), line)
	}
}
