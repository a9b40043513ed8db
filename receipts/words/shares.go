//go:build !wasm

package words

import (
	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
)

// SharesLead says in one sentence whether stated shares hold.
func (p *Printer) SharesLead(s wood.Shares) string {
	switch s.Word {
	case wood.ShareWithin:
		return p.say("Within the tolerance: the pieces counted bear out the shares stated.")
	case wood.ShareOutside:
		return p.say("Outside the tolerance: at least one share is not what was stated.")
	case wood.ShareNotSettled:
		if s.Enough > 0 {
			return p.say("Not settled: too few pieces were counted. If the shares stay as they are, about %d in all will tell.", s.Enough)
		}
		return p.say("Not settled: the shares counted are too near the tolerance for a count to tell.")
	}
	return p.say("No tolerance is stated for shares of species under these rules of sale.")
}

// Shares words each species, a line each.
func (p *Printer) Shares(s wood.Shares) []string {
	lines := make([]string, len(s.Parts))
	for i, part := range s.Parts {
		line := p.say("%s: stated %s, counted %d of %d, which is %s, between %s and %s", part.Name, p.whole(part.Stated),
			part.Pieces, s.Pieces, p.whole(part.Share), p.whole(part.Low), p.whole(part.High))
		if s.Limit > 0 {
			line = p.say("%s: %s", line, p.say(string(part.Word)))
		}
		lines[i] = line
	}
	return lines
}

// whole words a ratio as percent with one decimal at most.
func (p *Printer) whole(ratio float64) string { return p.say("%s %%", p.decimal(100*ratio, 1)) }

// SharesJSON are stated shares held against pieces counted, as data.
type SharesJSON struct {
	Pieces  int              `json:"pieces"`
	Parts   []wood.ShareHeld `json:"parts"`
	Percent float64          `json:"tolerance_percent,omitempty"` // of the whole load
	Word    wood.ShareWord   `json:"word"`
	Enough  int              `json:"enough,omitempty"`
	Rule    string           `json:"rule,omitempty"`
	Notes   []string         `json:"notes"`
}

// SharesAnswer gives shares held as data, with the rule they were held to.
func (p *Printer) SharesAnswer(s wood.Shares, set rules.Set) SharesJSON {
	return SharesJSON{s.Pieces, s.Parts, 100 * s.Limit, s.Word, s.Enough, p.SharesRule(set), p.texts(s.Notes)}
}

// SharesRule words the rule on stated shares with its source; empty where the set has
// none.
func (p *Printer) SharesRule(set rules.Set) string {
	if set.Shares == nil {
		return ""
	}
	return p.say("%s (%s)", measure.Say(set.Shares.Words), p.Mark(set.Shares.Known))
}
