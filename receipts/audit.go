package receipts

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
	"wellstowed/orders/audits"
	"wellstowed/receipts/words"
)

// Audit paints the report of an audit: on its first page what was sold, what was
// found and on whose word, with the stack and the gauge; then all of it. hash is that
// of the report's bytes; pictures are those of r.Photos, in their order. The same data
// come out as the same bytes. It returns an *act.Error of Kind Invalid that names
// the field where a text or picture can't be printed or readings can't be read.
func (p *Painter) Audit(r audits.Report, hash string, pictures []audits.Picture) ([]byte, error) {
	if err := p.letters.printable(auditTexts(r, hash)); err != nil {
		return nil, err
	}
	if err := p.lawful(r.Subject.RuleSet, auditWood(r)...); err != nil {
		return nil, err
	}
	measurers, err := readTallies(r)
	if err != nil {
		return nil, err
	}
	a := auditPaper{r: r, hash: hash, measurers: measurers, pictures: pictures, paper: p.paper(setup{
		title: measure.Say("Audit report %d", int(r.Number)),
		paper: r.Paper, units: r.Units, unit: r.Subject.RuleSet.Unit, language: r.Language, made: r.Issued, zone: r.Zone,
	})}
	a.head()
	a.found()
	early := a.y+signedIn(len(a.signers())) <= a.bottom()
	if early {
		a.signed()
	}
	a.turn()
	a.arithmetic()
	a.agreement()
	a.stack()
	a.shares()
	a.planned()
	a.told()
	for i := range measurers {
		a.measurer(i)
	}
	a.checklist()
	a.list("In the seller’s favour", a.texts(r.Favour))
	a.photos()
	a.notesWritten()
	a.working()
	if !early {
		a.signed()
	}
	a.copies()
	return a.bytes()
}

// An auditPaper is the report of an audit being painted.
type auditPaper struct {
	*paper
	r         audits.Report
	hash      string
	measurers []readOne
	pictures  []audits.Picture
}

// A readOne is what a measurer read and what it struck, read back.
type readOne struct {
	tally  stack.Tally
	struck []stack.Tally
}

// readTallies reads back the readings of all measurers; there is at least one.
func readTallies(r audits.Report) ([]readOne, error) {
	if len(r.Measurers) == 0 {
		return nil, badTally(fmt.Errorf("no measurer has read anything"))
	}
	measurers := make([]readOne, len(r.Measurers))
	for i, h := range r.Measurers {
		var err error
		if measurers[i].tally, err = readTally(h.Tally); err != nil {
			return nil, err
		}
		for _, s := range h.Struck {
			tally, err := readTally(s.Tally)
			if err != nil {
				return nil, err
			}
			measurers[i].struck = append(measurers[i].struck, tally)
		}
	}
	return measurers, nil
}

// head names the case, the sides and the days.
func (a *auditPaper) head() {
	s := a.r.Subject
	facts := []string{
		a.print.Field("Delivered", a.print.Date(s.DeliveredOn)),
		a.print.Field("Closed", a.print.Time(a.r.Issued, a.r.Zone)),
		a.print.Field("Days from delivery to closing", strconv.Itoa(a.r.Days)),
		a.print.Field("Audited by", a.r.ClosedBy),
	}
	if s.Receipt.Number > 0 {
		facts = append(facts, a.print.ReceiptRef(s.Receipt))
	}
	if s.Order > 0 {
		facts = append(facts, a.print.Field("Order", strconv.FormatInt(s.Order, 10)))
	}
	a.letterhead(head{kind: a.print.Heading("Audit"), number: strconv.FormatInt(a.r.Number, 10), facts: facts,
		sides: []side{{"Seller", s.Vendor}, {"Purchaser", s.Purchaser}}})
}

