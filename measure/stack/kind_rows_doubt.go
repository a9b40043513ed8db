package stack

import "math"

// Half-widths of what is judged at ranked rows: practice, no source. Lengths are
// inches, the rest are ratios.
const (
	straightHalf   = 0.5  // top of the wood, by a straightedge about a foot long
	eyeHalf        = 1.5  // top of the wood, by eye
	eyeLow         = 1.0  // that a height read by eye may be low, besides, where it would accuse
	rowEndHalf     = 0.5  //
	shapeHalf      = 0.20 // of a shoulder's or taper's face
	cribHalf       = 0.20 // of a crib's box
	judgedCribHalf = 0.10 // same where the share was judged
	voidHalf       = 0.25 // of a void's face
	tapeHalf       = 1. / 16
	oneFaceHalf    = 0.01 // of the volume, where heights are of one face
)

// addStack puts in the parts of the stack as a whole, once its rows are in.
func (b *rowsBudget) addStack(bothFaces bool) {
	b.addStowage(len(b.rows))
	if !bothFaces {
		b.cure(OneFace, 0, rectangular(oneFaceHalf)*b.value, cure{code: readBack, minutes: stationMinutes * float64(len(b.rows))})
	}
	if b.stackNet != 0 {
		b.addPieces(0, &b.stack, b.stackNet)
	}
	b.addTop()
	b.addFewStations()
	if b.taped > 0 {
		b.add(TapeOnHeights, 0, rectangular(tapeHalf)*b.taped)
		b.add(TapeOnLengths, 0, rectangular(tapeHalf)*b.sides)
	}
	b.add(TapeOnPieces, 0, rectangular(tapeHalf)*b.face)
	b.addScale(3)
}

// addPieces puts in the piece length that serves a face of net square inches.
func (b *rowsBudget) addPieces(row int, p *pieceLength, net float64) {
	net = math.Abs(net)
	b.parts = append(b.parts, part{source: p.source, row: row, u: p.u * net, degrees: p.degrees,
		cure: cure{code: measurePieces, u: p.afterU * net, degrees: p.afterNu, minutes: pieceMinutes}})
	b.roundPieces(p.division, net, p.spread)
}

// addTop puts in where the top of the wood is: one judgement for all rows.
func (b *rowsBudget) addTop() {
	straight := rectangular(straightHalf) * b.tops
	if b.tally.Top == Straightedge {
		b.add(TopOfWood, 0, straight)
		return
	}
	b.cure(TopOfWood, 0, rectangular(eyeHalf)*b.tops, cure{
		code: layStraightedge, u: straight, minutes: straightedgeMinutes * float64(len(b.rows)),
	})
}

// addStations puts in the spread between the stations of a row of a top in square
// inches, or gathers it where there are fewer than four. weights is the root of the
// sum of their squares, times the piece length.
func (b *rowsBudget) addStations(row int, r *Row, top, weights float64) {
	m, more := len(r.Heights), r.moreHeights()
	after := more.u * top
	if m < fewStations {
		b.few.rows++
		b.few.half += top * r.fewHalf()
		b.few.after += after * after
		b.few.afterFourth += after * after * after * after / more.degrees
		return
	}
	b.parts = append(b.parts, part{source: StationSpread, row: row,
		u: r.stepSpread() * weights, degrees: stepDegrees(m),
		cure: cure{code: readStations, u: after, degrees: more.degrees, minutes: stationMinutes}})
}

func (b *rowsBudget) addFewStations() {
	if b.few.rows == 0 {
		return
	}
	b.cure(FewStations, 0, rectangular(b.few.half), cure{
		code:    readStations,
		u:       math.Sqrt(b.few.after),
		degrees: b.few.after * b.few.after / b.few.afterFourth,
		minutes: stationMinutes * float64(b.few.rows),
	})
}
