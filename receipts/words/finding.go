package words

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Doubt words the expanded uncertainty of a result.
func (p *Printer) Doubt(r stack.Result) string {
	return p.sized(r).amount(r.Expanded, r.Quantity.Basis)
}

// Finding is the answer in a sentence: the result where something was sold, else the
// volume and its give or take.
func (p *Printer) Finding(r stack.Result) string {
	p = p.sized(r)
	f := r.Finding
	switch {
	case f == nil:
		return p.volumeAnswer(r)
	case f.Word == stack.Short:
		return p.say("Short by %s.", p.amount(-f.Margin, r.Quantity.Basis))
	}
	return p.say("%s: %s.", p.verdict(r), p.clause(r))
}

// Verdict is the answer in two parts: what is said largest, and the sentence below it.
func (p *Printer) Verdict(r stack.Result) (head, rest string) {
	p = p.sized(r)
	return p.verdict(r), capital(p.clause(r)) + "."
}

func capital(text string) string {
	for i, c := range text {
		return strings.ToUpper(string(c)) + text[i+len(string(c)):]
	}
	return ""
}

func (p *Printer) verdict(r stack.Result) string {
	f, q := r.Finding, r.Quantity
	switch {
	case f == nil && q.Basis == measure.Ranked:
		return p.main(q.Volume, q.Basis)
	case f == nil:
		return p.Quantity(q)
	case f.Word == stack.Short:
		return p.say("Short by %s", p.main(-f.Margin, q.Basis))
	case f.Word == stack.Unresolved:
		return p.say("Can’t tell yet")
	case f.Word == stack.NoShortage:
		return p.say("No shortage found")
	case f.Word == stack.Full:
		return p.say("Full")
	case f.Sold.Basis == measure.Loose && q.Basis == measure.Ranked:
		return p.say("Can’t be told from a stack")
	}
	return p.say("Can’t be told until it’s stacked")
}

// clause is what is here of what was sold, and what that shows.
func (p *Printer) clause(r stack.Result) string {
	f, q := r.Finding, r.Quantity
	switch {
	case f == nil && p.InCords() && q.Basis == measure.Ranked:
		return p.say("%s, give or take %s", q.Volume, p.bareVolume(r.Expanded))
	case f == nil:
		return p.say("give or take %s", r.Expanded)
	case f.Word == stack.Short:
		return p.say("%s is here, %s less", p.Share(q.Volume, f.Due, q.Basis), -f.Margin)
	case f.Word == stack.Unresolved:
		return p.unresolved(r)
	case f.Word == stack.NoShortage && f.CannotRuleOut != nil && *f.CannotRuleOut > 0:
		return p.say("%s is here; a shortage of up to %s can’t be ruled out", p.Share(q.Volume, f.Due, q.Basis), p.main(*f.CannotRuleOut, q.Basis))
	case f.Word == stack.NoShortage, f.Word == stack.Full:
		return p.say("%s is here", p.Share(q.Volume, f.Due, q.Basis))
	}
	return p.expected(r)
}

func (p *Printer) volumeAnswer(r stack.Result) string {
	q := r.Quantity
	if !p.InCords() || q.Basis != measure.Ranked {
		return p.say("%s, give or take %s.", q, p.bareVolume(r.Expanded))
	}
	return p.say("%s (%s), give or take %s.", p.Cords(q.Volume), q.Volume, p.bareCords(r.Expanded, 2))
}

// unresolved says what is missing by the readings and what holds short back, the first
// thing first; where nothing does, that the readings are too coarse.
func (p *Printer) unresolved(r stack.Result) string {
	f, basis := r.Finding, r.Quantity.Basis
	if key := holdKey(firstHold(r)); key != "" {
		return p.say("%s is missing by these readings, %s", p.main(-f.Margin, basis), p.say(key))
	}
	return p.say("%s is here, and the readings can’t tell that from enough", p.Share(r.Quantity.Volume, f.Due, basis))
}

