package storage

import (
	"math"

	"wellstowed/measure"
)

// An Area is in square micrometres. It is ≥ 0.
type Area int64

// Units of area. A square foot is exactly 0.092 903 04 m².
const (
	SquareMicrometre Area = 1
	SquareMetre           = 1_000_000_000_000 * SquareMicrometre
	SquareFoot            = 92_903_040_000 * SquareMicrometre
)

// In gives a in the given unit as a ratio.
func (a Area) In(unit Area) float64 { return float64(a) / float64(unit) }

// rectangle is the area of a box, each side taken to the micrometre.
func rectangle(a, b measure.Length) Area {
	const micrometre = measure.Millimetre / 1000
	return Area(a/micrometre) * Area(b/micrometre)
}

// maxFloor is the largest floor that is read.
const maxFloor = 1_000_000 * SquareFoot

func parseAreaIn(s string, bare Area) (Area, error) {
	accepts := measure.Say("a floor area with its unit, such as 1800 sq ft or 170 m²")
	number, unit, fault := splitNumber(s)
	if fault != nil {
		fault.Accepts = accepts
		return 0, fault
	}
	each := areaUnit(unit)
	if unit == "" {
		each = bare
	}
	a := number.of(float64(each))
	switch {
	case each == 0:
		return 0, &measure.InputError{Code: "unknown-unit", Got: s, Reason: measure.Say("the unit of area is missing"), Accepts: accepts}
	case a <= 0:
		return 0, &measure.InputError{Code: "not-positive", Got: s, Reason: measure.Say("this isn’t a floor"), Accepts: accepts}
	case a > float64(maxFloor):
		return 0, &measure.InputError{Code: "too-large", Got: s, Reason: measure.Say("this is larger than a house"), Accepts: accepts}
	}
	return Area(math.RoundToEven(a)), nil
}

func areaUnit(word string) Area {
	switch word {
	case "sq ft", "sq. ft.", "sq. ft", "sqft", "ft2", "ft²", "square feet", "square foot":
		return SquareFoot
	case "m2", "m²", "sq m", "square metres", "square meters", "square metre", "square meter":
		return SquareMetre
	}
	return 0
}
