//go:build !wasm

package words

import (
	"strconv"

	"wellstowed/measure/stack"
	"wellstowed/orders/audits"
)

// Stacked says whether the stack is the one of the check before.
func (p *Printer) Stacked(s stack.Stacked, by stack.Stacker) string {
	switch {
	case s == stack.SameStack:
		return p.say("the same stack, read again")
	case s != stack.StackedAgain:
		return p.say("not said whether it was stacked again")
	case by == "":
		return p.say("stacked again, not said by whom")
	}
	return p.say("stacked again by %s", p.Stacker(by))
}

// Stacker says who stacked wood again.
func (p *Printer) Stacker(by stack.Stacker) string {
	switch by {
	case stack.StackedAsBefore:
		return p.say("whoever stacked it before")
	case stack.Stacker(stack.Buyer):
		return p.say("the buyer")
	case stack.Stacker(stack.Seller):
		return p.say("the seller")
	case stack.Stacker(stack.Inspector):
		return p.say("an inspector")
	case stack.StackedByOther:
		return p.say("somebody else")
	}
	return p.say("not said")
}

// StowingLead says how tightly people stack by the pairs that are kept here.
func (p *Printer) StowingLead(e audits.StowingEvidence) string {
	if e.Share == nil {
		return p.say("Too few to say: %d of the %d pairs that it takes.", e.Counted, e.Enough)
	}
	return p.say("How tightly one person stacks comes out as %s of the volume, one standard uncertainty, from %d pairs.", p.Percent(*e.Share), e.Counted)
}

// StowingAbout are what the pairs are for, and what they don't change.
func (p *Printer) StowingAbout() []string {
	taken := stack.StowingTaken()
	return []string{
		p.say("How tightly wood is stowed is taken as %s of the volume where nobody looked, %s where it was checked and %s where its gaps were counted: this program’s own simulation of stacks, no published source.",
			p.Percent(taken.NotSaid), p.Percent(taken.Checked), p.Percent(taken.Counted)),
		p.say("Each time wood is read again after somebody else stacked it again, the two readings tell of it. They change no result; they show whether the constant holds."),
	}
}

// StowingPair words one pair.
func (p *Printer) StowingPair(pair audits.StowingPair, zone string) string {
	of := p.say("A buyer’s case")
	switch {
	case pair.Audit != 0:
		of = p.say("Audit %s of order %s", strconv.FormatInt(pair.Audit, 10), strconv.FormatInt(pair.Order, 10))
	case pair.Order != 0:
		of = p.say("Order %s", strconv.FormatInt(pair.Order, 10))
	case pair.Receipt != 0:
		of = p.say("The buyer’s case of receipt %s", strconv.FormatInt(pair.Receipt, 10))
	}
	text := p.say("%s, checks %d and %d, %s: %s. It measures %s, ± %s from the readings alone.", of, pair.First, pair.Second, p.Time(pair.At, zone),
		p.Stacked(pair.Stacked, pair.By), p.moreOrLess(pair.Difference), p.Percent(2*pair.Read))
	switch pair.Left {
	case audits.LeftSame:
		text = p.say("%s Not counted: nothing was stacked again.", text)
	case audits.LeftHands:
		text = p.say("%s Not counted: the same person stacked it.", text)
	case audits.LeftUnnamed:
		text = p.say("%s Not counted: it isn’t said who stacked it.", text)
	case audits.LeftApart:
		text = p.say("%s Not counted: it isn’t said that it is all the same wood.", text)
	}
	return text
}

func (p *Printer) moreOrLess(ratio float64) string {
	if ratio < 0 {
		return p.say("%s less", p.Percent(-ratio))
	}
	return p.say("%s more", p.Percent(ratio))
}
