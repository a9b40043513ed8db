//go:build !wasm

package words

import (
	"wellstowed/measure/series"
)

// SeriesLead says in one sentence what several audits of a seller come to.
func (p *Printer) SeriesLead(s series.Series) string {
	switch {
	case s.Count == 0:
		return p.say("No audits.")
	case s.Count == 1:
		return p.say("One audit: too few to say what is usual.")
	case s.Low == nil:
		return p.say("%d audits: too few to say what is usual.", s.Count)
	}
	return p.say("%d audits: on average %s of what was sold, and 95 times in 100 the true mean is between %s and %s.", s.Count, p.off(s.Mean), p.off(*s.Low), p.off(*s.High))
}

// off words a ratio as percent more or less.
func (p *Printer) off(ratio float64) string {
	switch text := p.decimal(100*ratio, 1); {
	case text == "0":
		return p.say("0 %")
	case ratio > 0:
		return p.say("+%s %%", text)
	default:
		return p.say("−%s %%", p.decimal(-100*ratio, 1))
	}
}

// Series words what lies behind the mean of a series.
func (p *Printer) Series(s series.Series) []string {
	if s.Count == 0 {
		return nil
	}
	var lines []string
	if s.Low == nil {
		for i, e := range s.Errors {
			lines = append(lines, p.say("%s of what was sold: %s", p.off(e), p.Word(s.Words[i])))
		}
		return append(lines, p.texts(s.Notes)...)
	}
	lines = append(lines, p.say("Found short: %d of %d. Found full: %d of %d.", s.Short, s.Count, s.Full, s.Count),
		p.say("Standard deviation between audits: %s. Measuring alone would give about %s.", p.whole(*s.Deviation), p.whole(s.Measuring)))
	return append(lines, p.texts(s.Notes)...)
}
