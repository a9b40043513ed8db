package wood

import (
	"errors"

	"wellstowed/measure"
)

// An Ask is a question about a load as typed. Errors name its fields by these JSON
// names.
type Ask struct {
	Species  string `json:"species"`  // "red oak", or "red oak 60 %; sugar maple 40 %"
	Quantity string `json:"quantity"` // "1 cord", "180 cu ft loose"; empty: 128 ft³ in rows
	Moisture string `json:"moisture"` // "20 %", "18 % dry", or "green"
	Basis    string `json:"basis"`    // "dry" or "wet"; may stand in Moisture instead
}

// Estimate answers the question. The error is a measure.InputErrors with all faults.
func (a Ask) Estimate() (Estimate, error) {
	var faults measure.InputErrors
	note := func(field string, err error) {
		var fault *measure.InputError
		if !errors.As(err, &fault) {
			return
		}
		placed := *fault
		placed.Field = field
		faults = append(faults, &placed)
	}
	mix, err := ParseMix(a.Species)
	note("species", err)
	said, err := measure.ParseQuantity(orCord(a.Quantity))
	note("quantity", err)
	var m Moisture
	if basis, err := a.basis(); err != nil {
		note("basis", err)
	} else {
		m, err = mix.MoistureOf(a.Moisture, basis)
		note(fieldOf(err), err)
	}
	if len(faults) > 0 {
		return Estimate{}, faults
	}
	e, err := Weigh(mix, said.Quantity, m)
	note("quantity", err)
	if len(faults) > 0 {
		return Estimate{}, faults
	}
	return e, err
}

func (a Ask) basis() (Basis, error) {
	if a.Basis == "" {
		return "", nil
	}
	return ParseBasis(a.Basis)
}

func orCord(quantity string) string {
	if quantity == "" {
		return "1 cord"
	}
	return quantity
}

// fieldOf is the field that a fault in a moisture belongs to.
func fieldOf(err error) string {
	var fault *measure.InputError
	if errors.As(err, &fault) && fault.Code == "no-basis" {
		return "basis"
	}
	return "moisture"
}
