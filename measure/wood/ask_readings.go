package wood

import (
	"errors"

	"wellstowed/measure"
)

// An AskReadings is a set of moisture readings as typed, all with one meter, on faces of
// one kind, of wood of one temperature. Errors name its fields by these JSON names.
type AskReadings struct {
	Readings    string `json:"readings"`    // percentages, one piece a line
	Basis       string `json:"basis"`       // "dry" or "wet"; never guessed
	Method      string `json:"method"`      // "pin meter", "pinless scan" or "oven"
	FreshFace   string `json:"fresh_face"`  // "yes" or "no": read on freshly split faces
	Temperature string `json:"temperature"` // the wood's, "50 F"; empty: not read
	Accuracy    string `json:"accuracy"`    // the meter's, in points either way; empty: UsualAccuracy
	Correction  string `json:"correction"`  // for the species, in points to add; empty: not corrected
	Limit       string `json:"limit"`       // "20 % dry", at most; empty: what Judge is given
}

// Judge reads the readings and judges them, by a limit where none was typed. The error is
// a measure.InputErrors with all faults.
func (a AskReadings) Judge(limit Limit) ([]Reading, Season, error) {
	var faults measure.InputErrors
	note := func(field string, err error) {
		var fault *measure.InputError
		if errors.As(err, &fault) {
			placed := *fault
			if placed.Field == "" {
				placed.Field = field
			}
			faults = append(faults, &placed)
		}
	}
	basis, err := ParseBasis(a.Basis)
	note("basis", err)
	like := a.like(note)
	if a.Limit != "" {
		limit.AtMost = true
		limit.Moisture, err = ParseMoisture(a.Limit, "")
		note("limit", err)
	}
	var readings []Reading
	if basis != "" {
		readings, err = ParseReadings(a.Readings, like, basis)
		note("readings", err)
	}
	if len(faults) > 0 {
		return nil, Season{}, faults
	}
	season, err := Judge(readings, limit)
	if note("readings", err); len(faults) > 0 {
		return nil, Season{}, faults
	}
	return readings, season, nil
}

// like is what all the readings have in common.
func (a AskReadings) like(note func(string, error)) (r Reading) {
	var err error
	r.Method, err = ParseMethod(a.Method)
	note("method", err)
	switch a.FreshFace {
	case "yes", "no":
		r.FreshFace = a.FreshFace == "yes"
	default: // a silent “no” would hide a question
		note("fresh_face", &measure.InputError{Code: "unknown", Got: shown(a.FreshFace), Reason: measure.Say("it is not said"), Accepts: measure.Say("yes or no")})
	}
	r.Temperature = optional(a.Temperature, "temperature", ParseTemperature, note)
	r.Accuracy = optional(a.Accuracy, "accuracy", ParseAccuracy, note)
	r.Correction = optional(a.Correction, "correction", ParseCorrection, note)
	return r
}

// optional reads what may be left empty.
func optional[T any](text, field string, parse func(string) (T, error), note func(string, error)) *T {
	if text == "" {
		return nil
	}
	v, err := parse(text)
	if note(field, err); err != nil {
		return nil
	}
	return &v
}
