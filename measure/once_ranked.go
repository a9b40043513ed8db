package measure

// OnceRanked is what a quantity of wood is expected to make once it is ranked, of pieces of
// a length (0: not known), without the give or take of any readings: itself where it is
// ranked. What thrown wood and containers make of their volume is common practice, no
// source.
func (q Quantity) OnceRanked(piece Length) Range {
	low, high := rankedShare(q.Basis, piece.In(Inch))
	r := Range{Low: volume(q.Volume.In(CubicInch) * low), High: volume(q.Volume.In(CubicInch) * high)}
	switch {
	case q.Basis == Ranked:
		return Range{Low: q.Volume, High: q.Volume, Why: Say("It is sold stacked.")}
	case q.Basis == Container:
		r.Why = Say("What fills a container is taken to make %.3g to %.3g of its room once stacked: common practice.", low, high)
	default:
		r.Why = Say("Thrown wood is taken to make %.3g to %.3g of its volume once stacked: common practice.", low, high)
	}
	return r
}
