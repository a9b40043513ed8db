package orders

import "wellstowed/measure"

// A Kind sorts errors by what a person can do about them. The list only grows at
// its end.
type Kind uint8

// The kinds of error; the zero Kind is Internal.
const (
	Internal  Kind = iota // ours; the person gets a reference, not the text
	Invalid               // something typed is missing or wrong
	NotFound              // no such thing, or not for this person
	Conflict              // somebody else changed it first
	Forbidden             // this role may not
)

// An Error is what every method of Service returns on failure.
type Error struct {
	Kind    Kind
	Message measure.Text // for people: what was read, what is wrong, what is accepted
	// Fields are the faults by field name as the request names them
	// ("customer.name", "quantity", "stack.rows[0].length"), in reading order.
	Fields []*measure.InputError
	Err    error // for the log only
}
