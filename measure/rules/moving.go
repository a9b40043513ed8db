package rules

import (
	"slices"

	"wellstowed/measure"
)

// A Moving is a rule on where wood may be moved: what it may carry is often a pest.
type Moving struct {
	Statement
	Whom string `json:"whom,omitempty"` // whom it binds; empty: everybody
	From string `json:"from,omitempty"` // the day it holds from, as far as known; empty: not said
	Heat *Heat  `json:"heat,omitempty"` // what heat treatment frees the wood; nil: none stated
	// Ways are what wood is sold as under the rule, one of which is picked at the load;
	// empty where the rule asks nothing of a receipt.
	Ways []Way `json:"ways,omitempty"`
}

// A Heat is a heat treatment: the temperature of the core, and how long.
type Heat struct {
	Core    string `json:"core"`    // "71.1 °C"
	Minutes int    `json:"minutes"` // above 0
}

// A Way is one of the ways that wood is sold under a rule on moving it.
type Way struct {
	Code string `json:"code"` // small letters and hyphens
	Name string `json:"name"`
	// Asks are the codes of the receipt's fields that go with it.
	Asks []string `json:"asks,omitempty"`
	// Prints is what the receipt says of it.
	Prints string `json:"prints"`
}

// AskAgriculture goes with every rule on moving wood.
func (s Set) AskAgriculture() measure.Text {
	return measure.Say("Ask your agriculture department before wood is moved: quarantines change.")
}

// Ways are all that a load may be sold as under the set's rules on moving; empty where
// none asks.
func (s Set) Ways() []Way {
	var all []Way
	for _, m := range s.Moving {
		all = append(all, m.Ways...)
	}
	return all
}

// Way is the one of a code, nil without it.
func (s Set) Way(code string) *Way {
	ways := s.Ways()
	if i := slices.IndexFunc(ways, func(w Way) bool { return w.Code == code }); i >= 0 {
		return &ways[i]
	}
	return nil
}

// moving checks the rules on moving wood.
func (c *checker) moving(s Set) {
	seen := map[string]bool{}
	for i, m := range s.Moving {
		path := item("moving", i)
		c.statement(path, &m.Statement)
		if m.Heat != nil && (m.Heat.Minutes <= 0 || m.Heat.Core == "") {
			c.fail(path+".heat", "a heat treatment has a core temperature and minutes above 0")
		}
		for j, w := range m.Ways {
			at := item(path+".ways", j)
			c.words(at+".name", w.Name)
			c.words(at+".prints", w.Prints)
			if w.Code == "" || seen[w.Code] {
				c.fail(at+".code", "%q is empty or there twice", w.Code)
			}
			seen[w.Code] = true
			for _, code := range w.Asks {
				if !slices.Contains(FieldCodes(), code) {
					c.fail(at+".asks", "%q is none of %q", code, FieldCodes())
				}
			}
		}
	}
}
