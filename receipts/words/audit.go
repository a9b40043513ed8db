//go:build !wasm

package words

import (
	"strconv"
	"strings"
	"time"

	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

// AuditCapacity says in one line what weight the report of an audit has.
func (p *Printer) AuditCapacity(c audits.Capacity) string {
	switch {
	case !c.Official:
		return p.Volunteer()
	case c.Badge == "":
		return p.say("Official measurement: %s.", p.Said(c.Office))
	}
	return p.say("Official measurement: %s, badge or commission %s.", p.Said(c.Office), c.Badge)
}

// AuditOdds says what the finding's word was decided on; empty where there is none or
// nothing was decided.
func (p *Printer) AuditOdds(r stack.Result) string {
	f := r.Finding
	switch {
	case f == nil:
		return p.say("No result: the measurers don’t agree, and their mean is held against nothing.")
	case acrossBases(r):
		return p.say("The sale and the stack are two measures, so there is no P: only what is expected.")
	}
	return p.Odds(r)
}

// AuditWood says what the wood was sold as.
func (p *Printer) AuditWood(s audits.Subject) string {
	text := p.Said(s.Species)
	if s.PieceLength > 0 {
		text = p.say("%s, %s pieces", text, s.PieceLength)
	}
	if s.Seasoning != "" {
		text = p.say("%s; %s", text, p.Stated(p.Seasoning(s.Seasoning)))
	}
	return text
}

// AuditNotice says how the seller was told.
func (p *Printer) AuditNotice(n audits.Notice, zone string) []string {
	lines := []string{p.say("Seller not told. Recorded %s", p.Time(n.Written, zone))}
	if n.By != "" {
		lines[0] = p.say("%s by %s", lines[0], n.By)
	}
	if n.How != "" {
		lines[0] = p.say("Seller told %s by %s, %s", p.say(n.How), n.By, p.timeOr(n.When, zone))
	}
	if !n.Appointed.IsZero() {
		lines = append(lines, p.say("Asked to come %s", p.Time(n.Appointed, zone)))
	}
	return appendSaid(lines, n.Note)
}

// AuditAttendance says whether the seller came.
func (p *Printer) AuditAttendance(a audits.Attendance) []string {
	var line string
	switch {
	case a.Attended == "yes" && a.Who == "":
		line = p.say("The seller came.")
	case a.Attended == "yes":
		line = p.say("Came for the seller: %s.", a.Who)
	case a.Attended == "declined":
		line = p.say("The seller declined to come.")
	default:
		line = p.say("The seller did not come.")
	}
	return appendSaid([]string{line}, a.Note)
}

// AuditHold says whether the wood was kept unmoved, and what of the delivery is
// elsewhere.
func (p *Printer) AuditHold(h audits.Hold, zone string) []string {
	line := p.say("Kept unmoved since %s; %s is responsible for it.", p.timeOr(h.Since, zone), p.Said(h.By))
	switch {
	case h.Used:
		line = p.say("Some was used since %s; %s is responsible for it.", p.timeOr(h.Since, zone), p.Said(h.By))
	case h.Broken:
		line = p.say("Moved since %s; %s is responsible for it.", p.timeOr(h.Since, zone), p.Said(h.By))
	}
	if h.StackedBy != "" {
		line = p.say("%s It was %s.", line, p.Stacked(stack.StackedAgain, h.StackedBy))
	}
	return appendSaid([]string{line, p.say("Of this delivery, not in the stack: %s.", p.Apart(h.Apart))}, h.Note)
}

func appendSaid(lines []string, note string) []string {
	if note == "" {
		return lines
	}
	return append(lines, note)
}

func (p *Printer) timeOr(t time.Time, zone string) string {
	if t.IsZero() {
		return p.say("at a time not said")
	}
	return p.Time(t, zone)
}

// AuditPlan words a plan, and why it took the place of the one before.
func (p *Printer) AuditPlan(plan audits.Plan, zone string) []Fact {
	facts := []Fact{
		{p.say("Measurers"), strconv.Itoa(plan.Measurers)},
		{p.say("Heights in each row, on each face read"), p.numberOr(plan.Stations)},
		{p.say("Lengths of each row, at different heights"), p.numberOr(plan.Lengths)},
		{p.say("Pieces to tape"), strconv.Itoa(plan.Pieces)},
		{p.say("Smallest mark of the tape"), p.ForTape(plan.Tape).Reading(plan.Tape)},
		{p.say("Top of the wood"), p.Top(plan.Top)},
		{p.say("Faces read"), p.say(string(plan.Faces))},
		{p.say("Measuring ends"), p.Said(plan.Stop)},
		{p.say("Check"), strconv.Itoa(plan.Look)},
		{p.say("Fixed"), p.say("%s, by %s", p.Time(plan.Fixed, zone), plan.By)},
	}
	if plan.Reason != "" {
		facts = append(facts, Fact{p.say("Why it was changed"), plan.Reason})
	}
	return facts
}

func (p *Printer) numberOr(n int) string {
	if n == 0 {
		return p.say("none")
	}
	return strconv.Itoa(n)
}

// AuditAnswer words an answer on the checklist.
func (p *Printer) AuditAnswer(i audits.Item) string {
	switch {
	case i.Answer == "":
		return p.say("no answer")
	case i.Filled:
		return p.say("%s, off the receipt", p.say(string(i.Answer)))
	}
	return p.say(string(i.Answer))
}

// AuditStruck says when and why readings were crossed out, and what they had come to.
func (p *Printer) AuditStruck(s audits.StruckTally, zone string) string {
	handed := p.Time(s.HandedIn, zone)
	if s.Seal != "" {
		handed = p.say("%s, sealed %s,", handed, s.Seal)
	}
	return p.say("Handed in %s and crossed out %s. Why: %s. They gave %s.",
		handed, p.Time(s.Struck, zone), p.Said(strings.TrimRight(s.Reason, ". ")), s.Volume)
}

// AuditCircumstances says when, as what and with which tape somebody read; nil where that
// was not asked.
func (p *Printer) AuditCircumstances(c audits.Circumstances, zone string) []string {
	if c.Began.IsZero() {
		return nil
	}
	return []string{
		p.say("Read from %s to %s, as %s.", p.Time(c.Began, zone), p.Time(c.Ended, zone), p.Said(c.Role)),
		p.AuditTape(c),
	}
}

// AuditTape names a tape and says whether it was checked.
func (p *Printer) AuditTape(c audits.Circumstances) string {
	tape := p.say("Tape: maker %s, number %s", p.Said(c.TapeMaker), p.Said(c.TapeNumber))
	if c.CheckedOn.IsZero() {
		return p.say("%s, not checked.", tape)
	}
	return p.say("%s, checked on %s against %s.", tape, p.Date(c.CheckedOn), p.Said(c.CheckedBy))
}

// AuditTapeShort names a tape in a few words, and says whether it was checked.
func (p *Printer) AuditTapeShort(c audits.Circumstances) string {
	if c.CheckedOn.IsZero() {
		return p.say("%s, no. %s; not checked", p.Said(c.TapeMaker), p.Said(c.TapeNumber))
	}
	return p.say("%s, no. %s; checked %s", p.Said(c.TapeMaker), p.Said(c.TapeNumber), p.Date(c.CheckedOn))
}

// Span says from when to when, the day once where both are of one day.
func (p *Printer) Span(from, to time.Time, zone string) string {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	a, b := from.In(place), to.In(place)
	if act.DateOf(a) != act.DateOf(b) {
		return p.say("%s to %s", p.Time(from, zone), p.Time(to, zone))
	}
	return p.say("%s, %s to %s", p.Date(act.DateOf(a)), a.Format("15:04"), b.Format("15:04"))
}

// AuditOpenings says when a measurer's links were opened.
func (p *Printer) AuditOpenings(openings []audits.LinkOpening, zone string) string {
	if len(openings) == 0 {
		return p.say("Link not opened yet.")
	}
	times := make([]string, len(openings))
	for i, o := range openings {
		times[i] = p.Time(o.At, zone)
		if o.Link > 1 {
			times[i] = p.say("%s (link %d)", times[i], o.Link)
		}
	}
	return p.say("Link opened %s.", strings.Join(times, "; "))
}

// AuditNote words a note on an audit.
func (p *Printer) AuditNote(n audits.Note, zone string) string {
	line := p.say("%s, by %s: %s", p.Time(n.Written, zone), n.By, n.Text)
	if n.Text == "" {
		line = p.say("%s, by %s.", p.Time(n.Written, zone), n.By)
	}
	switch n.Kind {
	case audits.SellerAnswer:
		return p.say("Answer of %s. %s", p.Said(n.Who), line)
	case audits.CopyGiven:
		return p.say("Copy given to %s. %s", p.Said(n.Who), line)
	}
	return line
}

// Glossary says what the words of an audit's report mean.
func (p *Printer) Glossary() []Fact {
	return []Fact{
		{p.say("Ranked and well stowed"), p.say("pieces side by side, parallel and touching, stacked close; nothing criss-cross.")},
		{p.say("Give or take"), p.say("how far the measured volume may be off either way. The true volume lies inside it 95 times in 100.")},
		{p.say("P"), p.say("%s. Near 0, a shortage; near 1, all of it is here.", p.WhatPIs())},
		{p.say("Check"), p.say("how often this delivery was measured before, and once more. From the second check on, P has to be lower to say short.")},
		{p.say("Short"), p.say("less is here than is due, by more than the give or take.")},
		{p.say("Can’t tell yet"), p.say("less was measured than is due, but the readings or the evidence can’t carry more.")},
		{p.say("No shortage found"), p.say("at least what is due was measured; a small shortage can’t be ruled out.")},
		{p.say("Full"), p.say("what is due is here, with little room to be wrong.")},
		{p.say("Arithmetic after the handbook’s pattern"), p.say("fixed rounding, least counts, and a tolerance where one is stated, as this program remembers them of a handbook for inspectors. It has no give or take of its own.")},
		{p.say("Measurer"), p.say("somebody who measured without seeing what the others read.")},
	}
}

// ModelSources are what the volume, its doubt and the finding rest on.
func (p *Printer) ModelSources() []string {
	return []string{
		p.say("Volume and uncertainty: JCGM 100:2008. Result: JCGM 106:2012."),
	}
}
