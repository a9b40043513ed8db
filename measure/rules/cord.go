package rules

import (
	"strings"

	"wellstowed/measure"
)

// CordVaries tells whether what a stacked cord is hangs on the wood.
func (s Set) CordVaries() bool { return len(s.Ranked) > 0 }

// metricAlone tells whether any wood is sold in metric units and in no others, as where
// a point may part thousands.
func (s Set) metricAlone() bool {
	metric := false
	for _, u := range s.Units {
		switch {
		case u.Only != "":
		case u.Unit == CubicMetre, u.Unit == Litre, u.Unit == CubicDecimetre:
			metric = true
		case u.Unit != Weight:
			return false
		}
	}
	return metric
}

// Terms are what a quantity in words depends on under the set, for pieces of a length
// where the words give none; 0 is not known.
func (s Set) Terms(piece measure.Length) measure.Terms {
	return measure.Terms{Piece: piece, Points: s.metricAlone(), Cord: func(b measure.Basis, piece measure.Length, how measure.Preparation) (measure.Volume, *measure.InputError) {
		m, fault := s.CordOf(b, piece, how)
		return m.Volume.Volume, fault
	}}
}

// CordOf is what the set takes a cord for, of wood that stands and is prepared so, in
// pieces of a length; nothing is taken between two lengths. The preparation is asked
// for, with the code "preparation-unsaid", where it matters and was not said; a cord
// that the set does not define has the code "needs-rule-set".
func (s Set) CordOf(b measure.Basis, piece measure.Length, how measure.Preparation) (CordMeasure, *measure.InputError) {
	list := s.Loose
	if b == measure.Ranked {
		if list = s.Ranked; len(list) == 0 {
			return CordMeasure{Volume: Amount{measure.Cord}}, nil
		}
	}
	long := ofLength(list, piece)
	var fits []CordMeasure
	for _, m := range long {
		if how == "" || m.Preparation == "" || m.Preparation == how {
			fits = append(fits, m)
		}
	}
	switch {
	case len(fits) == 1:
		return fits[0], nil
	case len(fits) > 1:
		return CordMeasure{}, askPreparation(fits)
	}
	return CordMeasure{}, noSuchCord(b, list, long, piece)
}

// ofLength are the measures for pieces of a length, or all where it is not known.
func ofLength(list []CordMeasure, piece measure.Length) []CordMeasure {
	var long []CordMeasure
	for _, m := range list {
		if piece == 0 || m.PieceFrom <= piece && piece <= m.PieceTo {
			long = append(long, m)
		}
	}
	return long
}

func askPreparation(fits []CordMeasure) *measure.InputError {
	var answers []string
	for _, m := range fits {
		if m.Preparation != "" {
			answers = append(answers, "“"+string(m.Preparation)+"”")
		}
	}
	if len(answers) < len(fits) {
		return &measure.InputError{Code: "needs-piece-length",
			Reason:  measure.Say("what a loose cord is depends on how long the pieces are, under these rules of sale"),
			Accepts: measure.Say("cubic feet or cubic metres, loose, such as 180 cu ft loose")}
	}
	return &measure.InputError{Code: "preparation-unsaid",
		Reason:  measure.Say("how is the wood prepared? Under these rules of sale a cord is %s (%s)", sizes(fits), fits[0].Source),
		Accepts: measure.Say("the same with %s after it; or a volume, such as 64 cu ft", strings.Join(answers, " or "))}
}

// noSuchCord says why no measure of a list fits; long are those for the pieces' length.
func noSuchCord(b measure.Basis, list, long []CordMeasure, piece measure.Length) *measure.InputError {
	fault := &measure.InputError{Code: "needs-rule-set", Accepts: measure.Say("cubic feet or cubic metres, such as 64 cu ft")}
	what := "a cord has no size here: %s"
	if b == measure.Loose {
		what = "a loose cord has no size here: %s"
		fault.Accepts = measure.Say("cubic feet or cubic metres, loose, such as 180 cu ft loose")
	}
	why := measure.Say("these rules of sale define one for pieces of %s alone, and these are %s", lengths(list), piece)
	switch {
	case len(list) == 0:
		why = measure.Say("these rules of sale define no loose measure")
	case len(long) > 0:
		why = measure.Say("these rules of sale define it as %s, and of no other wood in pieces of that length", sizes(long))
	}
	fault.Reason = measure.Say(what, why)
	return fault
}

// sizes lists what a cord is of which wood.
func sizes(list []CordMeasure) measure.Text {
	var all measure.Text
	for i, m := range list {
		one := measure.Say("%s", m.Volume.Volume)
		if m.Of != "" {
			one = measure.Say("%s of %s", m.Volume.Volume, measure.Say(m.Of))
		}
		if all = measure.Say("%s, %s", all, one); i == 0 {
			all = one
		}
	}
	return all
}

// lengths lists the piece lengths of measures, each once.
func lengths(list []CordMeasure) measure.Text {
	var all measure.Text
	for i, m := range list {
		one := measure.Say("%s", m.PieceFrom)
		if m.PieceFrom != m.PieceTo {
			one = measure.Say("%s to %s", m.PieceFrom, m.PieceTo)
		}
		switch {
		case i == 0:
			all = one
		case m.PieceFrom != list[i-1].PieceFrom || m.PieceTo != list[i-1].PieceTo:
			all = measure.Say("%s, %s", all, one)
		}
	}
	return all
}
