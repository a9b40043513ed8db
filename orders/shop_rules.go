package orders

import (
	"slices"
	"strings"

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

// saidUnder reads how much wood in words under the shop's rules, with what it comes to
// taken to what is printed of it where it has to be read back. It asks whether wood is
// stacked or loose where the words may mean both, and refuses words on anything else,
// which have fields of their own.
func (f *fields) saidUnder(set rules.Set, units Units, field, text string, piece measure.Length) measure.Said {
	said := f.saidWith(set, units, field, text, piece)
	if len(said.Rest) > 0 {
		f.add(field, "not-asked", text, measure.Say("only how much wood it is belongs here, not “%s”", said.Rest[0]), measure.Say("a quantity such as %s", spell(set, units, said.Quantity)))
	}
	return said
}

// saidWith reads how much wood as saidUnder does, with words on the wood; a piece length
// among them beside another that is known is refused.
func (f *fields) saidWith(set rules.Set, units Units, field, text string, piece measure.Length) measure.Said {
	said := f.saidOf(set, set.Terms(piece), units, field, text)
	if said.PieceLength != 0 && piece != 0 && said.PieceLength != piece {
		f.add(field, "two-lengths", text, measure.Say("the words say pieces of %s, and they are %s", said.PieceLength, piece), measure.Say("the same without a piece length"))
	}
	return said
}

// woodOf is what was typed of the wood, or where nothing was what a quantity's words say
// of it; both are there only where they agree.
func (f *fields) woodOf(field, typed string, rest []string) string {
	said := strings.Join(rest, ", ")
	switch {
	case strings.TrimSpace(typed) == "":
		return said
	case !holdsWords(typed, strings.Join(rest, " ")):
		f.add(field, "conflict", typed, measure.Say("the words say %s, and this says %s", said, typed), measure.Say("the same in both"))
	}
	return typed
}

// saidOf reads a quantity in words under terms of the shop's rules.
func (f *fields) saidOf(set rules.Set, terms measure.Terms, units Units, field, text string) measure.Said {
	said, err := terms.ParseQuantity(text)
	if !f.parsed(field, err) {
		return measure.Said{}
	}
	f.refused(field, text, set.Ask(field, said))
	if terms := set.BarredIn(text); said.Barred == "" && len(terms) > 0 {
		said.Barred = slices.MaxFunc(terms, func(a, b string) int { return len(a) - len(b) })
	}
	if said.Barred != "" || prepared(set, said) {
		said.Quantity = set.Round(said.Quantity, units == Metric)
	}
	return said
}

// OrderTerms are what the words of an order are read under: they are read back before
// it is taken, so that what they say of the wood may stand among them.
func OrderTerms(set rules.Set, piece measure.Length) measure.Terms {
	terms := set.Terms(piece)
	terms.ReadBack = true
	return terms
}

// prepared tells whether a quantity was said in cords whose size hangs on how the
// wood is prepared.
func prepared(set rules.Set, said measure.Said) bool { return said.Cord > 0 && set.CordVaries() }

// A CordFact is what a cord was taken for where a sale was made in cords whose size
// hangs on the wood.
type CordFact struct {
	Of     string         `json:"of"` // "sawed and split wood"
	Cord   measure.Volume `json:"cord"`
	Basis  measure.Basis  `json:"basis"`
	Source string         `json:"source"`
}

// cordOf is what the cords were that an order was said in; nil where it was not said in
// cords, or what they are hangs on nothing, or its rules have changed since.
func cordOf(set rules.Set, units Units, o Order) *CordFact {
	said, err := OrderTerms(set, o.PieceLength).ParseQuantity(o.Words)
	if err != nil || said.Barred != "" || !prepared(set, said) || set.Round(said.Quantity, units == Metric) != o.Quantity {
		return nil
	}
	m, fault := set.CordOf(said.Quantity.Basis, o.PieceLength, said.Preparation)
	if fault != nil {
		return nil
	}
	return &CordFact{Of: m.Of, Cord: said.Cord, Basis: said.Quantity.Basis, Source: m.Source}
}