// found is the answer: the result, what limits it, what was sold and what was measured,
// by whom and with what, in whose keeping it is, and the gauge.
func (a *auditPaper) found() {
	a.gap(1.5)
	a.paragraph(headFace(), a.print.Finding(a.r.Result))
	a.paragraph(mainFace(), a.print.AuditOdds(a.r.Result))
	a.paragraph(boldFace(), a.print.AuditCapacity(a.r.Capacity))
	a.gap(1.5)
	a.list("What limits it", a.print.AuditLimits(a.r.Result, a.r.Limits))
	a.list("Dates out of order", a.texts(a.r.Dates))
	a.gap(1.2)
	a.rule(ruleLine)
	a.gap(0.6)
	third := a.inner() / 3
	s := a.r.Subject
	a.columns(a.under(0, third, "Sold", a.print.Quantity(s.Sold)), a.under(1, third, "Measured, as it stood", a.print.Quantity(a.r.Result.Quantity)),
		a.under(2, third, "Give or take, 19 times in 20", a.print.Doubt(a.r.Result)))
	a.gap(1)
	facts := []words.Fact{{Label: a.print.Heading("Wood"), Text: a.print.AuditWood(s)}, {Label: a.print.Heading("Where it is"), Text: a.print.Said(s.Place)}}
	if s.Ordered != nil && *s.Ordered != s.Sold {
		facts = append([]words.Fact{{Label: a.print.Heading("Ordered"), Text: a.print.Quantity(*s.Ordered)}}, facts...)
	}
	if keeper := a.print.AuditKeeper(a.r.Keeper); keeper != "" {
		facts = append(facts, words.Fact{Label: a.print.Heading("Kept by"), Text: keeper})
	}
	a.facts(facts)
	if a.r.Statement != "" {
		a.gap(1)
		a.paragraph(mainFace(), a.print.Field("In the auditor’s words", a.r.Statement))
	}
	a.whoMeasured()
	a.gauge()
}

// whoMeasured is who measured, as what, when, with which tape, what it comes to and
// under which seal.
func (a *auditPaper) whoMeasured() {
	a.gap(1)
	shares := []float64{0.24, 0.25, 0.25, 0.26}
	a.table(labelFace(), shares, a.print.Heading("Measured by"), a.print.Heading("Read"), a.print.Heading("Tape"), a.print.Heading("Measured, and sealed as"))
	for _, m := range a.r.Measurers {
		c := m.Circumstances
		read, tape, name := a.print.Heading("not recorded"), a.print.Heading("not recorded"), m.Name
		if !c.Began.IsZero() {
			read, tape = a.print.Span(c.Began, c.Ended, a.r.Zone), a.print.AuditTapeShort(c)
			name = a.print.Say(measure.Say("%s, %s", m.Name, a.print.Said(c.Role)))
		}
		a.table(noteFace(), shares, name, read, tape, strings.TrimSuffix(a.print.Say(measure.Say("%s; %s", a.print.Quantity(m.Result.Quantity), m.Seal)), "; "))
	}
}

// stack is the stack as the first measurer read it, and why the result is what it is.
func (a *auditPaper) stack() {
	if f := a.r.Result.Finding; f != nil {
		a.list("Why", a.texts(f.Why))
	}
	stack := draw.Stack(a.measurers[0].tally, a.r.Measurers[0].Result, onPaper(a.inner()/2))
	title := measure.Say("%s, as read by %s", stack.Title, a.r.Measurers[0].Name)
	a.heading(a.print.Say(title), max(firstPart(stack)+2, min(mm(stack.Height)/2+10, 60)))
	a.inTwo(stack, title)
}

// gauge holds what was measured against what was sold.
func (a *auditPaper) gauge() {
	if a.r.Result.Finding != nil || a.r.Result.Quantity.Basis == measure.Ranked {
		gauge := draw.Gauge(a.r.Result, onPaper(a.inner()), a.print.GaugeUnit())
		a.heading(a.print.Say(gauge.Title), mm(gauge.Height))
		a.drawing(gauge, a.left(), a.y)
		a.y += mm(gauge.Height)
	}
}

