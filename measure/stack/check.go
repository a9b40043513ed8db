package stack

import (
	"strconv"

	"wellstowed/measure"
)

// check refuses what ParseTally does not make and the arithmetic cannot bear. A
// Stack checks its own readings.
func (t *Tally) check() error {
	switch {
	case t.Stack == nil:
		return unfit("stack", "missing", "", measure.Say("no stack was measured"), measure.Say("a stack with its readings"))
	case t.Tape <= 0:
		return unfit("tape", "too-small", "", measure.Say("the smallest division of the tape is not above 0"), measure.Say("a length such as 1/4 in"))
	case t.Top != ByEye && t.Top != Straightedge:
		return unfit("top", "unknown", string(t.Top), measure.Say("this isn’t a way to judge the top of the wood"), measure.Say("“straightedge” or “by eye”"))
	case t.Raised < 0:
		return unfit("raised", "negative", "", measure.Say("a height below the wood is 0 or more"), measure.Say("a length such as 4 in"))
	case t.Look < 1:
		return unfit("look", "too-small", strconv.Itoa(t.Look), measure.Say("checks are numbered from 1"), measure.Say("1 or more"))
	}
	return nil
}

// check refuses rows whose area cannot be worked out.
func (s Rows) check(t *Tally) error {
	if len(s.Rows) == 0 {
		return unfit("stack.rows", "missing", "", measure.Say("the stack has no rows"), measure.Say("at least one row"))
	}
	for i := range s.Rows {
		fault := s.Rows[i].check(t.Raised)
		if fault == nil && !s.PiecesOf(i).known() {
			fault = unfit("pieces", "missing", "", measure.Say("nothing is known of the piece length"),
				measure.Say("measured pieces above 0, or a nominal length above %s", measure.Length(nominalLess)))
		}
		if fault != nil {
			fault.Field = at("stack.rows", i) + "." + fault.Field
			return fault
		}
	}
	return nil
}

// check gives a fault with its field inside the row.
func (r *Row) check(raised measure.Length) *measure.InputError {
	if r.Photo != nil { // it was measured when it was read
		return nil
	}
	if r.Length <= 0 {
		return unfit("length", "too-small", "", measure.Say("a row is longer than 0"), measure.Say("a length such as 8 ft"))
	}
	if len(r.Heights) == 0 {
		return unfit("heights", "missing", "", measure.Say("the row has no height"), measure.Say("at least one height"))
	}
	for i, h := range r.Heights {
		if h <= raised {
			return unfit(at("heights", i), "too-small", "",
				measure.Say("the height %s is not above the %s that the wood is raised", h, raised),
				measure.Say("a height taken from the same place as the part taken off"))
		}
	}
	if fault := r.checkBack(raised); fault != nil {
		return fault
	}
	if fault := r.checkPositions(); fault != nil {
		return fault
	}
	for i, v := range r.Voids {
		if v.Width <= 0 || v.Height <= 0 {
			return unfit(at("voids", i), "too-small", "", measure.Say("a gap is wider and higher than 0"), measure.Say("lengths such as 12 in"))
		}
	}
	return r.checkEnds()
}

func (r *Row) checkBack(raised measure.Length) *measure.InputError {
	if len(r.Back) > 0 && len(r.Back) != len(r.Heights) {
		return unfit("back", "mismatch", "", measure.Say("%d heights of the back face stand beside %d of the front", len(r.Back), len(r.Heights)),
			measure.Say("one for each height, at the same places, or none"))
	}
	for i, h := range r.Back {
		if h <= raised {
			return unfit(at("back", i), "too-small", "",
				measure.Say("the height %s is not above the %s that the wood is raised", h, raised),
				measure.Say("a height taken from the same place as the part taken off"))
		}
	}
	if s := r.Slope; s.Rise < 0 || s.Run < 0 || s.Held != "" && s.Held != Perpendicular && s.Held != Vertical {
		return unfit("slope", "unknown", string(s.Held), measure.Say("this isn’t a slope"), measure.Say("heights held perpendicular, or vertical with rise and run"))
	}
	return nil
}

func (r *Row) checkPositions() *measure.InputError {
	if len(r.Positions) == 0 {
		return nil
	}
	if len(r.Positions) != len(r.Heights) {
		return unfit("positions", "mismatch", "", measure.Say("%d positions stand beside %d heights", len(r.Positions), len(r.Heights)),
			measure.Say("one position for each height, or none"))
	}
	last := measure.Length(-1)
	for i, x := range r.Positions {
		if x <= last || x > r.Length {
			return unfit(at("positions", i), "out-of-order", "", measure.Say("the position %s is outside the row or not past the one before", x),
				measure.Say("positions from one end on, from 0 to %s", r.Length))
		}
		last = x
	}
	return nil
}

func (r *Row) checkEnds() *measure.InputError {
	inside := measure.Length(0)
	for i := range r.Ends {
		if fault := r.Ends[i].check(); fault != nil {
			fault.Field = at("ends", i) + "." + fault.Field
			return fault
		}
		if r.Ends[i].Kind == Shouldered {
			inside += r.Ends[i].Over
		}
	}
	if inside > r.Length {
		return unfit("ends", "too-large", "", measure.Say("the shoulders run over %s, more than the row’s %s", inside, r.Length),
			measure.Say("shoulders inside the row length"))
	}
	return nil
}

func (e *End) check() *measure.InputError {
	switch e.Kind {
	case Upright, Shouldered, Tapered, Cribbed:
	default:
		return unfit("kind", "unknown", string(e.Kind), measure.Say("this isn’t a kind of end"),
			measure.Say("“upright”, “shouldered”, “tapered” or “cribbed”"))
	}
	if e.Kind != Upright && e.Over <= 0 {
		return unfit("over", "too-small", "", measure.Say("the end runs over no length"), measure.Say("a length above 0"))
	}
	if e.Drop < 0 {
		return unfit("drop", "negative", "", measure.Say("a shoulder drops by 0 or more"), measure.Say("a length such as 8 in"))
	}
	if !(e.Share >= 0 && e.Share <= 1) {
		return unfit("share", "out-of-range", "", measure.Say("a share of %.3g isn’t part of a crib", e.Share), measure.Say("0 to 1"))
	}
	return nil
}

// at is the path of one item of a list.
func at(list string, i int) string { return list + "[" + strconv.Itoa(i) + "]" }

// unfit makes the error of a tally that cannot be measured.
func unfit(field, code, got string, reason, accepts measure.Text) *measure.InputError {
	return &measure.InputError{Field: field, Code: code, Got: got, Reason: reason, Accepts: accepts}
}
