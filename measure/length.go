package measure

// A Length is a distance in nanometres. Inches, sixty-fourths of an inch and
// millimetres are whole numbers of it. Readings are ≥ 0; a difference of two may
// be negative.
type Length int64

// Units of length. The inch is exactly 25.4 mm (international foot of 0.3048 m).
const (
	Nanometre  Length = 1
	Millimetre        = 1_000_000 * Nanometre
	Centimetre        = 10 * Millimetre
	Metre             = 1_000 * Millimetre
	Inch              = 25_400_000 * Nanometre
	Foot              = 12 * Inch
)

// In gives l in the given unit as a ratio: (8 * Foot).In(Inch) is 96.
func (l Length) In(unit Length) float64 { return float64(l) / float64(unit) }
