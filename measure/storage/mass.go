package storage

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// ShortTon is the ton that is said in the United States.
const ShortTon = 2_000 * wood.Pound

// MaxMass is the largest mass that is read.
const MaxMass = 1_000 * wood.Tonne

// parseMassIn reads a bare number in bare, unless that is 0.
func parseMassIn(s string, bare wood.Mass) (wood.Mass, error) {
	accepts := measure.Say("a weight with its unit, such as 1500 lb or 680 kg")
	number, unit, fault := splitNumber(s)
	if fault != nil {
		fault.Accepts = accepts
		return 0, fault
	}
	each := massUnit(unit)
	if unit == "" {
		each = bare
	}
	switch {
	case each == 0 && unit == "":
		return 0, &measure.InputError{Code: "no-unit", Got: s, Reason: measure.Say("the number has no unit"), Accepts: accepts}
	case each == 0:
		return 0, &measure.InputError{Code: "unknown-unit", Got: s, Reason: measure.Say("“%s” is not a unit of weight", unit), Accepts: accepts}
	}
	m := number.of(float64(each))
	switch {
	case m <= 0:
		return 0, &measure.InputError{Code: "not-positive", Got: s, Reason: measure.Say("this isn’t a weight"), Accepts: accepts}
	case m > float64(MaxMass):
		return 0, &measure.InputError{Code: "too-large", Got: s, Reason: measure.Say("this is absurdly heavy"), Accepts: accepts}
	}
	return wood.Mass(math.RoundToEven(m)), nil
}

func massUnit(word string) wood.Mass {
	switch word {
	case "lb", "lbs", "lb.", "lbs.", "pound", "pounds", "#":
		return wood.Pound
	case "kg", "kilo", "kilos", "kilogram", "kilograms":
		return wood.Kilogram
	case "ton", "tons":
		return ShortTon
	case "t", "tonne", "tonnes":
		return wood.Tonne
	}
	return 0
}
