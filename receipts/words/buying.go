//go:build !wasm

package words

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// A BuyingPart is one part of what a buyer of wood looks to.
type BuyingPart struct {
	Heading string   `json:"heading"`
	Lines   []string `json:"lines"`
}

// Buying is what a buyer looks to, in the order it comes: before paying, at the
// truck, paying, and after. What the ticket must hold is apart, in TicketFields.
func (p *Printer) Buying(set rules.Set) []BuyingPart {
	one := p.Quantity(p.oneOf(set))
	return []BuyingPart{
		{p.say("Before you pay"), []string{
			p.say("Agree on the quantity in a measure that these rules know, such as %s. Other words for an amount have no fixed size.", one),
			p.say("Take down the seller’s name, address and phone number."),
			p.say("Pay for nothing that is not there. When the wood comes in several deliveries, pay for each."),
		}},
		{p.say("At the truck"), []string{
			p.say("Be there when it comes."),
			p.say("Look at the wood on the vehicle before it is tipped: read the length and width inside, and how high the wood is. Thrown in, it takes more room than it will in rows, so this is a rough check and shows no shortage."),
			p.say("Photograph the vehicle with its plate, and the wood on it."),
			p.say("Look whether it is the kind of wood that was agreed, the piece length, and as dry as was said."),
		}},
		{p.say("Paying"), []string{
			p.say("A cheque can be shown later, and stopped. Write on it what it pays for: “%s”.", p.rankedWords(p.oneOf(set))),
			p.say("Paid in any other way, have the same words on the ticket."),
		}},
		{p.say("After"), []string{
			p.say("Stack it at once, apart from other wood."),
			p.say("Pieces parallel and touching, compactly, and none laid criss-cross: that makes a stack look larger than it is."),
			p.say("Burn none and move none until it is measured."),
			p.say("Measure the rows, their heights and a few pieces, and write the readings down with the day."),
			p.say("Photograph the stack with the tape on it."),
		}},
		{p.say("If it seems short"), []string{
			p.say("Speak to the seller first, with the ticket and your readings."),
			p.say("If you can’t agree, ask the weights and measures office of your county or state. Leave the wood stacked, unburned and unmoved until it has been measured."),
		}},
	}
}

// rankedWords are what a cheque says of a quantity of ranked wood, how it lies said once.
func (p *Printer) rankedWords(q measure.Quantity) string {
	if !p.InCords() {
		return p.say("%s, ranked and well stowed", q.Volume)
	}
	return p.say("%s, ranked and well stowed", p.Quantity(q))
}

// oneOf is the quantity to give as an example under a rule set: 128 ft³, as it is
// sold there.
func (p *Printer) oneOf(set rules.Set) measure.Quantity {
	if p.InMetres() {
		return measure.Quantity{Volume: 3 * measure.CubicMetre, Basis: measure.Ranked}
	}
	return set.Round(measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, p.metric())
}

// TicketFields are what the ticket must hold under a rule set, or had better hold, with
// where each comes from. When they are asked for is apart, in TicketConditions.
func (p *Printer) TicketFields(set rules.Set) []Rule {
	var list []Rule
	for _, f := range set.Required {
		name := p.say(f.Name)
		if f.Advice {
			name = p.say("%s (advised)", name)
		}
		list = append(list, Rule{name, p.Mark(f.Known)})
	}
	return list
}

// TicketConditions say of the fields that are not asked for on every ticket when they
// are, a line for each condition.
func (p *Printer) TicketConditions(set rules.Set) []string {
	var conditions []string
	names := map[string][]string{}
	asked := 0
	for _, f := range set.Required {
		if f.Advice {
			continue
		}
		asked++
		if f.When == nil {
			continue
		}
		when := p.say(f.When.Words)
		if names[when] == nil {
			conditions = append(conditions, when)
		}
		names[when] = append(names[when], p.say(f.Name))
	}
	for i, when := range conditions {
		what := strings.Join(names[when], "; ")
		if len(names[when]) == asked {
			what = p.say("all that is not just advised")
		}
		conditions[i] = p.say("Only %s: %s.", when, what)
	}
	return conditions
}

// TicketSources are the sources of a set's required fields, each once: one that another
// goes on from is left out, and those that differ in one paragraph's letter are said
// together, "section 2.4.5(a), (b), (c)".
func (p *Printer) TicketSources(set rules.Set) []string {
	var sources []string
	for _, f := range set.Required {
		sources = addSource(sources, p.Mark(f.Known))
	}
	return sources
}

// addSource adds a source to others, within one of them where that says as much.
func addSource(sources []string, next string) []string {
	for i, s := range sources {
		switch {
		case s == next, goesOn(next, s):
			return sources
		case goesOn(s, next):
			sources[i] = next
			return sources
		}
		if both, ok := lettered(s, next); ok {
			sources[i] = both
			return sources
		}
	}
	return append(sources, next)
}

// goesOn tells whether a source is said in full by another that says more of it.
func goesOn(s, longer string) bool {
	return strings.HasPrefix(longer, s+":") || strings.HasPrefix(longer, s+";")
}

// lettered says two sources together that differ in one letter in brackets: the last of
// some in the first source, and the only one in the second. A letter that is there already is said once.
func lettered(s, next string) (both string, ok bool) {
	at := 0
	for at < min(len(s), len(next)) && s[at] == next[at] {
		at++
	}
	if at == 0 || at+1 >= len(next) || next[at-1] != '(' || next[at+1] != ')' {
		return "", false
	}
	head, letter, tail := next[:at], next[at:at+2], next[at+2:]
	said, isSame := strings.CutSuffix(strings.TrimPrefix(s, head), tail)
	if !isSame || !onlyLetters(said) {
		return "", false
	}
	if slices.Contains(strings.Split(said, ", ("), letter) {
		return s, true
	}
	return head + said + ", (" + letter + tail, true
}

// onlyLetters tells whether a text is "a)" or "a), (b)" and so on.
func onlyLetters(text string) bool {
	for _, part := range strings.Split(text, ", (") {
		if len(part) != 2 || part[1] != ')' {
			return false
		}
	}
	return true
}

// AdviceSource says whose advice to buyers this is, and how it is known.
func (p *Printer) AdviceSource() string {
	return p.say("As weights and measures offices tell buyers: New Hampshire (2014; UNH Extension 2019), Arizona, Maine, Massachusetts, the California counties of Fresno, Yuba, Mariposa, Amador and San Bernardino, NIST and NCWM, and Measurement Canada. Read in copies of their texts. Your own office may say otherwise.")
}
