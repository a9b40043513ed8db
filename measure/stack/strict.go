package stack

import (
	"bytes"

	"wellstowed/measure"
)

// DecodeStrict decodes a JSON text into the struct that into points at, names to the
// letter and each once. The error is InputErrors: every field that is unknown, stands
// twice or is of another kind than its own, by its path ("order.quantity"), in reading
// order; one without a path where the text is not one JSON value.
func DecodeStrict(doc []byte, into any) error {
	doc = bytes.TrimSpace(doc)
	accepts := measure.Say("one JSON object")
	if tooDeep(doc) {
		return measure.InputErrors{{Code: "too-deep", Reason: measure.Say("brackets are nested more than %d deep", maxNesting), Accepts: accepts}}
	}
	if fault := checkJSON(doc, accepts); fault != nil {
		return measure.InputErrors{fault}
	}
	var errs measure.InputErrors
	decodeStrict(doc, into, "", &errs)
	if len(errs) > 0 {
		return errs.Listed()
	}
	return nil
}
