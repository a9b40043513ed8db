package measure

import "strconv"

// check refuses what ParseTally does not make and the arithmetic cannot bear. A
// Stack checks its own readings.
func (t *Tally) check() error {
	switch {
	case t.Stack == nil:
		return refuse("stack", "missing", "", Say("no stack was measured"), Say("a stack with its readings"))
	case t.Tape <= 0:
		return refuse("tape", "too-small", "", Say("the smallest division of the tape is not above 0"), Say("a length such as 1/4 in"))
	case t.Top != ByEye && t.Top != Straightedge:
		return refuse("top", "unknown", string(t.Top), Say("this is no way to judge the top of the wood"), Say("“straightedge” or “by eye”"))
	case t.Raised < 0:
		return refuse("raised", "negative", "", Say("a height below the wood is 0 or more"), Say("a length such as 4 in"))
	case t.Look < 1:
		return refuse("look", "too-small", strconv.Itoa(t.Look), Say("looks are numbered from 1"), Say("1 or more"))
	}
	return nil
}

// check refuses rows whose area cannot be worked out.
func (s Rows) check(t *Tally) error {
	if len(s.Rows) == 0 {
		return refuse("stack.rows", "missing", "", Say("the stack has no rows"), Say("at least one row"))
	}
	for i := range s.Rows {
		path := "stack.rows[" + strconv.Itoa(i) + "]"
		if err := s.Rows[i].check(t.Raised, path); err != nil {
			return err
		}
		if !s.piecesOf(i).known() {
			return refuse(path+".pieces", "missing", "", Say("nothing is known of the piece length"),
				Say("measured pieces above 0, or a nominal length above %s", Length(nominalLess)))
		}
	}
	return nil
}

func (r *Row) check(raised Length, path string) error {
	if r.Length <= 0 {
		return refuse(path+".length", "too-small", "", Say("a row is longer than 0"), Say("a length such as 8 ft"))
	}
	if len(r.Heights) == 0 {
		return refuse(path+".heights", "missing", "", Say("the row has no height"), Say("at least one height"))
	}
	for i, h := range r.Heights {
		if h <= raised {
			return refuse(path+".heights["+strconv.Itoa(i)+"]", "too-small", "",
				Say("the height %s is not above the %s that the wood is raised", h, raised),
				Say("a height taken from the same place as the part taken off"))
		}
	}
	if err := r.checkPositions(path + ".positions"); err != nil {
		return err
	}
	return r.checkEnds(path + ".ends")
}

func (r *Row) checkPositions(path string) error {
	if len(r.Positions) == 0 {
		return nil
	}
	if len(r.Positions) != len(r.Heights) {
		return refuse(path, "mismatch", "", Say("%d positions stand beside %d heights", len(r.Positions), len(r.Heights)),
			Say("one position for each height, or none"))
	}
	last := Length(-1)
	for i, x := range r.Positions {
		if x <= last || x > r.Length {
			return refuse(path+"["+strconv.Itoa(i)+"]", "out-of-order", "", Say("the position %s is outside the row or not past the one before", x),
				Say("positions from one end on, from 0 to %s", r.Length))
		}
		last = x
	}
	return nil
}

func (r *Row) checkEnds(path string) error {
	inside := Length(0)
	for i, e := range r.Ends {
		at := path + "[" + strconv.Itoa(i) + "]"
		switch e.Kind {
		case Upright:
		case Tapered, Cribbed, Shouldered:
			if e.Over <= 0 {
				return refuse(at+".over", "too-small", "", Say("the end runs over no length"), Say("a length above 0"))
			}
		default:
			return refuse(at+".kind", "unknown", string(e.Kind), Say("this is no kind of end"),
				Say("“upright”, “shouldered”, “tapered” or “cribbed”"))
		}
		if e.Kind == Shouldered {
			inside += e.Over
		}
		if !(e.Share >= 0 && e.Share <= 1) {
			return refuse(at+".share", "out-of-range", "", Say("a share of %.3g is no part of a crib", e.Share), Say("0 to 1"))
		}
	}
	if inside > r.Length {
		return refuse(path, "too-large", "", Say("the shoulders run over %s, more than the row’s %s", inside, r.Length),
			Say("shoulders inside the row length"))
	}
	return nil
}

func refuse(field, code, got string, reason, accepts Text) *InputError {
	return &InputError{Field: field, Code: code, Got: got, Reason: reason, Accepts: accepts}
}
