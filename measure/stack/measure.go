// Package stack turns readings taken at a stack of firewood into a volume with an
// honest doubt, and holds it against what was sold: the tally and its document, the
// kinds of stack and the forms they declare, the model, the findings.
package stack

import (
	"math"

	"wellstowed/measure"
)

// Measure works out what a tally comes to, by model 2: the volume, its doubt
// budget (JCGM 100:2008), what is worth measuring next, what to ask about the readings
// and, where a quantity was sold, the finding (JCGM 106:2012). It depends on nothing
// but the tally. The error is an *InputError, and comes only for a tally that
// ParseTally would not have made, or whose gaps leave no wood.
func Measure(t Tally) (Result, error) {
	e, err := t.estimate()
	if err != nil {
		return Result{}, err
	}
	r, expanded := e.result()
	r.Procedure = e.procedure
	if t.Sold != nil {
		if !t.Apart.Answered {
			r.Notes = append(r.Notes, measure.Say("It was not said whether any of this delivery is not in this stack: taken in, burned or left in a heap."))
		}
		if r.Finding, err = find(&t, &e, r.Expanded); err != nil {
			return Result{}, err
		}
	}
	r.Next = next(&e, r.Finding, expanded)
	r.Questions = questions(&t, &r)
	if rows, ok := t.Stack.(Rows); ok {
		r.Faces = rows.facePairs(&t)
	}
	return r, nil
}

// result gives the volume and its doubt, and U in cubic inches.
func (e *estimate) result() (r Result, expanded float64) {
	c := combine(e.parts, "")
	k := c.coverage()
	expanded = k * c.u
	r = Result{
		Model:           ModelNumber,
		Quantity:        measure.Quantity{Volume: volume(e.value), Basis: e.basis},
		Standard:        volume(c.u),
		AgainstShortage: volume(e.against(stowageCounted, true).u),
		Degrees:         Degrees(c.degrees),
		Coverage:        k,
		Expanded:        volume(expanded),
		Doubt:           contributions(e.parts, c.u),
		Notes:           e.notes,
	}
	r.addOutlook(e)
	return r, expanded
}

// An estimate is what a kind of stack makes of its readings. Volumes are in cubic
// inches, lengths in inches.
type estimate struct {
	tally     *Tally
	kind      string // of the stack; empty for rows
	basis     measure.Basis
	thrown    bool       // thrown wood
	never     bool       // no readings of this kind can be short or full
	window    Window     // where pieces were counted
	procedure *Procedure // what a published procedure makes of it
	value     float64    // V
	at        viewed     // V as readings would be seen otherwise; nil: always the same
	piece     float64    // mean piece length by volume; 0 when not known
	pieces    float64    // about how many pieces; 0 where the wood is not ranked
	share     float64    // of the stowing, as said
	tight     bool       // the gaps were counted and are few
	holds     []Hold     // what of these readings can't carry short or full
	fullHolds []Hold     // and what besides can't carry full
	parts     []part
	notes     []measure.Text
}

// seen is V as readings would be seen otherwise.
func (e *estimate) seen(v view) float64 {
	if e.at == nil {
		return e.value
	}
	return e.at.volumeAt(v)
}

// A viewed stack gives its volume in cubic inches as its readings would be seen otherwise.
type viewed interface{ volumeAt(v view) float64 }

// A viewFunc is a function that does.
type viewFunc func(v view) float64

func (f viewFunc) volumeAt(v view) float64 { return f(v) }

// against is the doubt that a finding is held to: with the stowing taken at a share of
// its own, and with or without the habit of rounding.
func (e *estimate) against(share float64, habit bool) combined {
	var squares, tail float64
	for i := range e.parts {
		p := &e.parts[i]
		if p.source == Stowage || p.source == RoundingNotSaid && !habit {
			continue
		}
		squares += p.u * p.u
		tail += p.u * p.u * p.u * p.u / p.degrees
	}
	if e.pieces > 0 {
		u := stowage(e.value, share, e.pieces)
		squares += u * u
	}
	return summed(squares, tail)
}

// volume rounds cubic inches to a Volume, halves to even. What is beyond all wood, as
// where a late check asks for near certainty, is kept at mostVolume.
func volume(cubicInches float64) measure.Volume {
	return measure.Volume(math.RoundToEven(min(max(cubicInches*float64(measure.CubicInch), -mostVolume), mostVolume)))
}

// mostVolume, 4.6 million cubic metres, is more than any wood, and can be added to another.
const mostVolume = 1 << 62

// inches gives a length as a number of inches.
func inches(l measure.Length) float64 { return float64(l) / float64(measure.Inch) }
