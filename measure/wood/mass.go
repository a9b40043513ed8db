package wood

import (
	"strconv"

	"wellstowed/measure"
)

// A Mass is an amount of matter in micrograms, ≥ 0. Kilograms and avoirdupois
// pounds are whole numbers of it.
type Mass int64

// Units of mass. The pound is exactly 0.453 592 37 kg (NIST SP 811, Appendix B.8).
const (
	Microgram Mass = 1
	Gram           = 1_000_000 * Microgram
	Kilogram       = 1_000 * Gram
	Tonne          = 1_000 * Kilogram
	Pound          = 453_592_370 * Microgram
)

// In gives m in the given unit as a ratio: Kilogram.In(Gram) is 1000.
func (m Mass) In(unit Mass) float64 { return float64(m) / float64(unit) }

// String gives m in kilograms to the gram, for logs and tests.
func (m Mass) String() string { return figure(m.In(Kilogram), 3) + " kg" }

// A Density is mass over volume in milligrams a cubic metre, ≥ 0.
type Density int64

// Units of density. A pound a cubic foot is 16.018 463 kg/m³ (NIST SP 811,
// Appendix B.8), rounded to the milligram.
const (
	KilogramPerCubicMetre Density = 1_000_000
	PoundPerCubicFoot     Density = 16_018_463
)

// In gives d in the given unit as a ratio.
func (d Density) In(unit Density) float64 { return float64(d) / float64(unit) }

// String gives d in kilograms a cubic metre to a tenth, for logs and tests.
func (d Density) String() string { return figure(d.In(KilogramPerCubicMetre), 1) + " kg/m³" }

// Of is the mass of a volume of solid matter of density d, rounded once, halves
// to even.
func (d Density) Of(v measure.Volume) Mass {
	return Mass(nearest(d.In(KilogramPerCubicMetre) * v.In(measure.CubicMetre) * float64(Kilogram)))
}

// A MassRange is a mass that is only known between two bounds.
type MassRange struct {
	Low  Mass `json:"low_micrograms"`
	Mid  Mass `json:"mid_micrograms"`
	High Mass `json:"high_micrograms"`
}

// figure writes x with up to digits decimals, trailing zeros dropped.
func figure(x float64, digits int) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', digits, 64), 64) // its own writing always reads
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
