package lot

import (
	"math/big"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// An Area is of the end of a bundle or bag, in square micrometres: a quarter of a
// square inch is a whole number of it.
type Area int64

// Units of area.
const (
	SquareCentimetre Area = 100_000_000
	SquareMetre           = 10_000 * SquareCentimetre
	SquareInch       Area = 645_160_000
	SquareFoot            = 144 * SquareInch
)

// MaxArea is the largest end of a package.
const MaxArea = 64 * SquareFoot

// In gives a in the given unit as a ratio.
func (a Area) In(unit Area) float64 { return float64(a) / float64(unit) }

// String writes a in square inches.
func (a Area) String() string {
	return strconv.FormatFloat(a.In(SquareInch), 'f', -1, 64) + " sq in"
}

// By gives the volume of a package of this end and length, rounded once, halves
// to even.
func (a Area) By(l measure.Length) measure.Volume {
	// µm² · nm is 10⁻²¹ m³, a nanolitre 10⁻¹² m³
	return measure.Volume(rounded(new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(int64(l))), big.NewInt(1_000_000_000)))
}

// An areaUnit is read as the volume unit that it makes with a thickness.
type areaUnit struct {
	area   Area
	volume measure.Volume
	word   string // of the volume unit
	names  []string
}

func areaUnits() []areaUnit {
	return []areaUnit{
		{SquareInch, measure.CubicInch, "cu in", []string{"sq in", "sq inches", "square inches", "square inch", "in²", "in2"}},
		{SquareFoot, measure.CubicFoot, "cu ft", []string{"sq ft", "square feet", "square foot", "ft²", "ft2"}},
		{SquareCentimetre, measure.Litre, "L", []string{"sq cm", "square centimetres", "square centimeters", "cm²", "cm2"}},
		{SquareMetre, measure.CubicMetre, "m³", []string{"sq m", "square metres", "square meters", " m²", " m2"}},
	}
}

// ParseArea reads an area with its unit, up to MaxArea: "120 sq in",
// "120 1/4 in²", "774 cm²". Its number is read as measure.ParseVolume reads one.
// The error is an *measure.InputError.
func ParseArea(text string) (Area, error) {
	accepts := measure.Say("an area with its unit, such as 120 sq in or 774 cm²")
	refuse := func(code string, reason measure.Text) (Area, error) {
		return 0, &measure.InputError{Code: code, Got: shown(text), Reason: reason, Accepts: accepts}
	}
	number, unit, found := cutUnit(text)
	if !found {
		return refuse("unknown-unit", measure.Say("this does not end in a unit of area"))
	}
	v, err := measure.ParseVolume(number + " " + unit.word)
	if err != nil {
		fault := err.(*measure.InputError)
		if fault.Code == "unknown-unit" {
			return refuse("not-a-number", measure.Say("the part before the unit of area isn’t a number"))
		}
		return refuse(fault.Code, fault.Reason)
	}
	top := new(big.Int).Mul(big.NewInt(int64(v)), big.NewInt(int64(unit.area)))
	a := rounded(top, big.NewInt(int64(unit.volume)))
	if a > int64(MaxArea) {
		return refuse("too-large", measure.Say("this is more than %s, the largest end of a package", MaxArea.String()))
	}
	return Area(a), nil
}

func cutUnit(text string) (string, areaUnit, bool) {
	plain := strings.ReplaceAll(strings.ToLower(strings.TrimSpace(text)), "sq.", "sq")
	plain = strings.TrimSuffix(plain, ".")
	for _, unit := range areaUnits() {
		for _, name := range unit.names {
			if number, ok := strings.CutSuffix(plain, name); ok {
				return number, unit, true
			}
		}
	}
	return "", areaUnit{}, false
}

// rounded is top/bottom of positive numbers, halves to even. What does not fit an
// int64 comes out as its largest.
func rounded(top, bottom *big.Int) int64 {
	quotient, rest := new(big.Int).QuoRem(top, bottom, new(big.Int))
	half := rest.Lsh(rest, 1).Cmp(bottom)
	if half > 0 || half == 0 && quotient.Bit(0) == 1 {
		quotient.Add(quotient, big.NewInt(1))
	}
	if !quotient.IsInt64() {
		return 1<<63 - 1
	}
	return quotient.Int64()
}
