// Package strict reads JSON to the letter: each name once, no name that is no field, faults by
// their path in the order written.
package strict

import (
	"bytes"
	"encoding/json"
	"errors"

	"wellstowed/measure"
)

// maxNesting is how deep brackets may nest.
const MaxNesting = 16

// Decode decodes a JSON text into the struct that into points at, names to the
// letter and each once. The error is InputErrors: every field that is unknown, stands
// twice or is of another kind than its own, by its path ("order.quantity"), in reading
// order; one without a path where the text is not one JSON value.
func Decode(doc []byte, into any) error {
	doc = bytes.TrimSpace(doc)
	accepts := measure.Say("one JSON object")
	if TooDeep(doc) {
		return measure.InputErrors{{Code: "too-deep", Reason: measure.Say("brackets are nested more than %d deep", MaxNesting), Accepts: accepts}}
	}
	if fault := CheckJSON(doc, accepts); fault != nil {
		return measure.InputErrors{fault}
	}
	var errs measure.InputErrors
	Into(doc, into, "", &errs)
	if len(errs) > 0 {
		return errs.Listed()
	}
	return nil
}

// CheckJSON refuses what is not one JSON value.
func CheckJSON(doc []byte, accepts measure.Text) *measure.InputError {
	if json.Valid(doc) {
		return nil
	}
	var value json.RawMessage
	err := json.Unmarshal(doc, &value) // says what is wrong
	fault := &measure.InputError{Code: "bad-json", Reason: measure.Say("this is not a JSON document: %s", err.Error()), Accepts: accepts}
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		fault.Reason = measure.Say("this is not a JSON document, at byte %d: %s", int(syntax.Offset), err.Error())
	}
	return fault
}

// TooDeep tells whether brackets outside text nest deeper than maxNesting.
func TooDeep(doc []byte) bool {
	depth, inText := 0, false
	for i := 0; i < len(doc); i++ {
		switch c := doc[i]; {
		case inText && c == '\\':
			i++
		case c == '"':
			inText = !inText
		case inText:
		case c == '{' || c == '[':
			depth++
		case c == '}' || c == ']':
			depth--
		}
		if depth > MaxNesting {
			return true
		}
	}
	return false
}
