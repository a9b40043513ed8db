package stack

import (
	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// Lie is how the pieces lie in a bin or a truck bed that holds whole rows; the zero
// Lie is not said.
type Lie string

// The ways of lying.
const (
	Across Lie = "across" // their length along the width
	Along  Lie = "along"  // their length along the length
)

// readLie reads how pieces lie; only ranked wood lies one way.
func (r *rowsReader) readLie(reading Reading, arrangement measure.Basis) Lie {
	path := strict.Member(r.path, "lie")
	switch {
	case reading == "" || !oneOf(string(reading), path, r.errs, string(Across), string(Along)):
		return ""
	case arrangement != measure.Ranked:
		r.errs.Add(path, "out-of-place", string(reading), measure.Say("only ranked pieces lie one way"), measure.Say("nothing here"))
		return ""
	}
	return Lie(reading)
}

func (s Bin) lies() Lie  { return s.Lie }
func (s Load) lies() Lie { return s.Lie }
