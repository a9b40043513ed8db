package measure

import "math/big"

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

// MaxVolume is the largest volume that is read; a quantity of wood may be less.
const MaxVolume = 1_000_000 * Cord

// ParseVolume reads a volume ≥ 0 and ≤ MaxVolume with its unit: "64 cu ft",
// "64 ft³", "3.6 m³", "2500 L", "1 1/3 cords", "half a cord", "1 cu in". What is
// finer than a nanolitre is rounded once, halves to even. The error is an
// *InputError.
func ParseVolume(s string) (Volume, error) {
	v, fault := readVolume(s)
	if fault != nil {
		return 0, finish(fault, s, Say("a volume with its unit, such as 1 1/3 cords, 64 cu ft, 3.6 m³ or 2500 L"))
	}
	return v, nil
}

func readVolume(s string) (Volume, *InputError) {
	r, fault := openText(s)
	if fault != nil {
		return 0, fault
	}
	if r.hasTermWithoutVolume() {
		return 0, noLegalQuantity()
	}
	value, fault := r.amount()
	if fault != nil {
		return 0, fault
	}
	unit, fault := r.volumeUnit()
	if fault != nil {
		return 0, fault
	}
	if value, fault = r.tail(value); fault != nil {
		return 0, fault
	}
	if fault := r.end(); fault != nil {
		return 0, fault
	}
	return volumeOf(times(value, int64(unit)))
}

// volumeOf rounds nanolitres, and refuses what is over MaxVolume.
func volumeOf(nanolitres *big.Rat) (Volume, *InputError) {
	n, fits := nearest(nanolitres)
	if !fits || Volume(n) > MaxVolume {
		return 0, notRead("too-large", "this is more than %s, the largest volume that is read", Volume(MaxVolume))
	}
	return Volume(n), nil
}

// tail adds the fraction said after the unit: "a cord and a half".
func (r *reader) tail(value *big.Rat) (*big.Rat, *InputError) {
	if !value.IsInt() || !r.skip("and") {
		return value, nil
	}
	if !r.atFraction(true) {
		return nil, notRead("trailing", "“and” is not followed by a fraction")
	}
	part, fault := r.anyFraction()
	if fault != nil {
		return nil, fault
	}
	return part.Add(part, value), nil
}

// volumeUnit reads the unit of a number.
func (r *reader) volumeUnit() (Volume, *InputError) {
	t := r.peek(0)
	switch t.kind {
	case endToken, numberToken:
		return 0, notRead("no-unit", "the number has no unit")
	case slashToken:
		return 0, r.end()
	}
	if unit, words := r.volumeWords(); unit != 0 {
		r.at += words
		return unit, nil
	}
	if lengthUnits(t.text) != 0 {
		return 0, notRead("unknown-unit", "this is a length, not a volume")
	}
	return 0, notRead("unknown-unit", "“%s” is not a unit of volume", t.text)
}

// volumeWords gives the unit that comes next and how many tokens it takes, 0 for
// none.
func (r *reader) volumeWords() (Volume, int) {
	first, second := r.peek(0), r.peek(1)
	switch first.text {
	case "cord", "cords":
		return Cord, 1
	case "full":
		if second.text == "cord" || second.text == "cords" {
			return Cord, 2
		}
	case "l", "litre", "litres", "liter", "liters":
		return Litre, 1
	case "cuft":
		return CubicFoot, 1
	case "cu", "cubic":
		return cube(lengthUnits(second.text)), 2
	}
	if second.glued && (second.kind == cubeToken || second.text == "3") {
		return cube(lengthUnits(first.text)), 2
	}
	return 0, 0
}

// cube gives the volume of a cube with the given edge, 0 for an edge whose cube
// is no unit here.
func cube(edge Length) Volume {
	switch edge {
	case Inch:
		return CubicInch
	case Foot:
		return CubicFoot
	case Metre:
		return CubicMetre
	}
	return 0
}

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
