package measure

import "math/big"

// timesSign tells whether t stands between two sides of a box.
func timesSign(t token) bool {
	return t.text == "×" || t.text == "*" || wordIndex(t, "x", "by") != 0
}

// aheadOfBox tells whether the sides of a box come: "4 x 4 x 8".
func (r *reader) aheadOfBox() bool {
	start := r.at
	_, fault := r.side()
	ahead := fault == nil && timesSign(r.peek(0))
	r.at = start
	return ahead
}

// A side is one of a box as typed: a number, and its unit where it has one.
type side struct {
	value *big.Rat
	unit  Length
}

// box reads the three sides of a stack and offers its volume: it is taken where what is
// understood is read back, and refused with the code "box" elsewhere. Sides without a
// unit have that of the next one, or are feet.
func (r *reader) box(said *Said, terms Terms) *InputError {
	var sides [3]side
	for i := range sides {
		if i > 0 && !timesSign(r.take()) {
			return notRead("trailing", "a stack has three sides, and here are %d", i).accepting("length by height by piece length, such as 8 ft x 4 ft x 16 in")
		}
		var fault *InputError
		if sides[i], fault = r.side(); fault != nil {
			return fault
		}
	}
	if timesSign(r.peek(0)) {
		return notRead("trailing", "a stack has three sides, and here are more").accepting("length by height by piece length, such as 8 ft x 4 ft x 16 in")
	}
	unit := Foot
	for i := len(sides) - 1; i >= 0; i-- {
		if sides[i].unit != 0 {
			unit = sides[i].unit
		}
		n, fits := nearest(times(sides[i].value, int64(unit)))
		if said.Sides[i] = Length(n); !fits || said.Sides[i] <= 0 || said.Sides[i] > MaxLength {
			return notRead("out-of-range", "a side of the stack is nothing, or longer than %s", MaxLength).accepting("a quantity such as 1 cord")
		}
	}
	if fault := r.about(said, "", terms); fault != nil {
		return fault
	}
	cubicInches := new(big.Rat).Mul(ratio(said.Sides[0]), new(big.Rat).Mul(ratio(said.Sides[1]), ratio(said.Sides[2])))
	var fault *InputError
	if said.Quantity.Volume, fault = volumeOf(times(cubicInches, int64(CubicInch))); fault != nil || terms.ReadBack {
		return fault
	}
	return notRead("box", "a stack of %s by %s by %s holds %s", said.Sides[0], said.Sides[1], said.Sides[2], said.Quantity).
		accepting("%s, if that is meant", said.Quantity)
}

// ratio gives a length as an exact number of inches.
func ratio(l Length) *big.Rat { return big.NewRat(int64(l), int64(Inch)) }

func (r *reader) side() (side, *InputError) {
	start := r.at
	value, fault := r.amount()
	if fault != nil {
		return side{}, fault
	}
	unit := lengthUnits(r.peek(0).text)
	if unit == 0 {
		return side{value: value}, nil
	}
	r.at = start
	l, fault := r.length(0)
	return side{big.NewRat(int64(l), int64(unit)), unit}, fault
}
