package stack

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/student"
)

// firstAlpha is the level a finding is held to at the first check of a delivery.
const firstAlpha = 0.05

// alphaAt is the level at a check, from 1: 0.05, then 0.05/2^k at the k-th. Measuring
// until the answer pleases is not measuring.
func alphaAt(check int) float64 {
	if check <= 1 {
		return firstAlpha
	}
	return math.Ldexp(firstAlpha, -check)
}

// find holds what was measured against what was sold; expanded is U. The error says
// that the two can't be held together.
func find(t *Tally, e *estimate, expanded measure.Volume) (*Finding, error) {
	f := &Finding{Sold: t.Sold.Quantity, Apart: t.Apart, Look: t.Look, Alpha: alphaAt(t.Look)}
	f.Due = f.Sold.Volume - f.Apart.Quantity.Volume
	if err := checkSale(t); err != nil {
		return nil, err
	}
	switch {
	case f.Sold.Basis != e.basis:
		f.expect(e, expanded)
	case e.never || e.basis == measure.Container || e.basis == measure.Loose && t.LooseCord == 0:
		f.expectSame(e, expanded)
	default:
		f.decide(t, e)
	}
	return f, nil
}

// checkSale refuses quantities that are none, and those that don't add.
func checkSale(t *Tally) error {
	sold, apart := t.Sold.Quantity, t.Apart.Quantity
	switch {
	case sold.Volume <= 0:
		return unfit("sold", "too-small", "", measure.Say("what was sold is not above 0"), measure.Say("a quantity such as 1 cord"))
	case apart.Volume < 0:
		return unfit("apart", "negative", "", measure.Say("wood not in this stack is 0 or more"), measure.Say("“none”, or a quantity"))
	case apart.Volume > 0 && apart.Basis != sold.Basis:
		return unfit("apart", "basis", "", measure.Say("wood not in this stack is given as %s, but the sale as %s; the two do not add",
			measure.Say(string(apart.Basis)), measure.Say(string(sold.Basis))), measure.Say("the same kind of measure as the sale"))
	case sold.Basis != measure.Ranked && sold.Basis != measure.Loose && sold.Basis != measure.Container:
		return unfit("sold", "basis", "", measure.Say("the sale does not say how the wood is piled"), measure.Say("ranked, loose or in a container"))
	}
	return nil
}

// A verdict is what a finding is decided with, in cubic inches.
type verdict struct {
	short    combined // u against a shortage, and its degrees
	top      combined // the same at the top of the readings' division
	reach    float64  // t₁₋α of short, times u
	topReach float64
	full     float64 // t₀.₉₅·u for full, at the bottom of the division
}

func (e *estimate) verdict(alpha float64) verdict {
	loose := stowageNotSaid
	if e.tight {
		loose = stowageCounted
	}
	v := verdict{short: e.against(stowageCounted, true), top: e.against(stowageCounted, false)}
	bottom := e.against(loose, false)
	v.reach = student.Upper(alpha, v.short.degrees) * v.short.u
	if v.topReach = v.reach; v.top != v.short {
		v.topReach = student.Upper(alpha, v.top.degrees) * v.top.u
	}
	v.full = student.Upper(firstAlpha, bottom.degrees) * bottom.u
	return v
}

// decide gives one of the four findings. It compares whole nanolitres, so that the
// word can be read off Due, ShortAbove, FullBelow and Margin, and what holds it back.
func (f *Finding) decide(t *Tally, e *estimate) {
	due := float64(f.Due) / float64(measure.CubicInch)
	v := e.verdict(f.Alpha)
	f.Probability = student.CDF((e.value-due)/v.short.u, v.short.degrees)
	f.Margin = volume(e.value) - f.Due
	f.ShortAbove = volume(max(e.value+v.reach, e.seen(highest)+v.topReach))
	f.FullBelow = volume(e.seen(lowest) - v.full)
	f.allow(t, e, v)
	var room [mostHolds]Hold
	held := append(f.unanswered(room[:0], t), e.holds...)
	switch {
	case f.ShortOf() >= f.ShortAbove && len(held) == 0:
		f.Word = Short
	case f.Margin < 0:
		f.Word = Unresolved
		f.HeldBack = append(f.HeldBack, f.heldByReadings(held, e, v)...)
	default:
		fromFull := unstowed(append(append(room[:0], e.holds...), e.fullHolds...), t, e)
		if f.Due <= f.FullBelow && len(fromFull) == 0 {
			f.Word = Full
			break
		}
		f.Word = NoShortage
		f.HeldFromFull = append(f.HeldFromFull, f.heldFromFull(fromFull, e, v)...)
		f.CannotRuleOut = f.hiddenShortage(e)
	}
	f.explain(t)
}

// mostHolds is as many as there are.
const mostHolds = 10

// unanswered adds the questions about this delivery that hold short back.
func (f *Finding) unanswered(held []Hold, t *Tally) []Hold {
	switch {
	case t.Used && f.Apart.Quantity.Volume == 0:
		return append(held, HeldByUse)
	case !f.Apart.Answered:
		return append(held, HeldByApart)
	}
	return held
}

// unstowed adds what holds full back where nobody looked at how tightly ranked wood is
// stowed.
func unstowed(held []Hold, t *Tally, e *estimate) []Hold {
	if e.basis == measure.Ranked && t.Stowed != StowingChecked && !e.tight {
		return append(held, HeldByStowing)
	}
	return held
}

// heldByReadings adds what of the readings keeps a shortage from being called one that
// V itself would show: each that does so by itself, or all together.
func (f *Finding) heldByReadings(held []Hold, e *estimate, v verdict) []Hold {
	due := f.ShortOf()
	if due < volume(e.value+v.reach) {
		return held
	}
	return heldBy(held, e, highest, func(by view) bool { return due < volume(e.seen(by)+v.topReach) })
}

// heldFromFull adds what of the readings keeps a finding from being full that V itself
// would be.
func (f *Finding) heldFromFull(held []Hold, e *estimate, v verdict) []Hold {
	if f.Due <= f.FullBelow || f.Due > volume(e.value-v.full) {
		return held
	}
	return heldBy(held, e, lowest, func(by view) bool { return f.Due > volume(e.seen(by)-v.full) })
}

// heldBy adds the parts of a view that matter: each that holds by itself, or all
// together.
func heldBy(already []Hold, e *estimate, whole view, held func(view) bool) []Hold {
	var parts [3]Hold
	all, alone := parts[:0], already
	for _, part := range [...]struct {
		hold Hold
		seen view
	}{
		{HeldByRounding, view{rounding: whole.rounding}},
		{HeldByHeights, view{eye: whole.eye}},
		{HeldByCribs, view{cribs: whole.cribs}},
	} {
		if e.seen(part.seen) == e.seen(view{}) {
			continue
		}
		all = append(all, part.hold)
		if held(part.seen) {
			alone = append(alone, part.hold)
		}
	}
	if len(alone) == len(already) && held(whole) {
		return append(already, all...)
	}
	return alone
}

// hiddenShortage is S − V + t₁₋α·u. Where only the bottom of the readings keeps a finding
// from being full that is no shortage at all, and it is taken there; where nothing but
// what was not looked at does, there is none.
func (f *Finding) hiddenShortage(e *estimate) *measure.Volume {
	c := combine(e.parts, "")
	hidden := volume(student.Upper(f.Alpha, c.degrees)*c.u) - f.Margin
	if hidden <= 0 {
		hidden = f.Due - f.FullBelow
	}
	if hidden <= 0 {
		return nil
	}
	return &hidden
}
