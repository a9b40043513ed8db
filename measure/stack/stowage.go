package stack

import (
	"math"

	"wellstowed/measure"
)

// How tightly ranked wood is stowed, as a standard uncertainty of its volume: own
// simulation of 1 430 stacks, good to a factor of stowageGoodTo.
const (
	stowageNotSaid = 0.020
	stowageChecked = 0.016
	stowageCounted = 0.012
	stowageGoodTo  = 1.5  // a factor
	pieceLuck      = 0.12 // the volume that one piece takes up, of itself: over √pieces
	mostGaps       = 8    // of 100 pieces, where the count says that the wood is tight
)

// stowage is the standard uncertainty of a volume of so many pieces, in its unit. The
// hand that stacked it is the same in all its rows; luck is shared among the pieces.
func stowage(volume, share, pieces float64) float64 {
	return volume * math.Sqrt(share*share+pieceLuck*pieceLuck/max(pieces, 1))
}

// tight tells whether the gaps were counted, and are few enough.
func (t *Tally) tight() bool {
	return t.Stowed == StowingCounted && t.Gaps.Pieces > 0 && 100*t.Gaps.Count <= mostGaps*t.Gaps.Pieces
}

// stowingShare is the standard uncertainty of the hand that stacked the wood.
func (t *Tally) stowingShare() float64 {
	switch {
	case t.tight():
		return stowageCounted
	case t.Stowed == StowingChecked:
		return stowageChecked
	}
	return stowageNotSaid
}

// addStowage puts in how tightly ranked wood is stowed, once all of it is in; wood on
// another basis is taken as it lies.
func (b *budget) addStowage(rows int) {
	if b.basis != measure.Ranked {
		return
	}
	n := b.pieces()
	of := func(share float64) float64 { return stowage(math.Abs(b.value), share, n) }
	minutes := stowingMinutes * float64(rows)
	var c cure
	switch b.tally.Stowed {
	case "":
		c = cure{code: checkStowing, u: of(stowageChecked), minutes: minutes}
	case StowingChecked:
		c = cure{code: countGaps, u: of(stowageCounted), minutes: 2 * minutes}
	}
	b.cure(Stowage, 0, of(b.tally.stowingShare()), c)
	b.noteStowage()
}

// pieces is about how many pieces the ranked wood is: as counted in a window of its
// face, else by common practice.
func (b *budget) pieces() float64 {
	perFoot := usualFace
	if w := b.window; w.Pieces > 0 {
		perFoot = float64(w.Pieces) / (w.Width.In(measure.Foot) * w.Height.In(measure.Foot))
	}
	return perFoot * math.Abs(b.face) / 144
}

func (b *budget) noteStowage() {
	switch t := b.tally; {
	case t.tight():
		b.note("How tightly the wood is stowed is taken as a standard uncertainty of %.3g of the volume, the gaps being few by count: a simulation of stacks, no published source.", stowageCounted)
	case t.Stowed == StowingCounted:
		b.note("%d gaps among %d pieces are more than %d in 100: the stowing counts as not looked at.", t.Gaps.Count, t.Gaps.Pieces, mostGaps)
		b.note("How tightly the wood is stowed is taken as a standard uncertainty of %.3g of the volume: a simulation of stacks, no published source.", stowageNotSaid)
	case t.Stowed == StowingChecked:
		b.note("How tightly the checked wood is stowed is taken as a standard uncertainty of %.3g of the volume: a simulation of stacks, no published source.", stowageChecked)
	default:
		b.note("How tightly the wood is stowed is taken as a standard uncertainty of %.3g of the volume, nobody having looked: a simulation of stacks, no published source.", stowageNotSaid)
	}
}
