package orders

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
)

// setOf is the rule set a shop sells under; Conflict where it is in none of the
// files the program was started with.
func (s *Service) setOf(shop Shop) (rules.Set, error) { return act.RulesOf(s.rules, shop.RuleSet) }

// RuleSetOf is what a paper says of the rule set it was issued under.
func RuleSetOf(set rules.Set, units act.Units) RuleSet {
	return RuleSet{Code: set.Code, Name: set.Name, Edition: set.Edition, Unit: set.SoldIn(units == act.Metric)}
}

// WoodOf is what was typed of the wood, or where nothing was what a quantity's words say
// of it; both are there only where they agree.
func WoodOf(f *act.Fields, field, typed string, rest []string) string {
	said := strings.Join(rest, ", ")
	switch {
	case strings.TrimSpace(typed) == "":
		return said
	case !holdsWords(typed, strings.Join(rest, " ")):
		f.Add(field, "conflict", typed, measure.Say("the words say %s, and this says %s", said, typed), measure.Say("the same in both"))
	}
	return typed
}

// OrderTerms are what the words of an order are read under: they are read back before
// it is taken, so that what they say of the wood may stand among them.
func OrderTerms(set rules.Set, piece measure.Length) measure.Terms {
	terms := set.Terms(piece)
	terms.ReadBack = true
	return terms
}

// A CordFact is what a cord was taken for where a sale was made in cords whose size
// hangs on the wood.
type CordFact struct {
	Of     string         `json:"of" names:"sale"` // "sawed and split wood"
	Cord   measure.Volume `json:"cord"`
	Basis  measure.Basis  `json:"basis"`
	Source string         `json:"source" names:"sale"`
}

// cordOf is what the cords were that an order was said in; nil where it was not said in
// cords, or what they are hangs on nothing, or its rules have changed since.
func cordOf(set rules.Set, units act.Units, o Order) *CordFact {
	said, err := OrderTerms(set, o.PieceLength).ParseQuantity(o.Words)
	if err != nil || said.Barred != "" || !act.Prepared(set, said) || set.Round(said.Quantity, units == act.Metric) != o.Quantity {
		return nil
	}
	m, fault := set.CordOf(said.Quantity.Basis, o.PieceLength, said.Preparation)
	if fault != nil {
		return nil
	}
	return &CordFact{Of: m.Of, Cord: said.Cord, Basis: said.Quantity.Basis, Source: m.Source}
}