// arithmetic is the other result of the same readings, by an office's procedure or after
// the pattern of a handbook, measurer by measurer beside what the model measured. What is
// the same for all is said once.
func (a *auditPaper) arithmetic() {
	first := a.r.Measurers[0].Procedure
	a.heading(a.print.ProcedureTitle(first.Named != nil), 8*mainFace().lead())
	if first.Named == nil {
		a.paragraph(noteFace(), a.print.Heading("No procedure’s text was read for this: it is arithmetic of this program after the pattern it remembers. It decides nothing here."))
	}
	shares := []float64{0.22, 0.30, 0.26, 0.22}
	a.table(labelFace(), shares, a.print.Heading("Measurer"), a.print.Heading("Measured by the model"), a.print.Heading("By this arithmetic"), a.print.Heading("Against what is due"))
	for _, m := range a.r.Measurers {
		p := m.Procedure
		a.table(mainFace(), shares, m.Name, a.measured(m.Result), a.print.ProcedureVolume(p), a.print.ProcedureError(p))
	}
	if a.r.Together != nil {
		a.table(boldFace(), shares, a.print.Heading("All measurers"), a.measured(a.r.Result), "", "")
	}
	a.gap(1)
	for _, line := range a.print.Lines(a.saidByAll()) {
		a.item(noteFace(), line)
	}
	for _, m := range a.r.Measurers {
		a.procedure(m)
	}
	a.list("How it was applied", a.texts(first.Notes))
}

// saidByAll are the reasons of the procedure's results, each once; what they come to
// stands in the table.
func (a *auditPaper) saidByAll() []measure.Text {
	var all []measure.Text
	told := map[string]bool{}
	for _, m := range a.r.Measurers {
		why := m.Procedure.Why
		if m.Procedure.Error != nil && len(why) > 0 {
			why = why[1:] // the error, in the table
		}
		if m.Procedure.NoResult != nil && len(why) == 0 {
			why = []measure.Text{*m.Procedure.NoResult}
		}
		for _, text := range why {
			if said := a.print.Say(text); !told[said] {
				told[said] = true
				all = append(all, text)
			}
		}
	}
	return all
}

func (a *auditPaper) measured(r stack.Result) string {
	return a.print.Say(measure.Say("%s, give or take %s", r.Quantity, a.print.Doubt(r)))
}

// procedure is what the procedure's result of a measurer rests on, in small type.
func (a *auditPaper) procedure(m audits.Tally) {
	p := m.Procedure
	p.Why, p.Notes = nil, nil // said once for all measurers
	parts := a.print.Procedure(p)
	if p.NoResult != nil || len(parts) == 0 {
		return
	}
	a.need(3 * noteFace().lead())
	a.paragraph(labelFace(), a.print.Say(measure.Say("On the readings of %s", m.Name)))
	for _, part := range parts {
		a.item(noteFace(), a.print.Field(part.Heading, inOne(part.Lines)))
	}
	a.gap(1)
}

// inOne are lines as one text, those that are no sentences set apart by semicolons.
func inOne(lines []string) string {
	var b strings.Builder
	for i, line := range lines {
		switch {
		case i == 0:
		case strings.HasSuffix(lines[i-1], "."):
			b.WriteString(" ")
		default:
			b.WriteString("; ")
		}
		b.WriteString(line)
	}
	return b.String()
}

// agreement holds the measurers against each other.
func (a *auditPaper) agreement() {
	t := a.r.Together
	if t == nil {
		return
	}
	a.heading(a.print.Heading("Do the measurers agree?"), 3*mainFace().lead())
	a.paragraph(mainFace(), a.print.Agreement(*t))
	for _, pair := range t.Pairs {
		a.item(mainFace(), a.print.Apartness(pair, t.Result.Quantity.Basis, a.r.Measurers[pair.First-1].Name, a.r.Measurers[pair.Second-1].Name))
	}
}

// shares are stated shares of species held against pieces counted.
func (a *auditPaper) shares() {
	if a.r.Shares == nil {
		return
	}
	lines := append([]string{a.print.SharesLead(*a.r.Shares)}, a.print.Shares(*a.r.Shares)...)
	a.list("Shares of species", append(lines, a.print.Lines(a.r.Shares.Notes)...))
}

// planned is the plan, its amendments, and where the readings are not as planned.
func (a *auditPaper) planned() {
	a.heading(a.print.Heading("Plan, fixed before measuring"), 6*mainFace().lead())
	for i, plan := range a.r.Plans {
		if i > 0 {
			a.gap(1)
			a.need(4 * mainFace().lead())
			a.paragraph(boldFace(), a.print.Say(measure.Say("Amendment %d", i)))
		}
		a.facts(a.print.AuditPlan(plan, a.r.Zone))
	}
	a.list("Not as planned", a.texts(a.r.Departures))
}

