package rules

// HowKnown counts the items of a set by how they are known, each limit of moisture and each
// rule on moving wood for itself.
func (s Set) HowKnown() (read, secondHand, fromMemory int) {
	for _, k := range s.known() {
		switch k.Status {
		case Read:
			read++
		case SecondHand:
			secondHand++
		default:
			fromMemory++
		}
	}
	return read, secondHand, fromMemory
}

// known are the sources of all items.
func (s Set) known() []Known {
	var all []Known
	for _, u := range s.Units {
		all = append(all, u.Known)
	}
	for _, terms := range [][]Term{s.Barred, s.Undefined, s.Defined} {
		for _, t := range terms {
			all = append(all, t.Known)
		}
	}
	for _, f := range s.Required {
		all = append(all, f.Known)
	}
	for _, list := range [][]CordMeasure{s.Ranked, s.Loose} {
		for _, m := range list {
			all = append(all, m.Known)
		}
	}
	for _, m := range s.Moving {
		all = append(all, m.Known)
	}
	for _, p := range s.Printed {
		all = append(all, p.Known)
	}
	for _, n := range s.Notices {
		all = append(all, n.Known)
	}
	return append(all, s.singles()...)
}

// singles are the sources of what a set has one of.
func (s Set) singles() []Known {
	var all []Known
	if s.Reading != nil {
		all = append(all, s.Reading.Known)
	}
	if s.Tolerance != nil {
		all = append(all, s.Tolerance.Known)
	}
	if s.Shares != nil {
		all = append(all, s.Shares.Known)
	}
	if s.Retention != nil {
		all = append(all, s.Retention.Known)
	}
	if s.Tax != nil {
		all = append(all, s.Tax.Known)
	}
	if s.Pieces != nil {
		all = append(all, s.Pieces.Known)
	}
	if s.Label != nil {
		all = append(all, s.Label.Known)
	}
	if s.Seasoned != nil {
		all = append(all, s.Seasoned.Known)
	}
	if l := s.Lots; l != nil {
		all = append(all, l.Known, l.Samples.Known, l.Factors.Known, l.Short.Known, l.Twice.Known)
	}
	if s.Moisture != nil {
		all = append(all, s.Moisture.Known)
		for _, l := range s.Moisture.Limits {
			all = append(all, l.Known)
		}
	}
	return all
}
