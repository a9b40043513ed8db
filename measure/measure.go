// Package measure turns readings taken at a stack of firewood into a volume with
// an honest doubt, and holds it against what was sold. It does no input or output
// and reads no clock.
package measure

import "math"

// Measure works out what a tally comes to, by model 1: the volume, its doubt
// budget (JCGM 100:2008), what is worth measuring next and, where a quantity was
// sold, the finding (JCGM 106:2012). It depends on nothing but the tally. The
// error is an *InputError, and comes only for a tally that
// ParseTally would not have made, or whose gaps leave no wood.
func Measure(t Tally) (Result, error) {
	if err := t.check(); err != nil {
		return Result{}, err
	}
	e, err := t.Stack.estimate(&t)
	if err != nil {
		return Result{}, err
	}
	c := combine(e.parts, "")
	k := c.coverage()
	r := Result{
		Model:    ModelNumber,
		Quantity: Quantity{Volume: volume(e.value), Basis: t.Stack.Basis()},
		Standard: volume(c.u),
		Degrees:  Degrees(c.degrees),
		Coverage: k,
		Expanded: volume(k * c.u),
		Doubt:    contributions(e.parts, c.u),
		Next:     next(&e, k*c.u),
		Notes:    e.notes,
	}
	r.addOutlook(&e)
	r.Procedure = e.procedure
	if t.Sold == nil {
		return r, nil
	}
	if !t.Apart.Answered {
		r.Notes = append(r.Notes, Say("It was not said whether any of this delivery is elsewhere: taken in, burned or left in a heap."))
	}
	if r.Finding, err = find(&t, &e, c, k*c.u); err != nil {
		return Result{}, err
	}
	return r, nil
}

// An estimate is what a kind of stack makes of its readings. Volumes are in cubic
// inches, lengths in inches.
type estimate struct {
	kind         string     // of the stack; empty for rows
	thrown       bool       // thrown wood
	window       Window     // where pieces were counted
	procedure    *Procedure // what a published procedure makes of it
	value        float64    // V
	piece        float64    // mean piece length by volume; 0 when not known
	withoutCribs float64    // V with no crib counted
	wholeCribs   float64    // V with every crib counted whole
	parts        []part
	notes        []Text
}

// volume rounds cubic inches to a Volume, halves to even.
func volume(cubicInches float64) Volume {
	return Volume(math.RoundToEven(cubicInches * float64(CubicInch)))
}

// inches gives a length as a number of inches.
func inches(l Length) float64 { return float64(l) / float64(Inch) }
