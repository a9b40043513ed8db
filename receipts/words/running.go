package words

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Running is the answer in a few words, to be kept in view while readings are typed:
// what is here of what is due, then the result, so that the figure can't be taken for
// what is missing.
func (p *Printer) Running(r stack.Result) string {
	p = p.sized(r)
	f, q := r.Finding, r.Quantity
	switch {
	case f == nil:
		return strings.TrimSuffix(p.volumeAnswer(r), ".")
	case !f.Expectation():
		return p.say("%s: %s", p.Share(q.Volume, f.Due, q.Basis), p.Word(f.Word))
	case r.Expected != nil && f.Sold.Basis == measure.Ranked:
		return p.say("Once stacked, likely %s", p.likely(r))
	}
	return p.expected(r)
}

// Share words how much is here of how much, the unit said once: "0.33 of 1 cord",
// "1.1 of 0.75 ft³".
func (p *Printer) Share(here, due measure.Volume, basis measure.Basis) string {
	whole, part := p.apart(due, here, basis)
	if basis == measure.Ranked && p.InCords() {
		if n, parts, exact := cordParts(due); exact {
			whole = p.cords(due, mixed(n, parts))
		}
	}
	return p.say("%s of %s", part, whole)
}
