package stack

import (
	"math"

	"wellstowed/measure"
)

// What is taken where few pieces or none were measured: practice, no source.
const (
	nominalLess   = measure.Inch / 2 // a nominal length is cut this much short
	nominalHalf   = 1.5              // ± inches about it
	fewPieces     = 4                // from here on the spread between pieces is used
	fewPiecesHalf = 2.0              // ± inches below that, or their range
	onePieceHalf  = 2.5              // ± inches with one
	usualSpread   = 0.4              // inches, expected of pieces not yet measured
	morePieces    = 5                // that the advice asks for
)

// A pieceLength is a mean piece length in inches, its doubt, and the doubt left
// when five more pieces are measured.
type pieceLength struct {
	mean, spread    float64
	count           int
	division        float64 // in effect, inches; 0 of a nominal length
	source          Source
	u, degrees      float64
	afterU, afterNu float64
}

// at is the mean as the readings would be seen otherwise.
func (l *pieceLength) at(t *Tally, v view) float64 { return l.mean + t.up(l.division, v) }

// Given tells whether anything is said of the pieces.
func (p Pieces) Given() bool { return len(p.Sample) > 0 || p.Nominal != 0 }

// known tells whether a piece length above 0 comes of p.
func (p Pieces) known() bool {
	for _, l := range p.Sample {
		if l <= 0 {
			return false
		}
	}
	return len(p.Sample) > 0 || p.Nominal > nominalLess
}

// judge gives the mean piece length, read with a tape of that division. With four
// pieces or more its doubt is s/√n on n − 1 degrees; with two or three ± 2 in or their
// range, with one ± 2½ in; a nominal length is taken ½ in short, ± 1½ in.
func (p Pieces) judge(tape measure.Length) pieceLength {
	n := len(p.Sample)
	if n == 0 {
		l := pieceLength{mean: inches(p.Nominal - nominalLess), source: NominalLength}
		l.u, l.degrees = rectangular(nominalHalf), math.Inf(1)
		return l.withMore(0, usualSpread)
	}
	l := pieceLength{source: PieceSpread, count: n, mean: MeanInches(p.Sample), division: divisionOf(tape, p.Sample)}
	l.spread = deviation(p.Sample, l.mean)
	s := l.spread
	if n >= fewPieces {
		l.u, l.degrees = s/math.Sqrt(float64(n)), float64(n-1)
		return l.withMore(n, s)
	}
	half := onePieceHalf
	if n > 1 {
		half = max(fewPiecesHalf, 2*halfRange(p.Sample))
	}
	l.u, l.degrees = rectangular(half), math.Inf(1)
	return l.withMore(n, max(s, usualSpread))
}

// withMore fills in what five more pieces of spread s would leave: s/√(n+5) on
// n + 4 degrees.
func (l pieceLength) withMore(n int, s float64) pieceLength {
	n = min(n+morePieces, MaxPieces)
	l.afterU, l.afterNu = s/math.Sqrt(float64(n)), float64(n-1)
	return l
}

// MeanInches is the mean of lengths, in inches.
func MeanInches(ls []measure.Length) float64 {
	var sum float64
	for _, l := range ls {
		sum += inches(l)
	}
	return sum / float64(len(ls))
}

// deviation is the sample standard deviation in inches; 0 of a single length.
func deviation(ls []measure.Length, mean float64) float64 {
	if len(ls) < 2 {
		return 0
	}
	var squares float64
	for _, l := range ls {
		d := inches(l) - mean
		squares += d * d
	}
	return math.Sqrt(squares / float64(len(ls)-1))
}

// halfRange is half of largest less smallest, in inches.
func halfRange(ls []measure.Length) float64 {
	low, high := ls[0], ls[0]
	for _, l := range ls[1:] {
		low, high = min(low, l), max(high, l)
	}
	return inches(high-low) / 2
}
