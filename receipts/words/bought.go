//go:build !wasm

package words

import (
	"strings"

	"wellstowed/measure/stack"
	"wellstowed/orders/cases"
)

// WhatToDo is what somebody who bought wood does next, one step a line. The case needs to
// say what was bought, or in which words, and no more.
func (p *Printer) WhatToDo(f cases.File, r stack.Result) []string {
	switch {
	case f.Case.Account.AsWords:
		f.Step = cases.AskAmount
		return append(p.CaseStep(f).Lines, p.say("Until then this can be neither short nor full: you know how much is here."))
	case r.Finding == nil && f.Case.Account.Quantity.Volume > 0:
		return []string{p.say("Stack it in rows and measure those: only then can it be held against what was sold. Burn none of it before.")}
	case r.Finding == nil:
		return []string{p.say("Say what you were sold, and the wood is compared with it.")}
	}
	return p.Advice(stack.Buyer, r)
}

// BuyersMessage are sentences for the seller with what was bought and found; they blame
// nobody. The readings follow, one a line.
func (p *Printer) BuyersMessage(f cases.File, r stack.Result, readings []string) string {
	a := f.Case.Account
	lines := []string{p.say("Hello,")}
	switch {
	case a.AsWords:
		lines = append(lines, p.say("You sold me wood as %s.", p.Bought(f)))
	case a.Quantity.Volume > 0:
		lines = append(lines, p.say("You sold me %s.", a.Quantity))
	}
	lines = append(lines, p.found(f, r), "", p.say("My readings:"))
	return strings.Join(append(lines, readings...), "\n")
}

// found says what was measured, and asks for what comes next.
func (p *Printer) found(f cases.File, r stack.Result) string {
	if r.Finding != nil && r.Finding.Word == stack.Short {
		return p.measuredLess(r) + " " + p.askMissing()
	}
	measured := p.say("Measured it is %s, give or take %s.", r.Quantity, p.amount(r.Expanded, r.Quantity.Basis))
	switch {
	case f.Case.Account.AsWords:
		return measured + " " + p.say("Could you write down for me how much it was meant to be?")
	case r.Finding == nil:
		return measured
	case r.Finding.Expectation():
		return measured + " " + p.say("Whether all of it is here can’t be told before it is stacked. I will stack it, measure again and write to you.")
	case r.Finding.Word == stack.Unresolved:
		return measured + " " + p.say("Whether all of it is here can’t be told from this yet. Would you come and measure it with me?")
	}
	return measured + " " + p.say("By these readings nothing is missing.")
}

// measuredLess says how much less than was sold is here.
func (p *Printer) measuredLess(r stack.Result) string {
	return p.say("Stacked and measured it was %s, give or take %s: %s less, which is more than the give or take.",
		r.Quantity, p.amount(r.Expanded, r.Quantity.Basis), p.amount(-r.Finding.Margin, r.Quantity.Basis))
}

func (p *Printer) askMissing() string {
	return p.say("Could you bring what is missing, or come and measure it with me?")
}
