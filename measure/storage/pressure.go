package storage

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A Pressure is the weight on a floor spread over what stands on it, in
// micropascals. It is ≥ 0.
type Pressure int64

// Units of pressure. A pound-force per square foot, psf, is 47.880 26 Pa (NIST SP
// 811, Appendix B.8), here to the micropascal.
const (
	Micropascal        Pressure = 1
	Pascal                      = 1_000_000 * Micropascal
	Kilopascal                  = 1_000 * Pascal
	PoundPerSquareFoot          = 47_880_259 * Micropascal
)

// DeckLoad is the live load that decks are commonly designed for, 40 psf:
// International Residential Code, Table R301.5, second-hand. It is shown beside a
// stack's pressure and decides nothing.
const DeckLoad = 40 * PoundPerSquareFoot

// In gives p in the given unit as a ratio.
func (p Pressure) In(unit Pressure) float64 { return float64(p) / float64(unit) }

// standardGravity is in m/s² (NIST SP 330).
const standardGravity = 9.80665

// A Range is from the lowest to the highest that is to be reckoned with.
type Range[T ~int64] struct {
	Low  T `json:"low"`
	High T `json:"high"`
}

// pressureUnder is the pressure under wood of this density that fills the given
// share of a row of this height.
func pressureUnder(d wood.Density, share float64, height measure.Length) Pressure {
	kilograms := d.In(1_000_000) // in a cubic metre
	pascals := kilograms * share * standardGravity * height.In(measure.Metre)
	return Pressure(math.RoundToEven(pascals * float64(Pascal)))
}

// massOf is the mass of wood of this density that fills the given share of v.
func massOf(d wood.Density, share float64, v measure.Volume) wood.Mass {
	kilograms := d.In(1_000_000) * share * v.In(measure.CubicMetre)
	return wood.Mass(math.RoundToEven(kilograms * float64(wood.Kilogram)))
}
