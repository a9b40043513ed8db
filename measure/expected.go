package measure

import "math"

// Ranked volume as a share of the same wood thrown: practice, no source.
const (
	shortPieces = 16.0 // inches; from 0.60 to 0.72 up to here
	longPieces  = 24.0 // inches; from 0.58 to 0.68 from here on
)

// thrownToRanked is the expected share for a mean piece length in inches; between
// the lengths known of, and where it is not known (0), both ranges together.
func thrownToRanked(piece float64) (low, high float64) {
	switch {
	case piece > 0 && piece <= shortPieces:
		return 0.60, 0.72
	case piece >= longPieces:
		return 0.58, 0.68
	}
	return 0.58, 0.72
}

// expectSame holds thrown wood against wood sold thrown, where no rule defines loose
// measure: what is expected is what is due.
func (f *Finding) expectSame(e *estimate, expanded float64) {
	f.ExpectedLow, f.ExpectedHigh = f.Due, f.Due
	f.place(volume(e.value), volume(expanded))
	f.Why = append(f.Why,
		Say("Sold loose and measured loose: no rule of the sale defines loose measure, so this is neither short nor full."),
		Say("%s is expected to lie here, give or take the readings’ doubt.", f.Due))
}

// Expectation tells that the finding is held against what is expected, not against
// what was sold: then its probability, margin and limits mean nothing.
func (f *Finding) Expectation() bool {
	return f.Word == Expected || f.Word == BelowExpected || f.Word == AboveExpected
}

// place gives the word for a measured volume beside the expected range.
func (f *Finding) place(measured, doubt Volume) {
	switch {
	case measured+doubt < f.ExpectedLow:
		f.Word = BelowExpected
	case measured-doubt > f.ExpectedHigh:
		f.Word = AboveExpected
	default:
		f.Word = Expected
	}
}

// addOutlook adds what the wood is expected to come to, and about how many pieces
// it is.
func (r *Result) addOutlook(e *estimate) {
	r.Pieces = e.pieceCount(r.Quantity.Basis)
	if r.Expected = e.expectRanked(r.Quantity.Basis); r.Expected != nil {
		r.Notes = append(r.Notes, Say("Once ranked, this wood is expected to come to %s to %s: to plan with, no finding.", r.Expected.Low, r.Expected.High), r.Expected.Why)
	}
}

// expectRanked is what thrown wood is expected to come to once it is ranked; nil
// where the wood is not thrown.
func (e *estimate) expectRanked(basis Basis) *Range {
	if basis != Loose {
		return nil
	}
	low, high := thrownToRanked(e.piece)
	r := &Range{Low: volume(e.value * low), High: volume(e.value * high)}
	if e.piece > 0 {
		r.Why = Say("Thrown wood of %s pieces is taken to come to %.3g to %.3g of its volume once ranked: common practice. The readings’ doubt comes on top.",
			Length(math.RoundToEven(e.piece*8))*(Inch/8), low, high)
	} else {
		r.Why = Say("Thrown wood is taken to come to %.3g to %.3g of its volume once ranked, the length of its pieces not being known: common practice. The readings’ doubt comes on top.", low, high)
	}
	return r
}

// expect holds wood measured on one basis against wood sold on another. The range
// kept is the expected one; measured wood is outside it only when it is so by more
// than U, expanded.
func (f *Finding) expect(basis Basis, e *estimate, expanded float64) {
	due := float64(f.Due) / float64(CubicInch)
	low, high := thrownToRanked(e.piece)
	from, to := due*low, due*high
	if basis == Loose {
		from, to = due/high, due/low
	}
	f.ExpectedLow, f.ExpectedHigh = volume(from), volume(to)
	f.place(volume(e.value), volume(expanded))
	f.Why = append(f.Why,
		Say("Sold as %s and measured as %s: the two do not compare, so this is neither short nor full.", string(f.Sold.Basis), string(basis)),
		Say("Of wood like this, %s to %s is expected to stand here, give or take the readings’ doubt.", f.ExpectedLow, f.ExpectedHigh),
		Say("Ranked wood is taken as %.3g to %.3g of the same wood thrown: common practice.", low, high))
	if f.Due != f.Sold.Volume {
		f.Why = append(f.Why, Say("Of the %s sold, %s is said to be elsewhere.", f.Sold, f.Apart.Quantity))
	}
}

// ThrownShare is the share, low and high, that wood thrown in is expected to make
// of its volume when it is ranked, for a piece length; 0 is not known. Both are
// ratios; common practice, no source.
func ThrownShare(piece Length) (low, high float64) { return thrownToRanked(piece.In(Inch)) }
