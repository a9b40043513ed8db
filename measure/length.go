package measure

import (
	"strconv"
	"strings"
)

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

// MaxLength is the longest length that is read; what a tally allows is less.
const MaxLength = 10_000 * Metre

// String writes l exactly, so that ParseLength reads it back: feet, inches and
// 64ths where l is a whole number of those ("15 1/2 in", "8 ft", "10 ft 3 1/2 in";
// inches alone under 10 ft), else "2.51 m", "41.5 cm" or "3.2 mm".
func (l Length) String() string {
	if l < 0 {
		return "-" + amountOf(uint64(-(l+1))+1)
	}
	return amountOf(uint64(l))
}

// amountOf writes a length of n nanometres.
func amountOf(n uint64) string {
	const inch, foot = uint64(Inch), uint64(Foot)
	switch {
	case n%(inch/64) != 0:
		return metric(n)
	case n%foot == 0 && n > 0:
		return strconv.FormatUint(n/foot, 10) + " ft"
	case n < 10*foot:
		return mixed(n/(inch/64), 64) + " in"
	}
	return strconv.FormatUint(n/foot, 10) + " ft " + mixed(n%foot/(inch/64), 64) + " in"
}

func metric(n uint64) string {
	switch {
	case n >= uint64(Metre):
		return decimals(n/uint64(Metre), n%uint64(Metre), 9) + " m"
	case n >= uint64(Centimetre):
		return decimals(n/uint64(Centimetre), n%uint64(Centimetre), 7) + " cm"
	}
	return decimals(n/uint64(Millimetre), n%uint64(Millimetre), 6) + " mm"
}

// MarshalText writes l as String does.
func (l Length) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads what MarshalText writes, a length below 0 too. The error is
// an *InputError.
func (l *Length) UnmarshalText(b []byte) error {
	text, negative := strings.CutPrefix(string(b), "-")
	read, fault := readLength(text, 0, false)
	if fault != nil {
		return finish(fault, string(b), Say("a length with its unit, such as 8 ft or 2.51 m"))
	}
	*l = read
	if negative {
		*l = -read
	}
	return nil
}
