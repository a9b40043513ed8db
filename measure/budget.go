package measure

import "math"

// A budget gathers what a stack of any kind but rows comes to, in inches and their
// products.
type budget struct {
	tally *Tally
	basis Basis
	value float64 // V
	parts []part
	notes []Text
}

// judge puts in a judged part that nothing in the advice would lessen.
func (b *budget) judge(source Source, u float64) {
	b.cure(source, u, cure{})
}

// cure puts in a judged part, and what would lessen it.
func (b *budget) cure(source Source, u float64, c cure) {
	if c.degrees == 0 {
		c.degrees = math.Inf(1)
	}
	b.parts = append(b.parts, part{source: source, u: math.Abs(u), degrees: math.Inf(1), cure: c})
}

// observe puts in the mean of a sample.
func (b *budget) observe(source Source, m mean, sensitivity float64, code string, minutes float64) {
	s := math.Abs(sensitivity)
	b.parts = append(b.parts, part{source: source, u: m.u * s, degrees: m.degrees,
		cure: cure{code: code, u: m.afterU * s, degrees: m.afterNu, minutes: minutes}})
}

func (b *budget) note(key string, args ...any) { b.notes = append(b.notes, Say(key, args...)) }

// addStowage puts in how tightly ranked wood is stowed; wood on another basis is
// taken as it lies.
func (b *budget) addStowage() {
	if b.basis != Ranked {
		return
	}
	b.notes = append(b.notes, stowageNote(b.tally.Stowed != ""))
	if b.tally.Stowed != "" {
		b.judge(Stowage, checkedShare*b.value)
		return
	}
	b.cure(Stowage, stowageShare*b.value, cure{code: checkStowing, u: checkedShare * b.value, minutes: stowingMinutes})
}

// estimate closes the budget; piece is the mean piece length, 0 where not known.
func (b *budget) estimate(kind string, piece float64) estimate {
	return estimate{kind: kind, thrown: b.basis == Loose, value: b.value, withoutCribs: b.value, wholeCribs: b.value,
		piece: piece, parts: b.parts, notes: b.notes}
}

// A mean is the mean of readings of one length in inches, its doubt, and the doubt
// left when more of them are taken.
type mean struct {
	value           float64
	u, degrees      float64
	afterU, afterNu float64
}

// meanFrom judges a sample: from fewPieces on s/√n on n − 1 degrees, below that
// ± least inches, or half the range where that is larger.
func meanFrom(sample []Length, least float64) mean {
	n := len(sample)
	m := mean{value: meanOf(sample)}
	s := deviation(sample, m.value)
	if n >= fewPieces {
		m.u, m.degrees = s/math.Sqrt(float64(n)), float64(n-1)
	} else {
		m.u, m.degrees = rectangular(max(least, halfRange(sample))), math.Inf(1)
		s = max(s, least/2)
	}
	more := n + moreStations
	m.afterU, m.afterNu = s/math.Sqrt(float64(more)), float64(more-1)
	return m
}
