package receipts

import (
	"encoding/json"
	"fmt"
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
	for _, much := range details() {
		if w = p.shortSheet(s, tally, much); w.pdf.PageNo() == 1 {
			break
		}
	}
	if w.pdf.PageNo() > 1 {
		w = p.longSheet(s, tally)
	}
	w.sheetPhotos(s, tally)
	if err := w.inside(s.Tally); err != nil {
		return nil, err
	}
	return w.bytes()
}

// A detail is how much of what a page may have room for is on a sheet of one page.
type detail struct {
	box   bool // the same wood as a cord, and the stack at its largest
	surer bool // what would make the measurement surer
	table bool // an office's result in a table, not in a line
}

// details are the ways to set a sheet of one page, the fullest first.
func details() []detail {
	return []detail{{true, true, true}, {false, true, true}, {true, false, true}, {false, false, true}, {}}
}

// shortSheet paints a sheet that holds what was found, what was read, and how sure that is.
// What it rests on is the sheet's working. It is more than one page where that is more than
// a page holds.
func (p *Painter) shortSheet(s orders.Sheet, tally stack.Tally, much detail) *paper {
	w := p.sheetPaper(measure.Say("Measurement sheet %d", int(s.Number)), s)
	if much == (detail{}) {
		w.air = -0.9
	}
	w.sheetHead("Measurement", s, tally)
	w.answer(s.Result, tally)
	foot := func() {
		w.signed("Read by", "Seen by")
		w.gap(0.8)
		w.paragraph(noteFace(), w.print.Heading("A measurement of the wood as it stood, not an official result. Its working and sources are a paper of their own."))
	}
	below := []block{
		func() { w.paragraph(noteFace(), w.filled(noteFace(), w.inner(), w.howRead(s, tally, much))) },
		func() { w.list("Asked about the readings", w.print.Questions(s.Result)) },
		w.beside(
			span{1, 6, func() { w.toDo(s, tally, much) }},
			span{7, gridColumns, func() { w.howSure(s.Result) }},
		),
	}
	if _, ok := tally.Stack.(stack.Rows); ok {
		below = append([]block{func() { w.readings(tally) }}, below...)
		w.pictures(s.Result, tally, w.high(append(below, foot)...), much)
	} else {
		w.gauge(s.Result)
		w.lay(w.beside(
			span{1, 6, func() { w.stackPicture(w.stackOf(s.Result, tally, much), 1) }},
			span{7, gridColumns, func() { w.readings(tally) }},
		))
	}
	w.lay(below...)
	w.atFoot(foot)
	return w
}

// longSheet paints a sheet of more readings than a page holds, with its working.
func (p *Painter) longSheet(s orders.Sheet, tally stack.Tally) (w *paper) {
	for _, try := range sheetTries() {
		if w = p.sheetWithWorking(s, tally, try); try.overleaf && w.full() {
			break
		}
	}
	return w
}

// A sheetTry is a way to set a long sheet: what it rests on overleaf or below what is
// signed, and how many lines of the budget one by one.
type sheetTry struct {
	overleaf bool
	doubt    int
}

// sheetTries are the ways to set a long sheet, the best first: with all that it rests on
// overleaf, and so that no last page holds but a few lines.
func sheetTries() []sheetTry {
	return []sheetTry{{true, 14}, {true, 9}, {true, 6}, {true, 14}}
}

func (p *Painter) sheetPaper(title measure.Text, s orders.Sheet) *paper {
	return p.paper(setup{
		title: title, paper: s.Paper, units: s.Units, unit: s.RuleSet.Unit,
		language: s.Language, made: s.Issued, whose: s.Vendor.Name, zone: s.Zone,
	})
}