// told is how the seller was told, whether he came, and how the wood was kept.
func (a *auditPaper) told() {
	a.heading(a.print.Heading("Notice, attendance and hold"), 4*mainFace().lead())
	var facts []words.Fact
	add := func(label string, lines []string) {
		facts = append(facts, words.Fact{Label: a.print.Heading(label), Text: strings.Join(lines, "\n")})
	}
	add("Audit opened", []string{a.print.Say(measure.Say("%s, by %s", a.print.Time(a.r.Opened, a.r.Zone), a.r.OpenedBy))})
	for _, n := range a.r.Notices {
		add("Notice", a.print.AuditNotice(n, a.r.Zone))
	}
	for _, t := range a.r.Attendances {
		add("Attendance", a.print.AuditAttendance(t))
	}
	for _, h := range a.r.Holds {
		add("Hold", a.print.AuditHold(h, a.r.Zone))
	}
	a.facts(facts)
}

// measurer is what one measurer read, and what it struck through.
func (a *auditPaper) measurer(i int) {
	h, read := a.r.Measurers[i], a.measurers[i]
	a.heading(a.print.Say(measure.Say("Readings of %s", h.Name)), 8*mainFace().lead())
	for _, line := range a.print.AuditCircumstances(h.Circumstances, a.r.Zone) {
		a.paragraph(noteFace(), line)
	}
	a.paragraph(noteFace(), a.print.Field("Handed in", a.sealed(h.HandedIn, h.Seal)))
	a.paragraph(noteFace(), a.print.AuditOpenings(h.Openings, a.r.Zone))
	a.circumstancesOf(h.Result, read.tally)
	a.readingsOf(read.tally)
	for n, s := range h.Struck {
		a.gap(1.5)
		a.need(6 * mainFace().lead())
		a.paragraph(boldFace(), a.print.Say(measure.Say("Crossed out, %s", h.Name)))
		for _, line := range a.print.AuditCircumstances(s.Circumstances, a.r.Zone) {
			a.paragraph(noteFace(), line)
		}
		a.paragraph(noteFace(), a.print.AuditStruck(s, a.r.Zone))
		a.struck = true
		a.readingsOf(read.struck[n])
		a.struck = false
	}
}

// sealed is when readings were handed in, and under which seal.
func (a *auditPaper) sealed(at time.Time, seal string) string {
	if seal == "" {
		return a.print.Time(at, a.r.Zone)
	}
	return a.print.Say(measure.Say("%s, sealed %s", a.print.Time(at, a.r.Zone), seal))
}

// checklist is every question with its answer.
func (a *auditPaper) checklist() {
	a.heading(a.print.Heading("Checklist"), 4*noteFace().lead())
	widths := []float64{0.48, 0.22, 0.30}
	a.table(labelFace(), widths, a.print.Heading("Question"), a.print.Heading("Answer"), a.print.Heading("Note, and who wrote it"))
	for _, i := range a.r.Checklist {
		note := i.Note
		if i.By != "" {
			note = strings.TrimSpace(note + " " + a.print.Say(measure.Say("(%s)", i.By)))
		}
		a.table(noteFace(), widths, a.print.Say(i.Question), a.print.AuditAnswer(i), note)
	}
}

func (a *auditPaper) notesWritten() {
	lines := make([]string, len(a.r.Notes))
	for i, n := range a.r.Notes {
		lines[i] = a.print.AuditNote(n, a.r.Zone)
	}
	a.list("Notes written before closing", lines)
}

