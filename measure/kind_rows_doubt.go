package measure

import "math"

// Half-widths of what is judged at ranked rows: practice, no source. Lengths are
// inches, the rest are ratios.
const (
	stowageShare   = 0.02 // standard uncertainty, of the volume
	checkedShare   = 0.01 // same where the stowing was checked
	straightHalf   = 0.5  // top of the wood, by a straightedge
	eyeHalf        = 1.0  // top of the wood, by eye
	rowEndHalf     = 0.5
	shapeHalf      = 0.20 // of a shoulder's or taper's face
	cribHalf       = 0.20 // of a crib's box
	judgedCribHalf = 0.10 // same where the share was judged
	voidHalf       = 0.25 // of a void's face
	tapeHalf       = 1. / 16
)

// resolution is the standard uncertainty, in inches, of a reading to the nearest
// division (JCGM 100:2008, F.2.2.1).
func resolution(division Length) float64 { return inches(division) / math.Sqrt(12) }

// add puts in a judged part that nothing in the advice would lessen.
func (b *rowsBudget) add(source Source, row int, u float64) {
	b.addCurable(source, row, u, cure{})
}

// addCurable puts in a judged part.
func (b *rowsBudget) addCurable(source Source, row int, u float64, c cure) {
	if c.degrees == 0 {
		c.degrees = math.Inf(1)
	}
	b.parts = append(b.parts, part{source: source, row: row, u: math.Abs(u), degrees: math.Inf(1), cure: c})
}

// addStack puts in the parts of the stack as a whole, once its rows are in.
func (b *rowsBudget) addStack() {
	b.addStowage()
	if b.stackNet != 0 {
		b.addPieces(0, b.stack, b.stackNet)
	}
	b.addTop()
	b.addFewStations()
	b.add(TapeOnHeights, 0, rectangular(tapeHalf)*b.tops)
	b.add(TapeOnLengths, 0, rectangular(tapeHalf)*b.sides)
	b.add(TapeOnPieces, 0, rectangular(tapeHalf)*b.net)
}

func (b *rowsBudget) addStowage() {
	if b.tally.Stowed != "" {
		b.add(Stowage, 0, checkedShare*b.volume)
		return
	}
	b.addCurable(Stowage, 0, stowageShare*b.volume, cure{
		code: checkStowing, u: checkedShare * b.volume, minutes: stowingMinutes * float64(b.rows),
	})
}

// addPieces puts in the piece length that serves a face of net square inches.
func (b *rowsBudget) addPieces(row int, p pieceLength, net float64) {
	net = math.Abs(net)
	b.parts = append(b.parts, part{source: p.source, row: row, u: p.u * net, degrees: p.degrees,
		cure: cure{code: measurePieces, u: p.afterU * net, degrees: p.afterNu, minutes: pieceMinutes}})
}

// addTop puts in where the top of the wood is: one judgement for all rows.
func (b *rowsBudget) addTop() {
	straight := rectangular(straightHalf) * b.tops
	if b.tally.Top == Straightedge {
		b.add(TopOfWood, 0, straight)
		return
	}
	b.addCurable(TopOfWood, 0, rectangular(eyeHalf)*b.tops, cure{
		code: layStraightedge, u: straight, minutes: straightedgeMinutes * float64(b.rows),
	})
}

// addStations puts in the spread between the stations of a row, or gathers it
// where there are fewer than four.
func (b *rowsBudget) addStations(row int, r *Row, piece, weights float64) {
	m, more := len(r.Heights), r.moreHeights()
	after := more.u * piece
	if m < fewStations {
		b.few.rows++
		b.few.half += inches(r.Length) * piece * r.fewHalf()
		b.few.after += after * after
		b.few.afterFourth += after * after * after * after / more.degrees
		return
	}
	b.parts = append(b.parts, part{source: StationSpread, row: row,
		u: r.stepSpread() * weights * piece, degrees: stepDegrees(m),
		cure: cure{code: readStations, u: after, degrees: more.degrees, minutes: stationMinutes}})
}

func (b *rowsBudget) addFewStations() {
	if b.few.rows == 0 {
		return
	}
	b.addCurable(FewStations, 0, rectangular(b.few.half), cure{
		code:    readStations,
		u:       math.Sqrt(b.few.after),
		degrees: b.few.after * b.few.after / b.few.afterFourth,
		minutes: stationMinutes * float64(b.few.rows),
	})
}
