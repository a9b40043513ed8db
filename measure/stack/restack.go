package stack

import (
	"math"

	"wellstowed/measure"
)

// Stacked is whether a stack is the one of the check before; the zero Stacked is not said.
type Stacked string

// What a stack can be at a further check.
const (
	SameStack    Stacked = "same"
	StackedAgain Stacked = "again"
)

// Stacker is who stacked wood again; the zero Stacker is not said.
type Stacker string

// Who it can be, besides a Party.
const (
	StackedAsBefore Stacker = "before" // whoever stacked it before
	StackedByOther  Stacker = "other"
)

// readStacked reads whether the wood was stacked again since the check before.
func (d *Document) readStacked(t *Tally, errs *measure.InputErrors) {
	if oneOf(string(d.Stacked), "stacked", errs, "", string(SameStack), string(StackedAgain)) {
		t.Stacked = Stacked(d.Stacked)
	}
	if oneOf(string(d.StackedBy), "stacked_by", errs, "", string(StackedAsBefore), string(Buyer), string(Seller), string(Inspector), string(StackedByOther)) {
		t.StackedBy = Stacker(d.StackedBy)
	}
	if t.StackedBy != "" && t.Stacked != StackedAgain {
		errs.Add("stacked_by", "out-of-place", string(d.StackedBy), measure.Say("this says who stacked the wood again, and it isn’t said that it was"), measure.Say("“stacked”: “again”, or nothing here"))
	}
}

// A Restack holds two tallies of one lot of wood against each other, as ratios of their
// mean volume.
type Restack struct {
	Difference float64 `json:"difference"` // how much more the second measures, but for what its shape explains
	// Read is the standard uncertainty of the difference from the readings alone: what
	// each tally read anew.
	Read float64 `json:"read"`
	Luck float64 `json:"luck"` // and from the pieces' lying otherwise, however they are stacked; 0 for one stack
}

// Restacked holds two tallies of the same ranked wood against each other, the second of
// the stack as it was read again or of the wood stacked again. The error is an
// *InputError.
func Restacked(first, second Tally) (Restack, error) {
	var e [2]estimate
	for i, t := range []Tally{first, second} {
		var err error
		if e[i], err = t.estimate(); err != nil {
			return Restack{}, err
		}
		if e[i].basis != measure.Ranked || e[i].value <= 0 {
			return Restack{}, unfit("stack.kind", "basis", t.Stack.Kind(), measure.Say("only stacked wood tells how tightly it is stacked"), measure.Say("tallies of stacked wood"))
		}
	}
	a, b := &e[0], &e[1]
	mean := (a.value + b.value) / 2
	var more float64 // of the first, by its shape
	if first, second := a.outline(), b.outline(); first != 0 && second != 0 {
		more = float64(first - second)
	}
	r := Restack{Difference: (b.value - a.value + more) / mean, Read: combine(ownParts(a, b), "").u / mean}
	if second.Stacked == StackedAgain {
		r.Luck = pieceLuck * math.Sqrt(1/max(a.pieces, 1)+1/max(b.pieces, 1))
	}
	return r, nil
}

// EnoughRestacks is the number of pairs from which the constant of stowing is worked out:
// at 30 it is known to about 13 %, by 1/√(2n).
const EnoughRestacks = 30

// StowingOf is the standard uncertainty of how tightly one person stacks, a ratio of the
// volume, from pairs that two different people stacked: each adds it once. It is 0 where
// the readings alone explain what the pairs differ by, and ok is false for fewer than
// EnoughRestacks.
func StowingOf(pairs []Restack) (share float64, ok bool) {
	if len(pairs) < EnoughRestacks {
		return 0, false
	}
	var sum float64
	for _, p := range pairs {
		sum += (p.Difference*p.Difference - p.Read*p.Read - p.Luck*p.Luck) / 2
	}
	return math.Sqrt(max(sum/float64(len(pairs)), 0)), true
}

// A StowingConstants is what the model takes for how tightly wood is stowed, ratios of
// the volume, by how it was looked at.
type StowingConstants struct{ NotSaid, Checked, Counted float64 }

// StowingTaken are those of the present model.
func StowingTaken() StowingConstants {
	return StowingConstants{stowageNotSaid, stowageChecked, stowageCounted}
}
