package rules

import (
	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
)

// Reckoning is how the set wants a stack reckoned by a procedure: its increment and
// rounding, and its tolerance for what is sold in a unit, where it gives a figure; or all
// of the procedure of an office that came with it.
func (s Set) Reckoning(unit UnitCode) procedure.Reckoning {
	if s.Procedure != nil {
		return s.Procedure.Reckoning(unit)
	}
	var k procedure.Reckoning
	if r := s.Reading; r != nil {
		k.Increment, k.Rounding, k.From = r.Increment, stack.Rounding(r.Rounding), r.Known.text()
	}
	if steps := s.Tolerance.StepsFor(unit); len(steps) > 0 {
		k.Tolerance, k.ToleranceFrom = steps, s.Tolerance.Known.text()
	}
	return k
}

// text says where an item comes from and how that is known.
func (k Known) text() measure.Text {
	return measure.Say("%s: %s.", k.Source, measure.Say(string(k.Status)))
}

// ShareLimit is how far a stated share of species may be out, a ratio of the whole
// load; 0 where the set states none.
func (s Set) ShareLimit() float64 {
	if s.Shares == nil {
		return 0
	}
	return s.Shares.Percent / 100
}
