package rules

import (
	"fmt"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
)

// A Limit is a rule with how far it lets something be out. Percent is a ratio times
// 100, above 0: of what is due where it is of a quantity, and of the whole load where
// it is of shares; 0 where the rule gives no figure.
type Limit struct {
	Statement
	Percent float64 `json:"percent,omitempty"`
}

// A Tolerance is how much may be missing of a quantity: one share of every quantity
// (Percent), or steps by its size. A law may have steps for each of several units.
type Tolerance struct {
	Limit
	Scales []Scale `json:"scales,omitempty"`
}

// A Scale is the steps that hold for quantities sold in some units.
type Scale struct {
	Units []UnitCode `json:"units"`
	Steps []Step     `json:"steps"` // from the smallest quantities up; the last has no bound
}

// A Step is how much may be missing of a quantity of some size. One of Below and To is
// there on every step but the last, and one of Percent and Amount on each.
type Step struct {
	Below   *Amount `json:"below,omitempty"`   // for quantities less than this
	To      *Amount `json:"to,omitempty"`      // for quantities of at most this
	Percent float64 `json:"percent,omitempty"` // of what is due
	Amount  *Amount `json:"amount,omitempty"`  // whatever is due
}

// volume of an amount that may not be there.
func (a *Amount) volume() measure.Volume {
	if a == nil {
		return 0
	}
	return a.Volume
}

// measured is a step as the procedure takes it.
func (s Step) measured() procedure.ToleranceStep {
	return procedure.ToleranceStep{Below: s.Below.volume(), To: s.To.volume(), Share: s.Percent / 100, Amount: s.Amount.volume()}
}

// StepsFor are the steps for a quantity sold in a unit, from the smallest quantities
// up; empty where no figure is stated for it.
func (t *Tolerance) StepsFor(unit UnitCode) []procedure.ToleranceStep {
	if t == nil {
		return nil
	}
	if t.Percent > 0 {
		return []procedure.ToleranceStep{{Share: t.Percent / 100}}
	}
	var steps []procedure.ToleranceStep
	for _, scale := range t.Scales {
		if slices.Contains(scale.Units, unit) {
			for _, step := range scale.Steps {
				steps = append(steps, step.measured())
			}
		}
	}
	return steps
}

// tolerance checks that every quantity in a unit has one step.
func (c *checker) tolerance(t *Tolerance) {
	if t == nil {
		return
	}
	c.limit("tolerance", &t.Limit)
	if t.Percent > 0 && len(t.Scales) > 0 {
		c.fail("tolerance.percent", "there are scales as well: one of the two")
	}
	seen := map[UnitCode]bool{}
	for i, scale := range t.Scales {
		path := item("tolerance.scales", i)
		for _, unit := range scale.Units {
			if !slices.Contains(unitCodes(), unit) {
				c.fail(path+".units", "%q is none of %q", unit, unitCodes())
			}
			if seen[unit] {
				c.fail(path+".units", "%q is in another scale as well", unit)
			}
			seen[unit] = true
		}
		if len(scale.Units) == 0 || len(scale.Steps) == 0 {
			c.fail(path, "a scale has units and steps")
		}
		c.steps(path+".steps", scale.Steps)
	}
}

// steps checks that they rise, that the last alone has no bound, and that each says how
// much may be missing once.
func (c *checker) steps(path string, steps []Step) {
	var bound measure.Volume
	for i, step := range steps {
		at := fmt.Sprintf("%s[%d]", path, i)
		if (step.Percent > 0) == (step.Amount.volume() > 0) || step.Percent < 0 || step.Percent >= 100 {
			c.fail(at, "a step has a percent under 100 or an amount, and not both")
		}
		if i == len(steps)-1 {
			if step.Below != nil || step.To != nil {
				c.fail(at, "the last step is for all that is larger, and has no bound")
			}
			continue
		}
		next := max(step.Below.volume(), step.To.volume())
		if (step.Below == nil) == (step.To == nil) || next <= bound {
			c.fail(at, "a step before the last has one bound, “below” or “to”, larger than that of the step before it")
		}
		bound = next
	}
}
