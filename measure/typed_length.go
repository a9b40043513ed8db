package measure

import "math/big"

// ParseLength reads a length ≥ 0 and ≤ MaxLength with its unit: 8', 8 ft,
// 8' 3 1/2", 8 ft 3-1/2 in, 99½ in, 2.51 m, 251 cm, 2 m 51 cm; inches without their
// unit after feet (7'10, 8 ft 6), two figures of centimetres after metres (2m38), a
// fraction after inches (15" 3/4); and in words, "a foot and a half". What is finer
// than a nanometre is rounded once, halves to even. The error is an *InputError.
func ParseLength(s string) (Length, error) { return Terms{}.ParseLength(s, 0) }

// ParseLengthIn reads a length as ParseLength does, and a bare number in unit.
func ParseLengthIn(s string, unit Length) (Length, error) { return Terms{}.ParseLength(s, unit) }

// ParseLength reads a length as the function of that name does, under these terms; a
// bare number is in unit, and asked for its unit where that is 0.
func (terms Terms) ParseLength(s string, unit Length) (Length, error) {
	l, ok := plainLength(s, unit, terms.Points)
	var fault *InputError
	if !ok {
		l, fault = readLength(s, unit, terms.Points)
	}
	if fault == nil && l > MaxLength {
		fault = notRead("too-large", "this is longer than %s", MaxLength).accepting("a length up to %s", MaxLength)
	}
	switch {
	case fault == nil:
		return l, nil
	case unit == 0:
		return 0, finish(fault, s, Say(`a length with its unit, such as 8 ft, 8' 3 1/2", 99.5 in, 2.51 m or 251 cm`))
	}
	return 0, finish(fault, s, Say(`a number, or a length with its unit, such as 8 ft, 8' 3 1/2", 99.5 in or 2.51 m`))
}

// readLength reads the whole of s as a length, a bare number in bare unless that
// is 0.
func readLength(s string, bare Length, points bool) (Length, *InputError) {
	r, fault := openText(s)
	if fault != nil {
		return 0, fault
	}
	r.points = points
	l, fault := r.length(bare)
	if fault != nil {
		return 0, fault
	}
	r.skip("long")
	return l, r.end()
}

// length reads one length of one part or more, "8 ft 3 1/2 in".
func (r *reader) length(bare Length) (Length, *InputError) {
	total := new(big.Rat)
	for larger := Length(0); ; bare = 0 {
		p, fault := r.lengthPart(larger, bare)
		if fault != nil {
			return 0, fault
		}
		total.Add(total, times(p.value, int64(p.unit)))
		more, fault := r.nextPart()
		if fault != nil {
			return 0, fault
		}
		if !more {
			break
		}
		if !p.value.IsInt() {
			return 0, notRead("ambiguous", "there is a fraction before the last part").accepting("the fraction with the last part alone, such as 8 ft 3 1/2 in")
		}
		larger = p.unit
	}
	n, fits := nearest(total)
	if !fits {
		return 0, notRead("too-large", "this is longer than %s", MaxLength).accepting("a length up to %s", MaxLength)
	}
	return Length(n), nil
}

// A lengthPart is one number of a length and its unit: the "8 ft" of "8 ft 3 in".
type lengthPart struct {
	value *big.Rat
	unit  Length
}

// lengthPart reads a part of a length after one in the unit larger, 0 for the first.
func (r *reader) lengthPart(larger, bare Length) (p lengthPart, fault *InputError) {
	from := r.at
	if p.value, fault = r.amount(); fault != nil {
		return p, fault
	}
	if next := r.peek(0); larger != 0 && (next.kind == endToken || wordIndex(next, "long") != 0) {
		p.unit, fault = r.understoodUnit(from, p.value, larger)
	} else {
		p.unit, fault = r.lengthUnit(from, bare)
		if fault == nil {
			fault = checkPart(p, larger)
		}
	}
	if fault == nil {
		p.value, fault = r.lengthTail(p)
	}
	return p, fault
}

// checkPart refuses a part in a unit that does not divide the part before, or as
// large as one of that. There is none before where larger is 0.
func checkPart(p lengthPart, larger Length) *InputError {
	if larger == 0 {
		return nil
	}
	divides := larger == Foot && p.unit == Inch || larger == Metre && p.unit == Centimetre ||
		p.unit == Millimetre && (larger == Metre || larger == Centimetre)
	if !divides {
		return notRead("mixed-units", "these two units don’t go together in one length").accepting("feet and inches, or metres and centimetres, the larger first")
	}
	return checkSize(p, larger)
}

