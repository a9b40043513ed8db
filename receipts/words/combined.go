package words

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Agreement says whether tallies of one stack agree, and where they do not.
func (p *Printer) Agreement(c stack.Combined) string {
	if c.Agree {
		return p.say("The %d tallies agree within their give or take.", len(c.Each))
	}
	return p.say("The %d tallies don’t agree within their give or take: look for a slip before relying on their mean.", len(c.Each))
}

// Apartness words how far apart two tallies of the given names are.
func (p *Printer) Apartness(pair stack.Pair, basis measure.Basis, first, second string) string {
	key := "Between %s and %s: %s, within the %s that their give or take allows."
	if !pair.Agree {
		key = "Between %s and %s: %s, more than the %s that their give or take allows."
	}
	return p.say(key, first, second, p.amount(pair.Difference, basis), p.amount(pair.Limit, basis))
}

// CombinedJSON is what several tallies of one stack come to, as data.
type CombinedJSON struct {
	Agree  bool         `json:"agree"`
	Pairs  []PairJSON   `json:"pairs"`
	Answer AnswerJSON   `json:"answer"` // of the mean of all
	Each   []AnswerJSON `json:"each"`
}

// PairJSON holds two tallies against each other, counted from 1.
type PairJSON struct {
	First               int     `json:"first"`
	Second              int     `json:"second"`
	DifferenceCubicFeet float64 `json:"difference_cubic_feet"`
	LimitCubicFeet      float64 `json:"limit_cubic_feet"`
	Agree               bool    `json:"agree"`
}

// Combined gives several tallies of one stack as data.
func (p *Printer) Combined(c stack.Combined) CombinedJSON {
	out := CombinedJSON{Agree: c.Agree, Answer: p.Answer(stack.Tally{}, c.Result)}
	for _, pair := range c.Pairs {
		out.Pairs = append(out.Pairs, PairJSON{pair.First, pair.Second,
			pair.Difference.In(measure.CubicFoot), pair.Limit.In(measure.CubicFoot), pair.Agree})
	}
	for _, r := range c.Each {
		out.Each = append(out.Each, p.Answer(stack.Tally{}, r))
	}
	return out
}
