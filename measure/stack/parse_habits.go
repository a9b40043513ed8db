package stack

import (
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// firstFormat is the format of a tally that lacks what model 2 asks besides: how the
// readings were rounded, what the tape is made of, gaps counted, questions answered.
const FirstFormat = 1

// readHabits reads what the tape is made of and how readings fall between its marks.
func (d *Document) readHabits(t *Tally, errs *measure.InputErrors) {
	if oneOf(string(d.TapeMade), "tape_made", errs, "", string(SteelTape), string(ClothTape)) {
		t.TapeMade = TapeMade(d.TapeMade)
	}
	if oneOf(string(d.Rounded), "rounded", errs, "", string(RoundNearest), string(RoundDown)) {
		t.Rounded = Rounding(d.Rounded)
	}
}

// readStowing reads how the stowing was looked at, and the gaps where they were
// counted.
func (d *Document) readStowing(t *Tally, errs *measure.InputErrors) {
	if oneOf(string(d.Stowed), "stowed", errs, "", string(StowingChecked), string(StowingCounted)) {
		t.Stowed = Stowing(d.Stowed)
	}
	switch counted := t.Stowed == StowingCounted; {
	case counted && d.Gaps == nil:
		errs.Add("gaps", "missing", "", measure.Say("the gaps were counted, and their number is missing"), measure.Say("“count” and “pieces”"))
	case !counted && d.Gaps != nil:
		errs.Add("gaps", "out-of-place", "", measure.Say("gaps belong to stowing that was counted"), measure.Say("“stowed”: “counted”, or nothing here"))
	case counted:
		t.Gaps = d.Gaps.read(errs)
	}
}

// maxGaps is the most gaps that are counted.
const maxGaps = 10_000

func (d *GapsDocument) read(errs *measure.InputErrors) (g Gaps) {
	switch {
	case d.Count == nil:
		errs.Add("gaps.count", "missing", "", measure.Say("the number of gaps is missing"), measure.Say("a whole number from 0 to %d", maxGaps))
	case *d.Count < 0 || *d.Count > maxGaps:
		errs.Add("gaps.count", "out-of-range", strconv.Itoa(*d.Count), measure.Say("this can’t be a number of gaps"), measure.Say("a whole number from 0 to %d", maxGaps))
	default:
		g.Count = *d.Count
	}
	if d.Pieces < 1 || d.Pieces > maxWindow {
		errs.Add("gaps.pieces", "out-of-range", strconv.Itoa(d.Pieces), measure.Say("gaps are counted among pieces"), measure.Say("a whole number from 1 to %d", maxWindow))
	}
	g.Pieces = d.Pieces
	return g
}

// maxConfirmed is the most questions that a tally answers.
const MaxConfirmed = 500

// readConfirmed reads the keys of the questions answered. A key that no question has
// is left alone: a reading that was changed since is asked about again.
func (d *Document) readConfirmed(t *Tally, errs *measure.InputErrors) {
	if len(d.Confirmed) > MaxConfirmed {
		errs.Add("confirmed", "too-many", strconv.Itoa(len(d.Confirmed)), measure.Say("these are more than %d answers", MaxConfirmed), measure.Say("the keys of the questions asked"))
		return
	}
	for i, key := range d.Confirmed {
		if fault := measure.CheckText(string(key), measure.Say("the key of a question")); fault != nil {
			errs.AddAt(strict.Item("confirmed", i), fault)
			return
		}
		t.Confirmed = append(t.Confirmed, string(key))
	}
}

// refuseLater notes what a document of the first format can't hold.
func (d *Document) refuseLater(t *Tally, members []strict.Field, errs *measure.InputErrors) {
	later := func(path string) {
		errs.Add(path, "needs-format", "", measure.Say("this belongs to format %d, and the document says %d", TallyFormat, FirstFormat), measure.Say("“format”: %d", TallyFormat))
	}
	for _, name := range []string{"tape_made", "rounded", "gaps", "stacked", "stacked_by", "confirmed"} {
		if has(members, name) {
			later(name)
		}
	}
	if t.Stowed == StowingCounted {
		later("stowed")
	}
	if s, ok := t.Stack.(interface{ lies() Lie }); ok && s.lies() != "" {
		later("stack.lie")
	}
}
