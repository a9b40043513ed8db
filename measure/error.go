package measure

import (
	"slices"
	"strings"
)

// An InputError says that something a person typed was not understood or is out
// of range: what was read, what is wrong with it, and what would be accepted.
type InputError struct {
	// Field is where it stood: a path such as "stack.rows[0].heights[2]" in a
	// tally, empty where a single value was parsed.
	Field string
	// Code is a short stable name of the reason, for programs: "no-unit",
	// "not-a-number", "too-large", "negative", "ambiguous", …
	Code string
	// Got is the text exactly as read.
	Got string
	// Reason says what is wrong.
	Reason Text
	// Accepts says what would be accepted.
	Accepts Text
	// Choices are what may be meant, each to be taken with one press; empty where that is
	// more than a few.
	Choices []Choice
}

// A Choice answers what was asked about something typed.
type Choice struct {
	Field string // that takes it; empty: the one asked about
	Value string // what to put there in place of what was typed
	Label Text   // what it means
}

// Error gives all three parts in English.
func (e *InputError) Error() string {
	var b strings.Builder
	if e.Field != "" {
		b.WriteString(e.Field + ": ")
	}
	if e.Got != "" {
		b.WriteString("read “" + e.Got + "”: ")
	}
	b.WriteString(e.Reason.String())
	if e.Accepts.Key != "" {
		b.WriteString("; accepted: " + e.Accepts.String())
	}
	return b.String()
}

// InputErrors are all the faults found in one document, in reading order.
type InputErrors []*InputError

// Error joins the faults, one a line.
func (es InputErrors) Error() string {
	lines := make([]string, len(es))
	for i, e := range es {
		lines[i] = e.Error()
	}
	return strings.Join(lines, "\n")
}

// Add notes a fault of what was read at path; got is kept as it can be shown.
func (es *InputErrors) Add(path, code, got string, reason, accepts Text) {
	*es = append(*es, &InputError{Field: path, Code: code, Got: Seen(got), Reason: reason, Accepts: accepts})
}

// AddAt notes the fault of a value that was parsed by itself; err is an *InputError,
// which is left as it was.
func (es *InputErrors) AddAt(path string, err error) {
	fault := *err.(*InputError)
	fault.Field = path
	*es = append(*es, &fault)
}

// maxFaults is the most faults of one document that are listed.
const maxFaults = 200

// Listed keeps the first fault of each field, at most 200; where there are more, the
// last says how many.
func (es InputErrors) Listed() InputErrors {
	told := map[string]bool{}
	es = slices.DeleteFunc(es, func(e *InputError) bool {
		again := told[e.Field]
		told[e.Field] = true
		return again
	})
	if more := len(es) - maxFaults; more > 0 {
		return append(es[:maxFaults], &InputError{Code: "too-many-faults", Reason: Say("there are %d more faults", more)})
	}
	return es
}
