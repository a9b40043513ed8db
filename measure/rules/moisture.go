package rules

import (
	"slices"
	"time"

	"wellstowed/measure/wood"
)

// Moisture is what a set says of how dry wood must be, or must be said to be.
type Moisture struct {
	Statement
	Limits []MoistureLimit `json:"limits,omitempty"`
}

// A MoistureLimit is how wet wood may be that is sold or burned.
type MoistureLimit struct {
	Percent float64 `json:"percent"`
	// Basis is what the water is measured against; empty where the text does not say it,
	// so that the limit is one of two.
	Basis   wood.Basis `json:"basis,omitempty"`
	Compare string     `json:"compare"`           // "at most" or "below"
	From    string     `json:"from,omitempty"`    // first day it holds, YYYY-MM-DD; empty: not said
	Until   string     `json:"until,omitempty"`   // last day; empty: still in force
	Under   *Amount    `json:"under,omitempty"`   // for less wood than this; nil: any
	Only    string     `json:"only,omitempty"`    // what it is limited to; empty: all of the jurisdiction
	Method  string     `json:"method,omitempty"`  // how the law has it read; empty: not said
	Whose   string     `json:"whose,omitempty"`   // who has to keep it, where that is not the seller
	Reading string     `json:"reading,omitempty"` // what a meter's reading is worth under it; empty: not said
	Known
}

// How a moisture is held against a limit.
const (
	AtMost = "at most"
	Below  = "below"
)

// On is the limit as its text has it where that names a basis, else as if it named this
// one. The limit is one that was checked.
func (l MoistureLimit) On(basis wood.Basis) wood.Moisture {
	m, _ := l.on(basis)
	return m
}

func (l MoistureLimit) on(basis wood.Basis) (wood.Moisture, error) {
	if l.Basis != "" {
		basis = l.Basis
	}
	return wood.OnBasis(l.Percent, basis)
}

// inForce tells whether the limit holds on a day, YYYY-MM-DD.
func (l MoistureLimit) inForce(day string) bool {
	return (l.From == "" || l.From <= day) && (l.Until == "" || day <= l.Until)
}

// MoistureLimit is what readings of wood are held against under the set on a day,
// YYYY-MM-DD: the limit in force in all of the jurisdiction, on the dry basis and so the
// stricter of the two where its text names no basis; else what the EPA advises.
func (s Set) MoistureLimit(day string) wood.Limit {
	if s.Moisture != nil {
		i := slices.IndexFunc(s.Moisture.Limits, func(l MoistureLimit) bool { return l.Only == "" && l.inForce(day) })
		if i >= 0 {
			l := s.Moisture.Limits[i]
			return wood.Limit{Moisture: l.On(wood.Dry), AtMost: l.Compare == AtMost}
		}
	}
	return wood.ReadyToBurn()
}

// moisture checks what is said of dryness.
func (c *checker) moisture(m *Moisture) {
	if m == nil {
		return
	}
	c.statement("moisture", &m.Statement)
	for i, l := range m.Limits {
		path := item("moisture.limits", i)
		if _, err := l.on(wood.Wet); err != nil {
			c.fail(path+".percent", "%v", err)
		}
		if l.Compare != AtMost && l.Compare != Below {
			c.fail(path+".compare", "%q is neither %q nor %q", l.Compare, AtMost, Below)
		}
		for _, day := range []struct{ name, text string }{{"from", l.From}, {"until", l.Until}} {
			if _, err := time.Parse(time.DateOnly, day.text); day.text != "" && err != nil {
				c.fail(path+"."+day.name, "%q is not a date such as 2026-01-31", day.text)
			}
		}
		c.known(path, l.Known)
	}
}
