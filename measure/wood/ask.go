package wood

import (
	"errors"
	"strings"

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
func (a Ask) Estimate() (Estimate, error) { return a.EstimateUnder(measure.ParseQuantityOf) }

// EstimateUnder answers the question with its quantity read as some rules of sale take
// it, of pieces of a length that is not known.
func (a Ask) EstimateUnder(read func(text string, piece measure.Length) (measure.Said, error)) (Estimate, error) {
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
	said := measure.Said{Quantity: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}}
	if a.Quantity != "" {
		said, err = read(a.Quantity, 0)
		note("quantity", err)
		note("quantity", a.sameWood(said))
	}
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

// sameWood refuses words on the wood in a quantity that name another than the species.
func (a Ask) sameWood(said measure.Said) error {
	words := strings.Join(said.Rest, ", ")
	if words == "" || strings.EqualFold(words, strings.TrimSpace(a.Species)) {
		return nil
	}
	return &measure.InputError{Code: "conflict", Got: a.Quantity, Reason: measure.Say("the quantity says %s, and the species is %s", words, a.Species),
		Accepts: measure.Say("how much wood it is, without its kind")}
}

// fieldOf is the field that a fault in a moisture belongs to.
func fieldOf(err error) string {
	var fault *measure.InputError
	if errors.As(err, &fault) && fault.Code == "no-basis" {
		return "basis"
	}
	return "moisture"
}
