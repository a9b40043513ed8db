package stack

import "wellstowed/measure"

// WithUnit gives what was typed in a form's field with the field's unit, "in",
// added where it is a bare number, and unchanged where it is anything else.
func WithUnit(s, unit string) Reading {
	if measure.PlainNumber(s) {
		return Reading(s + " " + unit)
	}
	if _, err := measure.ParseLength(s); err == nil {
		return Reading(s)
	}
	if _, err := measure.ParseLengthIn(s, measure.Nanometre); err != nil {
		return Reading(s)
	}
	return Reading(s + " " + unit)
}
