package words

import "wellstowed/measure"

// Finding is the answer in a sentence: the finding where something was sold, else
// the volume and its doubt.
func (p *Printer) Finding(r measure.Result) string {
	f := r.Finding
	if f == nil {
		return p.volumeAnswer(r)
	}
	v, basis := r.Quantity.Volume, r.Quantity.Basis
	switch f.Word {
	case measure.Short:
		return p.say("Short by %s, more than the readings’ doubt.", p.amount(-f.Margin, basis))
	case measure.Unresolved:
		return p.notSettled(r)
	case measure.NoShortage:
		return p.noShortage(f, basis)
	case measure.Full:
		return p.say("Full: %s stand here where %s should, and the readings’ doubt does not change that.",
			p.amount(v, basis), p.main(f.Due, basis))
	}
	return p.expected(r)
}

func (p *Printer) volumeAnswer(r measure.Result) string {
	q := r.Quantity
	if !p.InCords() || q.Basis != measure.Ranked {
		return p.say("%s, give or take %s.", q, p.bareVolume(r.Expanded))
	}
	return p.say("%s (%s), give or take %s.", p.Cords(q.Volume), q.Volume, p.bareCords(r.Expanded, 2))
}

func (p *Printer) notSettled(r measure.Result) string {
	f := r.Finding
	if heldBack(r) {
		return p.say("Not settled: %s less stands here than was sold, but it is not said whether any of the delivery is elsewhere.",
			p.amount(-f.Margin, r.Quantity.Basis))
	}
	due, here := p.apart(f.Due, r.Quantity.Volume, r.Quantity.Basis)
	text := p.say("Not settled: the readings can’t tell %s from %s.", due, here)
	if len(r.Next) == 0 {
		return text
	}
	return p.say("%s %s", text, r.Next[0].Text)
}

// heldBack tells that the readings alone would say short, and only the open
// question of wood kept apart holds it back.
func heldBack(r measure.Result) bool {
	f := r.Finding
	return f != nil && f.Word == measure.Unresolved && !f.Apart.Answered && f.ShortOf() >= f.ShortAbove
}

func (p *Printer) noShortage(f *measure.Finding, basis measure.Basis) string {
	if f.CannotRuleOut == nil || *f.CannotRuleOut <= 0 {
		return p.say("No shortage shown.")
	}
	return p.say("No shortage shown; one of up to %s can’t be ruled out.", p.main(*f.CannotRuleOut, basis))
}

// expected words a finding that only an expectation stands behind.
func (p *Printer) expected(r measure.Result) string {
	f := r.Finding
	if f.Sold.Basis == r.Quantity.Basis {
		return p.expectedLoose(r)
	}
	key := "As expected: %s comes to between %s and %s here, and %s was measured."
	switch f.Word {
	case measure.BelowExpected:
		key = "Below what is expected: %s comes to between %s and %s here, and %s was measured."
	case measure.AboveExpected:
		key = "Above what is expected: %s comes to between %s and %s here, and %s was measured."
	}
	return p.say(key, f.Sold, p.bareVolume(f.ExpectedLow), f.ExpectedHigh, r.Quantity.Volume)
}

// expectedLoose words loose wood held against a loose sale under rules that define
// no loose measure.
func (p *Printer) expectedLoose(r measure.Result) string {
	key := "As expected: %s was sold, and %s was measured, give or take %s."
	switch r.Finding.Word {
	case measure.BelowExpected:
		key = "Below what is expected: %s was sold, and %s was measured, give or take %s."
	case measure.AboveExpected:
		key = "Above what is expected: %s was sold, and %s was measured, give or take %s."
	}
	return p.say(key, r.Finding.Sold, r.Quantity.Volume, r.Expanded)
}
