package wood

import (
	"strings"

	"wellstowed/measure"
)

// A Method is how moisture is read.
type Method string

// The methods.
const (
	PinMeter    Method = "pin meter"    // electrical resistance, reads dry basis
	PinlessScan Method = "pinless scan" // electrical field
	OvenDrying  Method = "oven"         // weighed, dried at 103 °C to constant mass, weighed
)

// Methods are all that are taken.
func Methods() []Method { return []Method{PinMeter, PinlessScan, OvenDrying} }

// ParseMethod reads a method by its name. The error is a *measure.InputError.
func ParseMethod(s string) (Method, error) {
	for _, m := range Methods() {
		if strings.EqualFold(strings.TrimSpace(s), string(m)) {
			return m, nil
		}
	}
	return "", &measure.InputError{
		Code: "unknown", Got: shown(s), Reason: measure.Say("this isn’t a way of reading moisture that is known here"),
		Accepts: measure.Say("pin meter, pinless scan or oven"),
	}
}

// A Reading is one moisture as read on one piece.
type Reading struct {
	Moisture Moisture `json:"moisture"`
	Method   Method   `json:"method"`
	Piece    int      `json:"piece"` // counts from 1
	// FreshFace tells that it was read in the middle of a freshly split face;
	// an old face is drier than the inside.
	FreshFace bool `json:"fresh_face"`
	// Temperature is the wood's, nil where it was not read.
	Temperature *Temperature `json:"millidegrees_celsius,omitempty"`
	// Accuracy is how far the meter may be out either way by its manual; nil where that
	// was not said.
	Accuracy *Points `json:"accuracy_thousandths,omitempty"`
	// Correction is what is added to it for the species, by the meter's own table; nil
	// where it was not corrected, and 0 where the meter was set to the species.
	Correction *Points `json:"correction_thousandths,omitempty"`
}

// Most readings in one set, and pieces in it.
const MaxReadings = 500

// ParseReadings reads percentages as written down at a stack: one piece a line, or
// pieces separated by commas or semicolons, and several readings of one piece side by
// side ("18.5 19"). Each is like in all but its moisture and its piece. A comma
// between digits is refused: it may be a decimal. The error is a
// *measure.InputError.
func ParseReadings(text string, like Reading, basis Basis) ([]Reading, error) {
	if basis != Dry && basis != Wet {
		return nil, noBasis(string(basis))
	}
	if at := commaBetweenDigits(text); at >= 0 {
		return nil, &measure.InputError{
			Code: "ambiguous", Got: shown(text[max(0, at-4):min(len(text), at+5)]),
			Reason:  measure.Say("the comma may be a decimal or part two pieces"),
			Accepts: measure.Say("a point for decimals, and each piece on its own line"),
		}
	}
	var readings []Reading
	piece := 0
	for line := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == '\n' || r == ',' || r == ';' }) {
		values := strings.Fields(strings.ReplaceAll(line, "%", " "))
		if len(values) > 0 {
			piece++
		}
		for _, value := range values {
			m, err := ParseMoisture(value, basis)
			if err != nil {
				return nil, err
			}
			r := like
			r.Moisture, r.Piece = m, piece
			if readings = append(readings, r); len(readings) > MaxReadings {
				return nil, tooMany()
			}
		}
	}
	if len(readings) == 0 {
		return nil, &measure.InputError{Code: "missing", Reason: measure.Say("no reading was given"),
			Accepts: measure.Say("percentages, one piece a line, such as 18.5")}
	}
	return readings, nil
}

func tooMany() error {
	return &measure.InputError{Code: "too-many", Reason: measure.Say("these are more than %d readings", MaxReadings),
		Accepts: measure.Say("up to %d readings in one set", MaxReadings)}
}

// commaBetweenDigits is the place of such a comma, -1 without one.
func commaBetweenDigits(text string) int {
	digit := func(i int) bool { return i >= 0 && i < len(text) && text[i] >= '0' && text[i] <= '9' }
	for i := range len(text) {
		if text[i] == ',' && digit(i-1) && digit(i+1) {
			return i
		}
	}
	return -1
}