func checkSize(p lengthPart, larger Length) *InputError {
	if times(p.value, int64(p.unit)).Cmp(new(big.Rat).SetInt64(int64(larger))) >= 0 {
		return notRead("out-of-range", "the second part is %s or more", larger).accepting("less than %s after the first part", larger)
	}
	return nil
}

// understoodUnit gives the unit of the last number of a length where none is typed and
// one alone can be meant: inches after feet, centimetres in two figures after metres,
// and inches again for a fraction after inches.
func (r *reader) understoodUnit(from int, value *big.Rat, larger Length) (Length, *InputError) {
	text := r.typed(from, r.at)
	lone := r.at-from == 1 && r.tokens[from].kind == numberToken && whole(r.tokens[from].text)
	lessThanOne := value.Sign() > 0 && value.Cmp(big.NewRat(1, 1)) < 0
	before := r.tokens[from-1]
	switch {
	case before.kind == dashToken && !before.glued:
		return 0, notRead("ambiguous", "this may be a range or a difference").accepting("the second part with its unit, such as %s in", text)
	case lone && text == "3" && r.tokens[from].glued && before.kind == wordToken && before.text != "'": // "8 ft3"
		return 0, notRead("ambiguous", "this may be a length or a volume").accepting("a space and the unit after it, such as 8 ft 3 in")
	case larger == Foot && lessThanOne && !lone:
		return 0, notRead("ambiguous", "“%s” may be of a foot or of an inch", text).accepting("the unit after it: %s in, or the feet as 8 1/2 ft", text)
	case larger == Foot:
		return Inch, checkSize(lengthPart{value, Inch}, Foot)
	case larger == Inch && lessThanOne:
		return Inch, nil
	case larger == Metre && lone && len(text) == 2:
		return Centimetre, nil
	case larger == Metre:
		return 0, notRead("ambiguous", "“%s” after metres may be centimetres or decimals", text).accepting("its unit after it: %s cm, or the metres as 2.05 m", text)
	}
	return 0, noLengthUnit(text)
}

func noLengthUnit(number string) *InputError {
	return notRead("no-unit", "“%s” has no unit", number).accepting("the unit after it: %s ft, %s in or %s cm", number, number, number)
}

// lengthUnit reads the unit of the number that starts at from, which is bare where
// there is none and bare is not 0.
func (r *reader) lengthUnit(from int, bare Length) (Length, *InputError) {
	t := r.peek(0)
	switch {
	case t.kind == endToken && bare != 0:
		return bare, nil
	case t.kind == endToken || t.kind == numberToken:
		return 0, noLengthUnit(r.typed(from, r.at))
	case t.kind == slashToken:
		return 0, r.end()
	}
	unit := lengthUnits(t.text)
	if unit == 0 {
		return 0, notRead("unknown-unit", "“%s” is not a unit of length", t.text).accepting("ft, in, m, cm or mm")
	}
	r.at++
	if r.peek(0).kind == cubeToken {
		return 0, notRead("unknown-unit", "this is a volume, not a length").accepting("a length such as 8 ft or 2.51 m")
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

// lengthTail adds the fraction said after the unit, "a foot and a half", where it is
// of that unit and of no other.
func (r *reader) lengthTail(p lengthPart) (*big.Rat, *InputError) {
	start := r.at
	if !p.value.IsInt() || !r.skip("and") || !r.atFraction(true) {
		r.at = start
		return p.value, nil
	}
	from := r.at
	fraction, fault := r.anyFraction()
	if fault != nil {
		return nil, fault
	}
	if next := r.peek(0); lengthUnits(next.text) != 0 || wordIndex(next, "of", "a", "an") != 0 { // "and half an inch"
		r.at = start
		return p.value, nil
	}
	half := r.tokens[from].kind == wordToken && fraction.Cmp(big.NewRat(1, 2)) == 0
	if p.unit == Foot && !half {
		text := r.typed(from, r.at)
		return nil, notRead("ambiguous", "“%s” may be of a foot or of an inch", text).accepting("its unit after it, such as 8 ft 3 in")
	}
	return fraction.Add(fraction, p.value), nil
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
	if !startsAmount(t) {
		r.at = start
		return false, nil
	}
	if sign.kind == minusToken || sign.kind == dashToken && !sign.glued && t.glued {
		return false, notRead("ambiguous", "the sign between the two parts may join them or take away").accepting("the two with a space between them, such as 8 ft 3 in")
	}
	return true, nil
}