// sheetWithWorking paints a long sheet in one way of setting it.
func (p *Painter) sheetWithWorking(s orders.Sheet, tally stack.Tally, try sheetTry) *paper {
	w := p.sheetPaper(measure.Say("Measurement sheet %d", int(s.Number)), s)
	w.sheetHead("Measurement", s, tally)
	w.answer(s.Result, tally)
	below := []block{
		func() { w.readings(tally) },
		func() { w.list("What to do", w.print.Advice(tally.By, s.Result)) },
		func() { w.signed("Read by", "Seen by") },
	}
	w.pictures(s.Result, tally, w.high(below...), details()[0])
	w.lay(below...)
	if try.overleaf && w.pdf.PageNo() == 1 {
		w.turn()
	}
	w.working(s, tally, try.doubt, w.print.Advice(tally.By, s.Result))
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
func (w *paper) sheetHead(kind string, s orders.Sheet, t stack.Tally) {
	w.letterhead(head{kind: w.print.Heading(kind), number: strconv.FormatInt(s.Number, 10), facts: []string{
		w.print.Field("Saved", w.print.Time(s.Issued, s.Zone)),
		w.print.Field("Order", strconv.FormatInt(s.Order, 10)), w.print.Field("Check", strconv.Itoa(t.Look)),
		w.print.Field("Read by", w.print.Reader(s.ReadBy, t.By)),
	}})
	purchaser := w.erased(s.Erased, s.Purchaser)
	var known []string
	for _, p := range []side{{"Seller", s.Vendor}, {"Purchaser", purchaser}} {
		w.reach(p.party.Phone)
		known = append(known, w.print.Field(p.label, w.inOneLine(noteFace(), w.inner(), orders.Party{Address: oneLine(p.party.Name) + " · " + strings.ReplaceAll(p.party.Address, "\n", ", "), Phone: p.party.Phone})))
	}
	if len(s.Receipts) == 0 {
		known = append(known, w.print.Heading("No receipt was issued when this was measured."))
	}
	for _, r := range s.Receipts {
		known = append(known, w.print.ReceiptRef(r))
	}
	w.paragraph(noteFace(), w.filled(noteFace(), w.inner(), known))
}

// answer is the verdict, what is here of what is due, and how sure that is.
func (w *paper) answer(r stack.Result, t stack.Tally) {
	w.gap(2 + w.air)
	head, rest := w.print.Verdict(r)
	w.paragraph(verdictFace(), head)
	w.paragraph(leadFace(), rest)
	for _, line := range w.print.After(t, r) {
		w.gap(0.5)
		w.paragraph(mainFace(), line)
	}
}

// gauge is left out where wood that is not ranked is held against nothing: it has no place
// on one.
func (w *paper) gauge(r stack.Result) {
	if r.Finding == nil && r.Quantity.Basis != measure.Ranked {
		return
	}
	gauge := draw.Gauge(r, onPaper(w.inner()), w.print.GaugeUnit())
	w.need(mm(gauge.Height))
	w.drawing(gauge, w.left(), w.y)
	w.y += mm(gauge.Height)
}

// A pictured draws a stack to stand in so many columns, with what is said beside its
// heading.
type pictured func(columns int) (d draw.Drawing, note string)

// stackOf draws a stack for the column that the paper is in. Without the same wood drawn as
// a cord it is somewhat smaller.
func (w *paper) stackOf(r stack.Result, t stack.Tally, much detail) pictured {
	return func(columns int) (draw.Drawing, string) {
		wide := w.inner() / float64(columns)
		if much.box {
			return w.besideHeading(draw.Stack(t, r, onPaper(wide)))
		}
		const smaller = 0.94
		d := draw.Stack(t, r, onPaper(smaller*wide))
		for _, l := range d.Labels {
			if top, _ := labelReach(l); l.Role == "cord" {
				d = within(d, 0, top-1)
				d.Height = onPaper(inkFoot(d))
				break
			}
		}
		return w.besideHeading(d)
	}
}

// pictures are the gauge and the stack to scale, the stack in fewer and so larger columns
// where that leaves room on the page for what comes below.
func (w *paper) pictures(r stack.Result, t stack.Tally, below float64, much detail) {
	w.gauge(r)
	picture := w.stackOf(r, t, much)
	fits := func(columns int) bool {
		return w.y+w.high(func() { w.stackPicture(picture, columns) })+below <= w.bottom()
	}
	columns := 2
	if rows, ok := t.Stack.(stack.Rows); ok && len(rows.Rows) > 1 {
		columns = 3
	} else if d, _ := picture(2); firstPart(d) > mostPicture || !fits(2) && fits(3) {
		columns = 3
	}
	w.stackPicture(picture, columns)
}

// mostPicture is how high, in millimetres, a row may be drawn on half the page.
const mostPicture = 60

// besideHeading takes what a drawing says of the whole of it off it, to be said beside its
// heading, and what is empty at its foot.
func (w *paper) besideHeading(d draw.Drawing) (draw.Drawing, string) {
	var notes []string
	d.Labels = slices.DeleteFunc(slices.Clone(d.Labels), func(l draw.Label) bool {
		ofAll := l.Role == "note" || l.Role == "share" && !l.Bold
		if ofAll {
			notes = append(notes, w.print.Say(l.Text))
		}
		return ofAll
	})
	if len(notes) > 0 {
		d.Height = onPaper(inkFoot(d))
	}
	return d, strings.Join(notes, " · ")
}

// stackPicture is a stack in columns under its heading.
func (w *paper) stackPicture(picture pictured, columns int) {
	d, note := picture(columns)
	w.heading(w.print.Say(d.Title), max(firstPart(d)+2, min(mm(d.Height)/float64(columns)+10, 60)))
	w.rightAt(w.right(), w.y-0.6-labelFace().lead()*0.14, noteFace(), note)
	w.abreast(d, d.Title, columns)
}

// signed are lines to sign on, with a printed name and a day.
func (w *paper) signed(who ...string) {
	const high = 12.0
	w.need(high)
	width := w.inner()/float64(len(who)) - 4
	for i, name := range who {
		w.writeOn(w.left()+float64(i)*w.inner()/float64(len(who)), w.y+high-4, width, name+": printed name, signature, day")
	}
	w.y += high
}

// toDo is what to do, and what an office's procedure makes of the same readings.
func (w *paper) toDo(s orders.Sheet, t stack.Tally, much detail) {
	advice := w.print.Advice(t.By, s.Result)
	w.list("What to do", advice)
	if much.surer {
		w.list("What would make it surer", w.nextLines(s.Result, t, advice))
	}
	if s.Procedure == nil || !much.table {
		return
	}
	w.heading(w.print.ProcedureTitle(s.Procedure.Named != nil), 0)
	for _, line := range w.print.ProcedureTable(*s.Procedure) {
		w.row(noteFace(), []float64{0.55, 0.45}, cell{text: line.Label}, cell{text: line.Text, right: true})
	}
}

// howSure is what the give or take is made of, the largest parts one by one.
func (w *paper) howSure(r stack.Result) {
	const most = 4
	w.heading(w.print.Heading("How sure is this?"), 0)
	lines, rest := r.Doubt, []stack.Contribution(nil)
	if len(lines) > most+1 {
		lines, rest = r.Doubt[:most], r.Doubt[most:]
	}
	for _, c := range lines {
		w.sureLine(w.print.Source(c.Source, c.Row), c.Share)
	}
	if len(rest) > 0 {
		_, share := combined(rest)
		w.sureLine(w.print.Smaller(len(rest)), share)
	}
}

// sureLine is one part of the give or take with its share, as a number and as ticks.
func (w *paper) sureLine(source string, share float64) {
	const bar, number = 24.0, 13.0
	f := noteFace()
	for i, line := range w.wrap(f, source, w.inner()-bar-number) {
		w.y += f.lead()
		y := w.y - f.lead()*0.24
		w.at(w.left(), y, f, line)
		if i == 0 {
			w.rightAt(w.right()-bar-2, y, f, w.print.Percent(share))
			w.ticks(w.right()-bar, y, bar, share)
		}
	}
}

// howRead are with what and how a tally was read, a fact each, and an office's result where
// its table doesn’t fit.
func (w *paper) howRead(s orders.Sheet, t stack.Tally, much detail) (facts []string) {
	for _, fact := range w.print.HowRead(t, s.Result) {
		facts = append(facts, w.print.Field(fact.Label, fact.Text))
	}
	if p := s.Procedure; p != nil && !much.table {
		facts = append(facts, w.print.Field(w.print.ProcedureTitle(p.Named != nil), w.print.ProcedureLead(*p)))
	}
	return facts
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
