package orders

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// setOf is the rule set a shop sells under; Conflict where it is in none of the
// files the program was started with.
func (s *Service) setOf(shop Shop) (rules.Set, error) {
	set, err := s.rules.Get(shop.RuleSet)
	if err != nil {
		return rules.Set{}, conflict("the shop’s rules of sale, %s, are not among those the program was started with: start it with their file, or pick others in the shop’s settings", shop.RuleSet)
	}
	return set, nil
}

// named is what a paper says of the rule set it was issued under.
func named(set rules.Set, units Units) RuleSet {
	return RuleSet{Code: set.Code, Name: set.Name, Edition: set.Edition, Unit: set.SoldIn(units == Metric)}
}

// spell writes a quantity exactly in a unit the set sells by.
func spell(set rules.Set, units Units, q measure.Quantity) string {
	return set.Spell(q, units == Metric)
}

// saidUnder reads a quantity in words under the shop's rules. A term they bar is a
// barred term, and what it comes to is taken to what is printed of it. It notes
// whether wood is stacked or loose as asked where the words may mean both, and why
// where a loose cord has no size.
func (f *fields) saidUnder(set rules.Set, units Units, field, text string, piece measure.Length) measure.Said {
	loose, reason := set.LooseCordOf(piece)
	said, err := measure.Terms{Piece: piece, LooseCord: loose}.ParseQuantity(text)
	if !f.parsed(field, err) {
		f.whyNotLoose(reason)
		return measure.Said{}
	}
	if said.Unsaid && set.AsksBasis() {
		f.add(field, "basis-unsaid", text, measure.Say("stacked or loose? They are different measures, and these rules of sale know both"),
			measure.Say("the same with “stacked” or “loose” after it"))
	}
	if terms := set.BarredIn(text); said.Barred == "" && len(terms) > 0 {
		said.Barred = slices.MaxFunc(terms, func(a, b string) int { return len(a) - len(b) })
	}
	if said.Barred != "" {
		said.Quantity = set.Round(said.Quantity, units == Metric)
	}
	return said
}

// whyNotLoose gives the last fault, if it is that of a loose cord, the rule set's
// own reason.
func (f *fields) whyNotLoose(reason measure.Text) {
	last := f.faults[len(f.faults)-1]
	if last.Code != "needs-rule-set" {
		return
	}
	told := *last
	told.Reason = measure.Say("a loose cord has no size here: %s", reason)
	told.Accepts = measure.Say("cubic feet or cubic metres, loose, such as 180 cu ft loose")
	f.faults[len(f.faults)-1] = &told
}
