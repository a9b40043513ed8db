package storage

// Heat is an amount of it in joules.
type Heat int64

// Units of heat. The Btu is that of the International Table, 1 055.055 853 J (NIST
// SP 811, Appendix B.8).
const (
	Joule        Heat = 1
	KilowattHour      = 3_600_000 * Joule
	MillionBtu        = 1_055_055_853 * Joule
	Gigajoule         = 1_000_000_000 * Joule
)

// In gives h in the given unit as a ratio.
func (h Heat) In(unit Heat) float64 { return float64(h) / float64(unit) }
