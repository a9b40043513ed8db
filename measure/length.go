package measure

import (
	"math/big"
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

// ParseLength reads a length ≥ 0 and ≤ MaxLength with its unit: 8', 8 ft,
// 8' 3 1/2", 8 ft 3-1/2 in, 99½ in, 2.51 m, 251 cm, 2 m 51 cm. What is finer than
// a nanometre is rounded once, halves to even. The error is an *InputError.
func ParseLength(s string) (Length, error) {
	return lengthWithin(s, 0, Say(`a length with its unit, such as 8 ft, 8' 3 1/2", 99.5 in, 2.51 m or 251 cm`))
}

// ParseLengthIn reads a length as ParseLength does, and a bare number in unit.
func ParseLengthIn(s string, unit Length) (Length, error) {
	return lengthWithin(s, unit, Say(`a number, or a length with its unit, such as 8 ft, 8' 3 1/2", 99.5 in or 2.51 m`))
}

func lengthWithin(s string, bare Length, accepts Text) (Length, error) {
	l, fault := readLength(s, bare)
	if fault == nil && l > MaxLength {
		fault = notRead("too-large", "this is longer than %s, the longest length that is read", Length(MaxLength))
	}
	if fault != nil {
		return 0, finish(fault, s, accepts)
	}
	return l, nil
}

// WithUnit gives what was typed in a form's field with the field's unit, "in",
// added where it is a bare number, and unchanged where it is anything else.
func WithUnit(s, unit string) Reading {
	if _, err := ParseLength(s); err == nil {
		return Reading(s)
	}
	if _, err := ParseLengthIn(s, Nanometre); err != nil {
		return Reading(s)
	}
	return Reading(s + " " + unit)
}

// readLength reads the whole of s as a length, a bare number in bare unless that
// is 0.
func readLength(s string, bare Length) (Length, *InputError) {
	r, fault := openText(s)
	if fault != nil {
		return 0, fault
	}
	l, fault := r.length(bare)
	if fault != nil {
		return 0, fault
	}
	return l, r.end()
}

// length reads one length of one part or more, "8 ft 3 1/2 in".
func (r *reader) length(bare Length) (Length, *InputError) {
	total := new(big.Rat)
	for larger := Length(0); ; {
		value, fault := r.amount()
		if fault != nil {
			return 0, fault
		}
		unit, fault := r.lengthUnit(bare)
		if fault != nil {
			return 0, fault
		}
		part := times(value, int64(unit))
		if fault := checkPart(part, larger, unit); fault != nil {
			return 0, fault
		}
		total.Add(total, part)
		more, fault := r.nextPart()
		if fault != nil {
			return 0, fault
		}
		if !more {
			break
		}
		if !value.IsInt() {
			return 0, notRead("ambiguous", "there is a fraction before the last part")
		}
		larger, bare = unit, 0
	}
	n, fits := nearest(total)
	if !fits {
		return 0, notRead("too-large", "this length is absurdly large")
	}
	return Length(n), nil
}

// checkPart refuses a part in a unit that does not divide the part before, or as
// large as one of that. There is none before where larger is 0.
func checkPart(part *big.Rat, larger, unit Length) *InputError {
	if larger == 0 {
		return nil
	}
	divides := larger == Foot && unit == Inch || larger == Metre && unit == Centimetre ||
		unit == Millimetre && (larger == Metre || larger == Centimetre)
	if !divides {
		return notRead("mixed-units", "these two units do not go together in one length")
	}
	if part.Cmp(new(big.Rat).SetInt64(int64(larger))) >= 0 {
		return notRead("out-of-range", "the second part is %s or more", larger)
	}
	return nil
}

// lengthUnit reads the unit of a number, which is bare where there is none and
// bare is not 0.
func (r *reader) lengthUnit(bare Length) (Length, *InputError) {
	t := r.peek(0)
	switch {
	case t.kind == endToken && bare != 0:
		return bare, nil
	case t.kind == endToken || t.kind == numberToken:
		return 0, notRead("no-unit", "the number has no unit")
	case t.kind == slashToken:
		return 0, r.end()
	}
	unit := lengthUnits(t.text)
	if unit == 0 {
		return 0, notRead("unknown-unit", "“%s” is not a unit of length", t.text)
	}
	r.at++
	if r.peek(0).kind == cubeToken {
		return 0, notRead("unknown-unit", "this is a volume, not a length")
	}
	return unit, nil
}

// lengthUnits gives the unit a word or mark stands for, 0 for none.
func lengthUnits(word string) Length {
	switch word {
	case `"`, "in", "ins", "inch", "inches":
		return Inch
	case "'", "ft", "foot", "feet":
		return Foot
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return Millimetre
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return Centimetre
	case "m", "metre", "metres", "meter", "meters":
		return Metre
	}
	return 0
}

// nextPart goes on to another part of the same length and tells whether there is
// one: "8 ft, 3 in", `8'-3"`, "8 feet and 3 inches".
func (r *reader) nextPart() (bool, *InputError) {
	start := r.at
	sign := r.peek(0)
	if sign.kind == commaToken || sign.kind == dashToken || sign.kind == minusToken {
		r.at++
	} else {
		r.skip("and")
	}
	t := r.peek(0)
	if t.kind != numberToken && t.kind != vulgarToken && cardinal(t) == 0 && fractionWord(t) == 0 {
		r.at = start
		return false, nil
	}
	if sign.kind == minusToken || sign.kind == dashToken && !sign.glued && t.glued {
		return false, notRead("ambiguous", "the sign between the two parts may join them or take away")
	}
	return true, nil
}

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
	read, fault := readLength(text, 0)
	if fault != nil {
		return finish(fault, string(b), Say("a length with its unit, such as 8 ft or 2.51 m"))
	}
	*l = read
	if negative {
		*l = -read
	}
	return nil
}