// firstHold is what holds short back, first of all; empty where nothing does. Results
// of model 1 knew one hold and kept it in no list.
func firstHold(r stack.Result) stack.Hold {
	f := r.Finding
	switch {
	case f == nil || f.Word != stack.Unresolved:
		return ""
	case len(f.HeldBack) > 0:
		return f.HeldBack[0]
	case !f.Apart.Answered && f.ShortOf() >= f.ShortAbove:
		return stack.HeldByApart
	}
	return ""
}

// holdKey says in the second half of a sentence what holds short back.
func holdKey(by stack.Hold) string {
	switch by {
	case stack.HeldByApart:
		return "but nobody said whether any of this delivery is somewhere else"
	case stack.HeldByUse:
		return "but some of this delivery was used, and nobody said how much"
	case stack.HeldByPieces:
		return "but too few pieces were measured to call it short"
	case stack.HeldByHeights:
		return "but the heights that were read can’t carry that"
	case stack.HeldByPhoto:
		return "but the photo can’t carry that"
	case stack.HeldByRounding:
		return "but the way the readings were rounded could hide that much"
	case stack.HeldByCribs:
		return "but the criss-cross ends could make up for it"
	case stack.HeldByMoving:
		return "but the wood was moved, and the seller hasn’t seen it since"
	case stack.HeldByFaces:
		return "but nobody read or saw the back of the stack"
	case stack.HeldByTape:
		return "but no tape was checked"
	case stack.HeldByNotice:
		return "but the seller wasn’t told"
	case stack.HeldByKind:
		return "but wood that lies like this can’t be called short"
	}
	return ""
}

// expected words a finding that only an expectation stands behind: it clears nobody and
// accuses nobody.
func (p *Printer) expected(r stack.Result) string {
	f, q := r.Finding, r.Quantity
	switch {
	case r.Expected != nil && f.Sold.Basis == measure.Ranked:
		return p.say("likely %s", p.likely(r))
	case f.Sold.Basis != q.Basis:
		return p.say("%s was sold, which is likely %s to %s stacked, and %s is here",
			f.Sold, p.bareVolume(f.ExpectedLow), f.ExpectedHigh, q.Volume)
	}
	return p.say("%s of %s is here as it lies, give or take %s",
		p.bareVolume(q.Volume), measure.Quantity{Volume: f.Due, Basis: f.Sold.Basis}, p.bareVolume(r.Expanded))
}

// likely is what wood is likely to be once it is stacked, of what is due: "0.78 to 0.94
// of the 1 cord".
func (p *Printer) likely(r stack.Result) string {
	number := p.bareVolume
	if p.InCords() {
		number = func(v measure.Volume) string { return p.bareCords(v, 2) }
	}
	return p.say("%s to %s of the %s", number(r.Expected.Low), number(r.Expected.High), p.due(r.Finding.Due))
}

// usual says what was sold takes up as it lies, where that is known, and what is here.
func (p *Printer) usual(r stack.Result) string {
	f := r.Finding
	if r.Expected == nil || f == nil || f.Sold.Basis != measure.Ranked || !f.Expectation() {
		return ""
	}
	key := "%s put in like this usually takes up %s to %s, and %s is here, give or take %s."
	switch f.Word {
	case stack.BelowExpected:
		key = "That is low: %s put in like this usually takes up %s to %s, and %s is here, give or take %s."
	case stack.AboveExpected:
		key = "That is high: %s put in like this usually takes up %s to %s, and %s is here, give or take %s."
	}
	return p.say(key, p.due(f.Due), p.bareVolume(f.ExpectedLow), f.ExpectedHigh, r.Quantity.Volume, p.bareVolume(r.Expanded))
}

// Sure says in one plain sentence how sure a result is.
func (p *Printer) Sure(r stack.Result) string {
	p = p.sized(r)
	v, basis := r.Quantity.Volume, r.Quantity.Basis
	if v <= 0 {
		return ""
	}
	high, low := p.apart(v+r.Expanded, max(v-r.Expanded, 0), basis)
	return p.say("How sure is this? 19 times in 20, wood that measures like this is between %s and %s.", low, high)
}
