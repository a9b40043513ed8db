package stack

import (
	"math"

	"wellstowed/measure"
)

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

// rankedShare is what wood on a basis is expected to come to, of its volume, once it
// is ranked. A container is filled anyhow, from thrown to ranked: practice, no source.
func rankedShare(basis measure.Basis, piece float64) (low, high float64) {
	switch basis {
	case measure.Loose:
		return thrownToRanked(piece)
	case measure.Container:
		low, _ = thrownToRanked(piece)
		return low, 1
	}
	return 1, 1
}

// expectSame holds wood against wood sold in the same way, which can't be short or full:
// what is expected is what is due.
func (f *Finding) expectSame(e *estimate, expanded measure.Volume) {
	f.ExpectedLow, f.ExpectedHigh = f.Due, f.Due
	f.place(volume(e.value), expanded)
	why := measure.Say("Wood like this can’t be measured well enough to be called short or full.")
	if e.basis == measure.Loose && !e.never {
		why = measure.Say("Sold loose and measured loose: no rule of the sale defines loose measure, so this is neither short nor full.")
	}
	f.Why = append(f.Why, why, measure.Say("%s is expected here, besides the give or take of the readings.", f.Due))
}

// Expectation tells that the finding is held against what is expected, not against
// what was sold: then its probability, margin and limits mean nothing.
func (f *Finding) Expectation() bool {
	return f.Word == Expected || f.Word == BelowExpected || f.Word == AboveExpected
}

// place gives the word for a measured volume beside the expected range.
func (f *Finding) place(measured, doubt measure.Volume) {
	f.HeldBack = []Hold{HeldByKind}
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
	if r.Expected = e.expectRanked(r.Expanded); r.Expected != nil {
		r.Notes = append(r.Notes, measure.Say("Once ranked, this wood is expected to make %s to %s: to plan with, not a result.", r.Expected.Low, r.Expected.High), r.Expected.Why)
	}
}

// expectRanked is what wood that is not ranked is expected to come to once it is, with
// the readings’ give or take; nil where it is ranked.
func (e *estimate) expectRanked(expanded measure.Volume) *Range {
	if e.basis == measure.Ranked {
		return nil
	}
	low, high := rankedShare(e.basis, e.piece)
	doubt := float64(expanded) / float64(measure.CubicInch)
	r := &Range{Low: volume(max(e.value-doubt, 0) * low), High: volume((e.value + doubt) * high)}
	switch {
	case e.basis == measure.Container:
		r.Why = measure.Say("Wood put in as it fills is taken to fill %.3g to %.3g of its room once ranked, from thrown to ranked, the readings’ give or take on top: common practice.", low, high)
	case e.piece > 0:
		r.Why = measure.Say("Thrown wood of %s pieces is taken to make %.3g to %.3g of its volume once ranked, the readings’ give or take on top: common practice.",
			measure.Length(math.RoundToEven(e.piece*8))*(measure.Inch/8), low, high)
	default:
		r.Why = measure.Say("Thrown wood is taken to make %.3g to %.3g of its volume once ranked, the length of its pieces not being known, the readings’ give or take on top: common practice.", low, high)
	}
	return r
}

// expect holds wood measured on one basis against wood sold on another. The range
// kept is the expected one; measured wood is outside it only when it is so by more
// than U, expanded.
func (f *Finding) expect(e *estimate, expanded measure.Volume) {
	due := float64(f.Due) / float64(measure.CubicInch)
	soldLow, soldHigh := rankedShare(f.Sold.Basis, e.piece)
	low, high := rankedShare(e.basis, e.piece)
	f.ExpectedLow, f.ExpectedHigh = volume(due*soldLow/high), volume(due*soldHigh/low)
	f.place(volume(e.value), expanded)
	f.Why = append(f.Why,
		measure.Say("Sold as %s and measured as %s: the two do not compare, so this is neither short nor full.", string(f.Sold.Basis), string(e.basis)),
		measure.Say("Of wood like this, %s to %s is expected here, besides the give or take of the readings.", f.ExpectedLow, f.ExpectedHigh))
	for _, b := range []measure.Basis{f.Sold.Basis, e.basis} {
		switch low, high := rankedShare(b, e.piece); b {
		case measure.Loose:
			f.Why = append(f.Why, measure.Say("Ranked wood is taken as %.3g to %.3g of the same wood thrown: common practice.", low, high))
		case measure.Container:
			f.Why = append(f.Why, measure.Say("Ranked wood is taken as %.3g to %.3g of the room it takes put in as it fills: common practice.", low, high))
		}
	}
	if f.Due != f.Sold.Volume {
		f.Why = append(f.Why, measure.Say("Of the %s sold, %s is said not to be in this stack.", f.Sold, f.Apart.Quantity))
	}
}

// ThrownShare is the share, low and high, that wood thrown in is expected to make
// of its volume when it is ranked, for a piece length; 0 is not known. Both are
// ratios; common practice, no source.
func ThrownShare(piece measure.Length) (low, high float64) {
	return thrownToRanked(piece.In(measure.Inch))
}
