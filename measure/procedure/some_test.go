package procedure_test

import (
	"math"

	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// cribShare is the wood in a crib's box, a ratio: common practice, no source.
const cribShare = 0.8

// in makes lengths of inches.
func in(values ...float64) []measure.Length {
	ls := make([]measure.Length, len(values))
	for i, v := range values {
		ls[i] = measure.Length(math.Round(v * float64(measure.Inch)))
	}
	return ls
}

func upright() [2]stack.End { return [2]stack.End{{Kind: stack.Upright}, {Kind: stack.Upright}} }

// carefully is a tally of a stack that was read with care.
func carefully(s stack.Stack) stack.Tally {
	return stack.Tally{Look: 1, Tape: measure.Inch / 4, Top: stack.Straightedge, Stowed: stack.StowingChecked, Stack: s}
}

func loadTally() stack.Tally {
	return carefully(stack.Load{Arrangement: measure.Loose, Box: stack.Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot, Heights: in(20, 20, 20, 20)}})
}

func boxedTally() stack.Tally {
	return carefully(stack.Packaged{Method: stack.Boxed, Sections: []stack.Section{{
		Inside: 24 * measure.Inch, Headspace: in(1, 1.3, 0.9, 1.2, 1.1, 0.7), Widths: in(16, 16.1, 15.9), Pieces: in(15.7, 15.9, 16, 15.8, 16.1),
	}}})
}

func quarters(t *rapid.T, low, high int, name string) measure.Length {
	return measure.Length(rapid.IntRange(4*low, 4*high).Draw(t, name)) * (measure.Inch / 4)
}

func someLengths(t *rapid.T, low, high, most int, name string) []measure.Length {
	ls := make([]measure.Length, rapid.IntRange(1, most).Draw(t, name+" count"))
	for i := range ls {
		ls[i] = quarters(t, low, high, name)
	}
	return ls
}

func someEnd(t *rapid.T) stack.End {
	e := stack.End{Kind: rapid.SampledFrom([]stack.EndKind{stack.Upright, stack.Shouldered, stack.Tapered, stack.Cribbed}).Draw(t, "end")}
	if e.Kind != stack.Upright {
		e.Over = quarters(t, 1, 20, "over")
	}
	switch e.Kind {
	case stack.Shouldered:
		e.Drop = quarters(t, 1, 10, "drop")
	case stack.Cribbed:
		e.Share = cribShare
	}
	return e
}

// someTally is of ranked rows with ends, gaps and pieces of all sorts.
func someTally(t *rapid.T) stack.Tally {
	s := stack.Rows{Pieces: stack.Pieces{Sample: someLengths(t, 12, 24, 12, "piece")}}
	for range rapid.IntRange(1, 5).Draw(t, "rows") {
		r := stack.Row{Length: quarters(t, 60, 400, "length"), Heights: someLengths(t, 30, 90, 8, "height"), Ends: [2]stack.End{someEnd(t), someEnd(t)}}
		if rapid.Bool().Draw(t, "void") {
			r.Voids = []stack.Void{{Width: quarters(t, 1, 20, "void width"), Height: quarters(t, 1, 20, "void height")}}
		}
		if rapid.Bool().Draw(t, "own pieces") {
			r.Pieces.Sample = someLengths(t, 12, 24, 6, "own piece")
		}
		s.Rows = append(s.Rows, r)
	}
	tally := carefully(s)
	tally.Raised = quarters(t, 0, 6, "raised")
	return tally
}
