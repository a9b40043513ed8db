package words

import (
	"strings"

	"wellstowed/measure"
)

// Running is the answer in a few words, to be kept in view while readings are typed:
// what is here of what is due, then the result, so that the figure can't be taken for
// what is missing.
func (p *Printer) Running(r measure.Result) string {
	f, q := r.Finding, r.Quantity
	if f == nil {
		return strings.TrimSuffix(p.volumeAnswer(r), ".")
	}
	if f.Expectation() {
		return p.say("%s, give or take %s: %s", q, p.bareVolume(r.Expanded), p.Word(f.Word))
	}
	return p.say("%s: %s", p.Share(q.Volume, f.Due, q.Basis), p.Word(f.Word))
}

// Share words how much is here of how much, the unit said once: "0.33 of 1 cord",
// "1.1 of 0.75 ft³".
func (p *Printer) Share(here, due measure.Volume, basis measure.Basis) string {
	whole, part := p.apart(due, here, basis)
	if n, parts, exact := cordParts(due); exact && p.InCords() && basis == measure.Ranked {
		whole = p.cords(due, mixed(n, parts))
	}
	return p.say("%s of %s", part, whole)
}
