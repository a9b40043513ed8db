package act

import (
	"errors"
	"strings"

	"wellstowed/measure"
)

// A Kind sorts errors by what a person can do about them. The list only grows at
// its end.
type Kind uint8

// The kinds of error; the zero Kind is Internal.
const (
	Internal    Kind = iota // ours; the person gets a reference, not the text
	Invalid                 // something typed is missing or wrong
	NotFound                // no such thing, or not for this person
	Conflict                // somebody else changed it first
	Forbidden               // this role may not
	Unknown                 // nobody is signed in, or not lately enough for this
	Unavailable             // the file, its disk or another program stands against it; send it again
)

// String names the kind, for logs.
func (k Kind) String() string {
	switch k {
	case Internal:
		return "internal"
	case Invalid:
		return "invalid"
	case NotFound:
		return "not found"
	case Conflict:
		return "conflict"
	case Forbidden:
		return "forbidden"
	case Unknown:
		return "nobody known"
	case Unavailable:
		return "unavailable"
	}
	return "unknown"
}

// An Error is what every act that fails returns.
type Error struct {
	Kind    Kind
	Message measure.Text // for people: what was read, what is wrong, what is accepted
	// Fields are the faults by field name as the request names them
	// ("customer_name", "quantity", "stack.rows[0].length"), in reading order.
	Fields []*measure.InputError
	// Saved is what the same request did before, where it came again to do something
	// else or with other content; nil otherwise.
	Saved *Saved
	Err   error // for the log only
}

// Saved is an act that was done, and what came of it as it is now.
type Saved struct {
	Done
	Thing any // as the act gives it; nil for another act than was asked
}

// Error gives the kind and all that is known, in English, for logs and tests.
func (e *Error) Error() string {
	parts := []string{e.Kind.String()}
	if e.Message.Key != "" {
		parts = append(parts, e.Message.String())
	}
	for _, f := range e.Fields {
		parts = append(parts, f.Error())
	}
	if e.Err != nil {
		parts = append(parts, e.Err.Error())
	}
	return strings.Join(parts, ": ")
}

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// KindOf tells what a person can do about err: the Kind of the *Error in its
// chain, Internal when there is none.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}

// Fail turns any error into an *Error, so that callers meet no other.
func Fail(err error) error {
	var e *Error
	switch {
	case err == nil:
		return nil
	case errors.As(err, &e):
		return e
	}
	return &Error{Kind: Internal, Message: measure.Say("something went wrong in the program; nothing was saved"), Err: err}
}

// NewConflict is an *Error of Kind Conflict.
func NewConflict(key string, args ...any) error {
	return &Error{Kind: Conflict, Message: measure.Say(key, args...)}
}

// NewNotFound is an *Error of Kind NotFound.
func NewNotFound(key string, args ...any) error {
	return &Error{Kind: NotFound, Message: measure.Say(key, args...)}
}
