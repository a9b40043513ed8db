package stack

import (
	"math"

	"wellstowed/measure"
)

// A budget gathers what a stack comes to, in inches and their products.
type budget struct {
	tally    *Tally
	basis    measure.Basis
	division float64 // in effect of heights, and of row lengths and sides
	window   Window  // where pieces were counted
	value    float64 // V
	face     float64 // of ranked wood, square inches
	parts    []part
	notes    []measure.Text
	habit    habit
}

// add puts in a judged part that nothing in the advice would lessen; row 0 is the
// stack as a whole.
func (b *budget) add(source Source, row int, u float64) {
	b.cure(source, row, u, cure{})
}

// cure puts in a judged part, and what would lessen it.
func (b *budget) cure(source Source, row int, u float64, c cure) {
	if c.degrees == 0 {
		c.degrees = math.Inf(1)
	}
	b.parts = append(b.parts, part{source: source, row: row, u: math.Abs(u), degrees: math.Inf(1), cure: c})
}

// observe puts in the mean of a sample.
func (b *budget) observe(source Source, m mean, sensitivity float64, code string, minutes float64) {
	s := math.Abs(sensitivity)
	b.parts = append(b.parts, part{source: source, u: m.u * s, degrees: m.degrees,
		cure: cure{code: code, u: m.afterU * s, degrees: m.afterNu, minutes: minutes}})
}

// addTape puts in the tape's scale on a volume that is a product of so many of its
// readings.
func (b *budget) addTape(readings float64) {
	b.addScale(readings)
	b.note("The tape is taken as true to ± %.3g of what it shows: common practice.", b.tally.scale())
}

func (b *budget) addScale(readings float64) {
	b.add(TapeScale, 0, rectangular(b.tally.scale())*readings*b.value)
}

// scale is the half-width of the tape's scale.
func (t *Tally) scale() float64 {
	switch t.TapeMade {
	case SteelTape:
		return tapeOfSteel
	case ClothTape:
		return tapeOfCloth
	}
	return tapeNotSaid
}

// The half-widths of a tape's scale, ratios: practice, no source.
const (
	tapeOfSteel = 0.0005
	tapeNotSaid = 0.002
	tapeOfCloth = 0.005
)

func (b *budget) note(key string, args ...any) {
	if b.notes == nil {
		b.notes = make([]measure.Text, 0, usualNotes)
	}
	b.notes = append(b.notes, measure.Say(key, args...))
}

// usualNotes is as many notes as most results have.
const usualNotes = 8

// noteDivision says where the readings show a coarser division than the tape's.
func (b *budget) noteDivision() {
	if b.division > inches(b.tally.Tape) {
		b.note("The heights are all whole multiples of %s, so that is taken as the division they were read to.", measure.Length(math.Round(b.division*float64(measure.Inch))))
	}
}

// estimate closes the budget; piece is the mean piece length, 0 where not known.
func (b *budget) estimate(kind string, piece float64) estimate {
	b.addRounding()
	b.noteDivision()
	e := estimate{kind: kind, basis: b.basis, thrown: b.basis == measure.Loose, value: b.value, piece: piece, window: b.window, tally: b.tally,
		share: b.tally.stowingShare(), tight: b.tally.tight(), parts: b.parts, notes: b.notes}
	if b.basis == measure.Ranked {
		e.pieces = b.pieces()
	}
	return e
}

// A mean is the mean of readings of one length in inches, its doubt, and the doubt
// left when more of them are taken.
type mean struct {
	value, spread   float64
	u, degrees      float64
	afterU, afterNu float64
}

// meanFrom judges a sample: from fewPieces on s/√n on n − 1 degrees, below that
// ± least inches, or half the range where that is larger.
func meanFrom(sample []measure.Length, least float64) mean {
	n := len(sample)
	m := mean{value: MeanInches(sample)}
	m.spread = deviation(sample, m.value)
	s := m.spread
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
