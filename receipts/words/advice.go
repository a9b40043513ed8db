package words

import (
	"strconv"

	"wellstowed/measure"
)

// Advice is what a party can do about a result, one sentence a line, the first
// step first. There is none where nothing was sold or the party was not said.
func (p *Printer) Advice(party measure.Party, r measure.Result) []string {
	if r.Finding == nil {
		return nil
	}
	switch party {
	case measure.Seller:
		return p.sellerAdvice(r)
	case measure.Buyer:
		return p.buyerAdvice(r)
	case measure.Inspector:
		return p.inspectorAdvice(r)
	}
	return nil
}

func (p *Printer) sellerAdvice(r measure.Result) []string {
	f, basis := r.Finding, r.Quantity.Basis
	switch {
	case acrossBases(r):
		return []string{p.expectation(r, p.say("This holds wood taken on one basis against another: it can’t show that more is owed."))}
	case f.Word == measure.Full:
		return []string{p.say("By these readings nothing more is owed.")}
	}
	var steps []string
	if heldBack(r) {
		steps = append(steps, p.askApart())
	}
	if more := f.Due - f.FullBelow; more > 0 {
		steps = append(steps, p.say("About %s more, stowed in the same rows, would make it full.", p.amount(more, basis)))
	}
	if f.Word == measure.Short {
		return append(steps, p.say("Or agree with the buyer on a price for what is here."))
	}
	return append(steps, p.nextSteps(r, 1)...)
}

// expectation says what an expectation cannot show: across, or of loose wood that no
// rule measures.
func (p *Printer) expectation(r measure.Result, across string) string {
	if r.Finding.Sold.Basis != r.Quantity.Basis {
		return across
	}
	return p.say("No rule of this sale says how loose wood is measured: this can show neither short nor full. Rank it, then measure.")
}

func (p *Printer) buyerAdvice(r measure.Result) []string {
	switch {
	case acrossBases(r):
		return []string{p.expectation(r, p.say("This holds wood taken on one basis against another: it can show neither short nor full."))}
	case r.Finding.Word == measure.Full:
		return []string{p.say("By these readings you have what was sold.")}
	case r.Finding.Word == measure.Short:
		return []string{
			p.say("Speak to the seller first, with the receipt and these readings."),
			p.say("Keep this wood apart from other wood and burn none of it until it is settled."),
			p.say("If you can’t agree, ask the weights and measures office of your county or state."),
		}
	case heldBack(r):
		return append([]string{p.askApart()}, p.nextSteps(r, 1)...)
	}
	return p.nextSteps(r, 2)
}

func (p *Printer) inspectorAdvice(r measure.Result) []string {
	label := p.say("This is the result of this program’s model %d, not an official finding: the procedure of your office decides.", r.Model)
	if acrossBases(r) {
		return []string{label}
	}
	lines := []string{
		p.say("P %s: the chance, by this model, that what was sold stands here. α = %s at look %d.",
			p.odds(r.Finding.Probability), strconv.FormatFloat(r.Finding.Alpha, 'g', -1, 64), r.Finding.Look),
		label,
	}
	if heldBack(r) {
		lines = append(lines, p.askApart())
	}
	return lines
}

func (p *Printer) askApart() string {
	return p.say("Say how much of the delivery is not in the stack, or that none is.")
}

// nextSteps are the first few actions worth doing, with the doubt after each.
func (p *Printer) nextSteps(r measure.Result, most int) []string {
	var steps []string
	for _, action := range r.Next[:min(most, len(r.Next))] {
		steps = append(steps, p.Next(action, r.Quantity.Basis))
	}
	return steps
}

// Next words an action and the doubt that would be left after it.
func (p *Printer) Next(a measure.Action, basis measure.Basis) string {
	return p.say("%s Doubt then: give or take %s.", a.Text, p.amount(a.After, basis))
}

func acrossBases(r measure.Result) bool {
	return r.Finding.Expectation()
}
