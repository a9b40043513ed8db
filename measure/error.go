package measure

import "strings"

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

// in puts the fault into a part of the document.
func (e *InputError) in(path string) *InputError {
	e.Field = member(path, e.Field)
	return e
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
