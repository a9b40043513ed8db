package rules

import (
	"slices"

	"wellstowed/measure"
)

// A Term is a word for an amount of wood that is no unit of sale.
type Term struct {
	Name string `json:"name"`
	// Means is what the law says of it, in our own words: its size where it has one, or
	// how it may be used. Empty: nothing.
	Means string `json:"means,omitempty"`
	Known
}

// terms checks a list of them.
func (c *checker) terms(list string, terms []Term) {
	for i, t := range terms {
		path := item(list, i)
		if len(wordsOf(t.Name)) == 0 {
			c.fail(path+".name", "%q has no word in it", t.Name)
		}
		c.known(path, t.Known)
	}
}

// once checks that no term is in two lists.
func (c *checker) once(s Set) {
	seen := map[string]string{}
	for _, l := range []struct {
		name  string
		terms []Term
	}{{"barred", s.Barred}, {"undefined", s.Undefined}, {"defined", s.Defined}} {
		for i, t := range l.terms {
			if other := seen[t.Name]; other != "" && other != l.name {
				c.fail(item(l.name, i)+".name", "%q is in %s as well", t.Name, other)
			}
			seen[t.Name] = l.name
		}
	}
}

// Loosely finds the term of a name among those that the set bars nobody from using: nil
// where it is not among them. Defined tells whether the law gives it a size.
func (s Set) Loosely(name string) (term *Term, defined bool) {
	for _, list := range [][]Term{s.Undefined, s.Defined} {
		if i := slices.IndexFunc(list, func(t Term) bool { return t.Name == name }); i >= 0 {
			return &list[i], defined
		}
		defined = true
	}
	return nil, false
}

// SpeaksOf tells whether a term is one that the set speaks of and does not bar.
func (s Set) SpeaksOf(name string) bool {
	term, _ := s.Loosely(name)
	return term != nil
}

// WhyReadBack says why a quantity that was said in a term is read back in a unit of sale.
// It names the term only where the set does not bar it.
func (s Set) WhyReadBack(said measure.Said) measure.Text {
	term, defined := s.Loosely(said.Barred)
	switch {
	case term == nil:
		return measure.Say("that name isn’t a legal measure of wood, so it’s sold as %s", said.Quantity)
	case defined:
		return measure.Say("a %s is defined here (%s; %s) and isn’t a unit to sell by: this is %s",
			term.Name, term.Source, measure.Say(string(term.Status)), said.Quantity)
	}
	return measure.Say("a %s has no size in law here (%s; %s): this is %s", term.Name, term.Source, measure.Say(string(term.Status)), said.Quantity)
}
