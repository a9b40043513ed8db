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
	CubicYard         = 27 * CubicFoot
	Cord              = 128 * CubicFoot
)

// In gives v in the given unit as a ratio: Cord.In(CubicFoot) is 128.
func (v Volume) In(unit Volume) float64 { return float64(v) / float64(unit) }

// MaxVolume is the largest volume that is read; a quantity of wood may be less.
const MaxVolume = 1_000_000 * Cord

// String writes v exactly, so that ParseVolume reads it back: cords where v is a
// whole number of halves, thirds, quarters, sixths, eighths, ninths, twelfths,
// sixteenths or twenty-fourths of a cord ("1 1/3 cords"), else cubic feet with up
// to six decimals ("58.4 cu ft"), else cubic metres.
func (v Volume) String() string {
	if v < 0 {
		return "-" + volumeText(uint64(-(v+1))+1)
	}
	return volumeText(uint64(v))
}

func volumeText(n uint64) string {
	if text := cords(n); text != "" {
		return text
	}
	return space(n)
}

// cords writes n nanolitres in cords, empty where they are no simple fraction.
func cords(n uint64) string {
	for _, parts := range [...]uint64{1, 2, 3, 4, 6, 8, 9, 12, 16, 24} {
		part := uint64(Cord) / parts
		if n%part != 0 {
			continue
		}
		if 0 < n && n <= uint64(Cord) {
			return mixed(n/part, parts) + " cord"
		}
		return mixed(n/part, parts) + " cords"
	}
	return ""
}

// space writes n nanolitres in cubic feet where six decimals do, else in cubic
// metres.
func space(n uint64) string {
	const foot, millionths = uint64(CubicFoot), 1_000_000
	if rest := n % foot * millionths; rest%foot == 0 {
		return decimals(n/foot, rest/foot, 6) + " cu ft"
	}
	return inMetres(n)
}