// working is the doubt budget, the words, and what all of it rests on.
func (a *auditPaper) working() {
	a.doubt(a.r.Result, 14)
	notes := append(a.texts(a.r.Result.Notes), a.print.Reasons(a.r.Result)...)
	hinge := a.print.Hinge(a.r.Result) // on page 1
	a.list("Notes on the measuring", slices.DeleteFunc(notes, func(n string) bool { return slices.Contains(hinge, n) }))
	a.heading(a.print.Heading("What the words mean"), 4*noteFace().lead())
	for _, f := range a.print.Glossary() {
		a.item(noteFace(), a.print.Field(f.Label, f.Text))
	}
	lines := append(a.print.ModelSources(), a.print.Rules(a.r.Subject.RuleSet))
	if a.r.Rules != nil {
		lines = append(lines, a.print.AuditSources(*a.r.Rules, a.r.Shares != nil)...)
	}
	a.list("Sources, and how each is known", lines)
	report := []string{a.print.Field("SHA-256 of its data", a.hash)}
	if !a.r.Capacity.Official {
		report = append(report, a.print.NotOfficial(a.r.Model))
	}
	a.list("This report", report)
}

// A signer is somebody who signs, and in what part.
type signer struct{ part, name string }

// signers are who read, who wrote, and the seller.
func (a *auditPaper) signers() []signer {
	var all []signer
	for _, m := range a.r.Measurers {
		all = append(all, signer{"Read by", m.Name})
	}
	part := "Seller, or who came for him"
	if n := len(a.r.Attendances); n > 0 && a.r.Attendances[n-1].Attended != "yes" {
		part = "Seller, if he signs later"
	}
	return append(all, signer{"Written by", a.r.ClosedBy}, signer{part, a.r.Subject.Vendor.Name})
}

// signHeight is a line to sign with what stands under it; signersAcross sign beside each
// other.
const (
	signHeight    = 14.0
	signersAcross = 2
)

// signedIn is the room that signing takes, with its heading.
func signedIn(signers int) float64 { return 3.2 + labelFace().lead() + signedBelow(signers) }

// signedBelow is the room that signing takes below its heading.
func signedBelow(signers int) float64 {
	lines := (signers + signersAcross - 1) / signersAcross
	return 2*noteFace().lead() + float64(lines)*signHeight
}

// signed are the lines that the readers, the writer and the seller sign on, under what
// they sign.
func (a *auditPaper) signed() {
	all := a.signers()
	a.heading(a.print.Heading("Signed"), signedBelow(len(all)))
	a.paragraph(noteFace(), a.print.Heading("Who read signs that the readings under that name are his or hers, taken without seeing what others read."))
	a.sign(all...)
}

// copies are the lines for who got a copy.
func (a *auditPaper) copies() {
	a.heading(a.print.Heading("Copies received"), signHeight)
	a.sign(signer{"Seller", a.r.Subject.Vendor.Name}, signer{"Purchaser", a.r.Subject.Purchaser.Name})
}

// sign are lines to sign on, two beside each other: signature and day, and under them
// the name and in what part.
func (a *auditPaper) sign(all ...signer) {
	width := a.inner() / signersAcross
	for i, s := range all {
		if i%signersAcross == 0 {
			a.need(signHeight)
			a.y += signHeight
		}
		x, y := a.left()+float64(i%signersAcross)*width, a.y-7
		a.line(x, y, x+width*0.66, y, hairline)
		a.writeOn(x+width*0.70, y, width*0.24, "Date")
		lines := a.wrap(noteFace(), a.print.Field(a.print.Heading(s.part), s.name), width*0.66)
		if len(lines) > 2 { // of a name as long as that, the beginning tells whose line it is
			lines = lines[:2]
		}
		for n, line := range lines {
			a.at(x, y+3.2+float64(n)*noteFace().lead(), noteFace(), line)
		}
	}
}

// facts are labels with their texts beside them.
func (a *auditPaper) facts(facts []words.Fact) {
	const label = 48.0
	for _, f := range facts {
		a.columns(column{x: a.left(), lines: a.lines(noteFace(), label-3, f.Label)},
			column{x: a.left() + label, lines: a.lines(mainFace(), a.inner()-label, f.Text)})
	}
}

// table is one line of a table of texts.
func (a *auditPaper) table(f face, shares []float64, texts ...string) {
	cells := make([]cell, len(texts))
	for i, text := range texts {
		cells[i].text = text
	}
	a.row(f, shares, cells...)
}

func (a *auditPaper) texts(texts []measure.Text) []string { return a.print.Lines(texts) }
