package stack

import "wellstowed/measure"

// OnceRanked is what a quantity of wood is expected to make once it is ranked, of pieces of
// a length (0: not known), without the give or take of any readings: itself where it is
// ranked. What thrown wood and containers make of their volume is common practice, no
// source.
func OnceRanked(q measure.Quantity, piece measure.Length) Range {
	low, high := rankedShare(q.Basis, piece.In(measure.Inch))
	r := Range{Low: volume(q.Volume.In(measure.CubicInch) * low), High: volume(q.Volume.In(measure.CubicInch) * high)}
	switch {
	case q.Basis == measure.Ranked:
		return Range{Low: q.Volume, High: q.Volume, Why: measure.Say("It is sold stacked.")}
	case q.Basis == measure.Container:
		r.Why = measure.Say("What fills a container is taken to make %.3g to %.3g of its room once stacked: common practice.", low, high)
	default:
		r.Why = measure.Say("Thrown wood is taken to make %.3g to %.3g of its volume once stacked: common practice.", low, high)
	}
	return r
}
