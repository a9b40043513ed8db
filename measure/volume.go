package measure

// A Volume is an amount of space in nanolitres: a cubic inch, a cubic foot and a
// cord, and thirds, eighths and ninths of a cord, are whole numbers of it. Wood is
// ≥ 0; a difference of two may be negative.
type Volume int64

// Units of volume. A cord is 128 cubic feet (NIST Handbook 130, method of sale,
// section 2.4), 3.624 556 m³ (NIST SP 811, Appendix B.8).
const (
	Nanolitre  Volume = 1
	Litre             = 1_000_000_000 * Nanolitre
	CubicMetre        = 1_000 * Litre
	CubicInch         = 16_387_064 * Nanolitre
	CubicFoot         = 1_728 * CubicInch
	Cord              = 128 * CubicFoot
)

// In gives v in the given unit as a ratio: Cord.In(CubicFoot) is 128.
func (v Volume) In(unit Volume) float64 { return float64(v) / float64(unit) }
