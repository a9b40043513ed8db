package receipts

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/cases"
	"wellstowed/receipts/words"
)

// Case paints a buyer's case on one delivery, to be handed to the seller or an office:
// the answer, the pictures and readings of the last tally, what was bought, what the
// ticket holds, what both said, lines to sign on, and what happened when. The same data come out
// as the same bytes all day, since it says how many days ago the wood was delivered. It returns an *act.Error of Kind Invalid that names the field where a
// text can't be printed.
func (p *Painter) Case(f cases.File, paper orders.Paper, made time.Time) ([]byte, error) {
	if err := p.letters.printable(caseTexts(f)); err != nil {
		return nil, err
	}
	if err := p.lawful(orders.RuleSet{Code: f.Set.Code}, saidOfWood(f)...); err != nil {
		return nil, err
	}
	made = noonOf(made, f.Zone)
	w := p.paper(setup{title: measure.Say("A buyer’s case"), paper: paper, units: f.Units, unit: f.Unit, language: f.Language, made: made,
		whose: f.Case.Account.Seller.Name, zone: f.Zone})
	w.caseHead(f, made)
	if err := w.caseAnswer(f); err != nil {
		return nil, err
	}
	w.caseFacts(f)
	w.caseTicket(f)
	w.caseExchange(f)
	w.lay(w.signatures("Shown and received", "Buyer", "Seller or office"))
	w.caseDays(f)
	w.list("Notes", []string{w.print.AdviceSource(), w.print.CaseRules(f)})
	return w.bytes()
}

// noonOf is the noon of an instant's day in a zone; in UTC where that is not known.
func noonOf(t time.Time, zone string) time.Time {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	year, month, day := t.In(place).Date()
	return time.Date(year, month, day, 12, 0, 0, 0, place)
}

func caseTexts(f cases.File) []named {
	a := f.Case.Account
	texts := []named{
		{"seller_name", a.Seller.Name}, {"seller_address", a.Seller.Address}, {"seller_phone", a.Seller.Phone},
		{"buyer_name", a.Buyer.Name}, {"buyer_address", a.Buyer.Address}, {"buyer_phone", a.Buyer.Phone}, {"vehicle", a.Vehicle},
	}
	if a.AsWords {
		texts = append(texts, named{"quantity", a.Words})
	}
	for i, t := range f.Case.Tallies {
		texts = append(texts, named{fmt.Sprintf("tallies[%d].by", i), t.By})
	}
	return append(texts, saidOfWood(f)...)
}

// saidOfWood are the texts where no barred term may stand.
func saidOfWood(f cases.File) []named {
	texts := []named{{"wood", f.Case.Account.Wood}}
	for i, e := range f.Case.Entries {
		texts = append(texts, named{fmt.Sprintf("entries[%d].text", i), e.Text})
	}
	return texts
}

func (w *paper) caseHead(f cases.File, made time.Time) {
	facts := []string{w.print.BuyersOwn(), w.print.Since(f), w.print.Field("Printed", w.print.Day(made, f.Zone))}
	if f.Issued != nil {
		facts = append(facts, w.print.Field("Receipt", strconv.FormatInt(f.Issued.Receipt.Facts.Number, 10)), w.print.Field("Seal", f.Issued.Seal))
	}
	w.letterhead(head{from: &side{"Buyer", f.Case.Account.Buyer}, kind: w.print.Heading("Buyer’s case"), facts: facts, sides: []side{{"Seller", f.Case.Account.Seller}}})
}

// caseAnswer is the last tally: the finding, the pictures and the readings.
func (w *paper) caseAnswer(f cases.File) error {
	latest := f.Case.Latest()
	if latest == nil {
		w.gap(1.5)
		w.paragraph(headFace(), w.print.Heading("Not measured yet."))
		w.noMeasure(f)
		w.list("What comes next", w.print.CaseStep(f).Lines)
		return nil
	}
	tally, err := stack.ParseTally(latest.Document)
	if err != nil {
		return badTally(err)
	}
	w.answer(latest.Result, tally)
	w.noMeasure(f)
	if f.Step == cases.AskAmount {
		step := w.print.CaseStep(f)
		w.list("What comes next", append([]string{step.Lead}, step.Lines...))
	}
	w.pictures(latest.Result, tally, 0, details()[0])
	w.paragraph(mainFace(), w.print.Field("Measured", w.print.Measuring(f, *latest, tally)))
	w.readings(tally)
	return nil
}

// noMeasure says so where wood was sold in words that name no measure.
func (w *paper) noMeasure(f cases.File) {
	if text := w.print.NoMeasure(f); text != "" {
		w.gap(1)
		w.paragraph(mainFace(), text)
	}
}

// caseFacts are what was bought, of whom and how it was paid, in three columns on one page.
func (w *paper) caseFacts(f cases.File) {
	w.lay(w.together(func() {
		w.heading(w.print.Heading("What was bought"), 0)
		w.caseCells(f)
	}))
}

func (w *paper) caseCells(f cases.File) {
	third := w.inner() / 3
	var cells []column
	flush := func() {
		w.columns(cells...)
		cells = nil
	}
	for _, fact := range w.print.CaseFacts(f) {
		if fact.Label == w.print.Heading("Seller") || fact.Label == w.print.Heading("Buyer") {
			continue // they stand at the top
		}
		lines := w.lines(noteFace(), third-4, fact.Label)
		cells = append(cells, column{x: w.left() + float64(len(cells))*third, lines: append(lines, w.lines(boldFace(), third-4, fact.Text)...)})
		if len(cells) == 3 {
			flush()
		}
	}
	flush()
}

// caseTicket is what the rules ask of a ticket, and whether it is there.
func (w *paper) caseTicket(f cases.File) {
	lines := w.print.Ticket(f)
	if len(lines) == 0 {
		w.list("The delivery ticket", []string{w.print.Heading("None was left.")})
		return
	}
	w.heading(w.print.Heading("On the delivery ticket"), 3*noteFace().lead())
	for _, state := range w.print.TicketStates() {
		var names []string
		for _, line := range lines {
			if line.State == state {
				names = append(names, line.Name)
			}
		}
		if len(names) > 0 {
			w.paragraph(noteFace(), w.print.Field(words.Capital(state), strings.Join(names, "; ")))
		}
	}
}

// caseExchange is what both said, or room for the seller's answer.
func (w *paper) caseExchange(f cases.File) {
	w.heading(w.print.Heading("What was said"), 3*mainFace().lead())
	for _, e := range f.Case.Entries {
		w.need(2*mainFace().lead() + labelFace().lead())
		w.gap(0.8)
		w.paragraph(labelFace(), w.print.EntryHead(f, e))
		w.paragraph(mainFace(), strings.TrimSpace(w.print.EntrySays(e)+" "+e.Text))
	}
	if len(f.Case.Entries) == 0 {
		if ready := w.print.ReadyClaim(f); ready != "" {
			w.paragraph(mainFace(), ready)
		}
	}
	if f.Case.Last(cases.Answer) == nil {
		w.need(30)
		w.gap(2)
		w.paragraph(labelFace(), w.print.Heading("The seller’s answer"))
		for range 3 {
			w.y += 8
			w.line(w.left(), w.y, w.right(), w.y, hairline)
		}
	}
}

// caseDays are what happened, day by day.
func (w *paper) caseDays(f cases.File) {
	w.list("Day by day", w.print.CaseDays(f))
}
