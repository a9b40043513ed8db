package stack

import (
	"math"

	"wellstowed/measure"
)

// The divisions that readings may show, coarsest first; each divides the one before.
var (
	inchMarks   = [...]measure.Length{measure.Inch, measure.Inch / 2, measure.Inch / 4, measure.Inch / 8, measure.Inch / 16}
	metricMarks = [...]measure.Length{5 * measure.Centimetre, measure.Centimetre, 5 * measure.Millimetre, measure.Millimetre}
)

// fewReadings is how many readings of a kind show how finely they were read.
const fewReadings = 5

// A divider finds the division in effect of the readings of one kind: the tape's as
// stated, or a coarser one that at least five of them are all whole multiples of.
type divider struct {
	tape  measure.Length
	marks []measure.Length // that all readings so far are whole multiples of
	count int
}

// dividerFor goes by the unit of the tape's division.
func dividerFor(tape measure.Length) divider {
	d := divider{tape: tape, marks: inchMarks[:]}
	if tape%measure.Millimetre == 0 {
		d.marks = metricMarks[:]
	}
	return d
}

func (d *divider) add(readings []measure.Length) {
	d.count += len(readings)
	for _, l := range readings {
		for len(d.marks) > 0 && l%d.marks[0] != 0 {
			d.marks = d.marks[1:]
		}
	}
}

// inEffect is the division in effect.
func (d *divider) inEffect() measure.Length {
	if d.count < fewReadings || len(d.marks) == 0 {
		return d.tape
	}
	return max(d.tape, d.marks[0])
}

// divisionOf is the division in effect of one sample, in inches.
func divisionOf(tape measure.Length, sample []measure.Length) float64 {
	d := dividerFor(tape)
	d.add(sample)
	return inches(d.inEffect())
}

// A view is a way of seeing readings that may stand for more or less than they say.
// The zero view is as they count.
type view struct {
	rounding float64   // half divisions more, where it was not said how they were rounded
	eye      float64   // of the inch that a height read by eye may be low
	cribs    cribCount // how much of a crib counts
}

// A cribCount is how much of a crib is counted.
type cribCount int

const (
	cribsAsJudged cribCount = iota
	noCribs
	wholeCribs
)

// highest is the most that readings may stand for, lowest the least.
var (
	highest = view{rounding: 1, eye: 1, cribs: wholeCribs}
	lowest  = view{rounding: -1, cribs: noCribs}
)

// halves is how many half divisions every reading is raised by. One that was read down
// to the mark below is in the middle of its division.
func (t *Tally) halves(v view) float64 {
	switch t.Rounded {
	case RoundDown:
		return 1
	case RoundNearest:
		return 0
	}
	return v.rounding
}

// up is what heights, row lengths and sides of a division in inches are raised by, and
// over what heights are raised by besides.
func (t *Tally) up(division float64, v view) float64 { return t.halves(v) * division / 2 }

func (t *Tally) over(v view) float64 {
	if t.Top == ByEye {
		return v.eye * eyeLow
	}
	return 0
}

// A habit is what rounding comes to in cubic inches: one habit, so one judgement.
type habit struct {
	linear  float64 // Σ half-width·sensitivity of all readings together
	heights float64 // of that, heights whose spread doesn’t show their rounding
	pieces  float64 // the same of pieces
	squares float64 // Σ u² of lengths that were rounded each by itself
}

// roundHeights takes in heights read to the division of heights; their spread is in
// inches.
func (b *budget) roundHeights(sensitivity, spread float64) {
	half := b.division / 2 * math.Abs(sensitivity)
	b.habit.linear += half
	if spread < b.division/2 {
		b.habit.heights += half
	}
}

// roundPieces takes in pieces read to a division in inches.
func (b *budget) roundPieces(division, sensitivity, spread float64) {
	half := division / 2 * math.Abs(sensitivity)
	b.habit.linear += half
	if spread < division/2 {
		b.habit.pieces += half
	}
}

// roundLength takes in one reading of a length.
func (b *budget) roundLength(source Source, row int, sensitivity float64) {
	half := b.division / 2 * math.Abs(sensitivity)
	u := rectangular(half)
	b.habit.linear += half
	b.habit.squares += u * u
	if b.tally.Rounded != "" {
		b.add(source, row, u)
	}
}

// addRounding closes the habit. Where it was said how readings were rounded, spread
// shows most of it (JCGM 100:2008, F.2.2.1).
func (b *budget) addRounding() {
	h := &b.habit
	if b.tally.Rounded == "" {
		if h.linear > 0 {
			said := math.Sqrt(h.squares + (h.heights*h.heights+h.pieces*h.pieces)/3)
			b.cure(RoundingNotSaid, 0, rectangular(h.linear), cure{code: sayRounding, u: said, minutes: sayMinutes})
		}
		return
	}
	if h.heights > 0 {
		b.add(RoundingOfHeights, 0, rectangular(h.heights))
	}
	if h.pieces > 0 {
		b.add(RoundingOfPieces, 0, rectangular(h.pieces))
	}
}
