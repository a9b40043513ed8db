package words

import (
	"slices"
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Advice is what a party can do about a result, one sentence a line, the first
// step first. There is none where nothing was sold or the party was not said.
func (p *Printer) Advice(party stack.Party, r stack.Result) []string {
	if r.Finding == nil {
		return nil
	}
	p = p.sized(r)
	switch party {
	case stack.Seller:
		return p.sellerAdvice(r)
	case stack.Buyer:
		return p.buyerAdvice(r)
	case stack.Inspector:
		return p.inspectorAdvice(r)
	}
	return nil
}

func (p *Printer) sellerAdvice(r stack.Result) []string {
	f, basis := r.Finding, r.Quantity.Basis
	switch {
	case f.Expectation():
		return p.stackIt(r, p.say("Nobody can say from this that more is due. Stack it, then measure the rows."))
	case f.Word == stack.Full:
		return []string{p.say("By these readings nothing more is due.")}
	}
	var steps []string
	if f.Word != stack.Short {
		steps = p.nextSteps(r, 1)
	}
	if more := f.Due - f.FullBelow; more > 0 {
		steps = append(steps, p.say("About %s more, stowed in the same rows, would make it full.", p.amount(more, basis)))
	}
	if f.Word == stack.Short {
		steps = append(steps, p.say("Or agree with the buyer on a price for what is here."))
	}
	return steps
}

// stackIt is the next step of wood that can't be told as it lies.
func (p *Printer) stackIt(r stack.Result, otherwise string) []string {
	for _, a := range r.Next {
		if a.Code == "stack" {
			return []string{p.Say(a.Text)}
		}
	}
	return []string{otherwise}
}

func (p *Printer) buyerAdvice(r stack.Result) []string {
	switch r.Finding.Word {
	case stack.Full:
		return []string{p.say("By these readings you have what was sold.")}
	case stack.Short:
		return []string{
			p.say("Speak to the seller first, with the receipt and these readings."),
			p.say("Keep this wood apart from other wood and burn none of it until it is settled."),
			p.say("If you can’t agree, ask the weights and measures office of your county or state."),
		}
	}
	if r.Finding.Expectation() {
		return p.stackIt(r, p.say("Nobody can say from this that wood is missing. Stack it, burn none of it, then measure the rows."))
	}
	return p.nextSteps(r, 2)
}

func (p *Printer) inspectorAdvice(r stack.Result) []string {
	label := p.say("This is the result of this program’s model %d, not an official result: the procedure of your office decides.", r.Model)
	var lines []string
	if odds := p.Odds(r); odds != "" {
		lines = append(lines, odds)
	}
	if lines = append(lines, label); r.Finding.Expectation() {
		return lines
	}
	return append(lines, p.nextSteps(r, 1)...)
}

// Odds says what P is, in the one way it is said everywhere, beside a result that it
// explains; empty beside any other.
func (p *Printer) Odds(r stack.Result) string {
	f := r.Finding
	if f == nil || f.Word != stack.Short && (f.Word != stack.Unresolved || f.Probability <= f.Alpha) {
		return ""
	}
	return p.say("P %s: %s. It is held against α = %s, of check %d.",
		p.odds(f.Probability), p.WhatPIs(), strconv.FormatFloat(f.Alpha, 'g', -1, 64), f.Look)
}

// WhatPIs says what P is, the same wherever it is said.
func (p *Printer) WhatPIs() string {
	return p.say("how often readings this low would come from a stack that holds all that is due, by this model")
}

// odds words a probability: never as 0 or 1, which readings cannot show.
func (p *Printer) odds(probability float64) string {
	const least = 0.0001
	switch {
	case probability < least:
		return p.say("< %s", p.decimal(least, 4))
	case probability > 1-least:
		return p.say("> %s", p.decimal(1-least, 4))
	}
	return p.say("= %s", p.decimal(probability, 4))
}

// nextSteps are the first few actions worth doing, with the give or take after each.
// Results of model 1 don't list the answer that held them back, which comes first.
func (p *Printer) nextSteps(r stack.Result, most int) []string {
	var steps []string
	if firstHold(r) == stack.HeldByApart && (len(r.Next) == 0 || r.Next[0].Code != "apart") {
		steps = append(steps, p.say("Say how much of this delivery is not in this stack, or that none is."))
	}
	for _, action := range r.Next[:min(most, len(r.Next))] {
		steps = append(steps, p.Next(action, r))
	}
	return steps
}

// Next words an action and the give or take that would be left after it.
func (p *Printer) Next(a stack.Action, r stack.Result) string {
	if a.After >= r.Expanded {
		return p.Say(a.Text)
	}
	return p.say("%s Give or take %s then.", a.Text, p.sized(r).amount(a.After, r.Quantity.Basis))
}

// Questions are what was asked about readings that are hardly meant as they stand, and
// whether that was answered.
func (p *Printer) Questions(r stack.Result) []string {
	lines := make([]string, len(r.Questions))
	for i, q := range r.Questions {
		answer := "%s Not answered."
		if q.Confirmed {
			answer = "%s Answered: yes, it is as it was read."
		}
		lines[i] = p.say(answer, p.Question(r, q))
	}
	return lines
}

// Question is one question about a reading, in words that name the reading exactly.
func (p *Printer) Question(r stack.Result, q stack.Question) string {
	text := measure.Text{Key: q.Text.Key, Args: slices.Clone(q.Text.Args)}
	for i, arg := range text.Args {
		if l, ok := arg.(measure.Length); ok && l == q.Reading {
			text.Args[i] = p.exact(l)
		}
	}
	return p.sized(r).Say(text)
}

// exact words a length as usual, or as a tape shows it where that would round it.
func (p *Printer) exact(l measure.Length) string {
	usual := p.Length(l)
	if read, err := measure.ParseLength(usual); err == nil && read == l {
		return usual
	}
	return p.Reading(l)
}

func acrossBases(r stack.Result) bool {
	return r.Finding.Expectation()
}
