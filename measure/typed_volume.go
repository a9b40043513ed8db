package measure

import "math/big"

// ParseVolume reads a volume ≥ 0 and ≤ MaxVolume with its unit: "64 cu ft", "64 cf",
// "64 ft³", "2 cubic yards", "3.6 m³", "2500 L", "1 1/3 cords", "half a cord",
// "50 % of a cord", "1 cu in". What is finer than a nanolitre is rounded once, halves
// to even. The error is an *InputError.
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
	from := r.at
	value, fault := r.amount()
	if fault != nil {
		return 0, fault
	}
	unit, fault := r.volumeUnit(from)
	if fault != nil {
		return 0, fault
	}
	if unit.basis != "" {
		return 0, notRead("wrong-basis", "“%s” says how the wood is piled as well", r.typed(r.at-unit.words, r.at)).accepting("the same in m³")
	}
	if value, fault = r.tail(value); fault != nil {
		return 0, fault
	}
	if fault := r.end(); fault != nil {
		return 0, fault
	}
	return volumeOf(times(value, int64(unit.size)))
}

// volumeOf rounds nanolitres, and refuses what is over MaxVolume.
func volumeOf(nanolitres *big.Rat) (Volume, *InputError) {
	n, fits := nearest(nanolitres)
	if !fits || Volume(n) > MaxVolume {
		return 0, notRead("too-large", "this is more than %s", Volume(MaxVolume)).accepting("at most %s", Volume(MaxVolume))
	}
	return Volume(n), nil
}

// tail adds the fraction said after the unit: "a cord and a half".
func (r *reader) tail(value *big.Rat) (*big.Rat, *InputError) {
	if !value.IsInt() || !r.skip("and") {
		return value, nil
	}
	if !r.atFraction(true) {
		return nil, notRead("trailing", "“and” is not followed by a fraction").accepting("one quantity, such as 1 1/2 cords or a cord and a half")
	}
	part, fault := r.anyFraction()
	if fault != nil {
		return nil, fault
	}
	return part.Add(part, value), nil
}

// A volumeUnit is a unit that a volume is typed in. Some say how the wood stands too.
type volumeUnit struct {
	size  Volume
	basis Basis // empty where the unit does not say
	words int   // how many tokens it takes
}

// volumeUnit reads the unit of the number that starts at from.
func (r *reader) volumeUnit(from int) (volumeUnit, *InputError) {
	t := r.peek(0)
	switch t.kind {
	case endToken, numberToken:
		number := r.typed(from, r.at)
		return volumeUnit{}, notRead("no-unit", "“%s” has no unit", number).accepting("the unit after it: %s m³, %s cu ft or %s of a cord", number, number, number)
	case slashToken:
		return volumeUnit{}, r.end()
	}
	if unit := r.volumeWords(); unit.size != 0 {
		r.at += unit.words
		return unit, nil
	}
	switch {
	case wordIndex(t, "fm", "festmeter", "solid") != 0:
		return volumeUnit{}, notRead("unknown-unit", "this is solid wood without the air between the pieces, which nobody can tape").
			accepting("the stacked or the loose volume, such as 3.6 m³ stacked")
	case lengthUnits(t.text) != 0:
		return volumeUnit{}, notRead("unknown-unit", "this is a length, not a volume").accepting("a volume such as 64 cu ft or 3.6 m³")
	}
	return volumeUnit{}, notRead("unknown-unit", "“%s” is not a unit of volume", t.text).accepting("cords, cu ft, m³ or litres")
}

// volumeWords gives the unit that comes next, the zero one for none.
func (r *reader) volumeWords() volumeUnit {
	first, second := r.peek(0), r.peek(1)
	switch first.text {
	case "cord", "cords":
		return volumeUnit{size: Cord, words: 1}
	case "full":
		if wordIndex(second, "cord", "cords") != 0 {
			return volumeUnit{size: Cord, words: 2}
		}
	case "l", "litre", "litres", "liter", "liters":
		return volumeUnit{size: Litre, words: 1}
	case "cuft", "cf":
		return volumeUnit{size: CubicFoot, words: 1}
	case "rm", "raummeter", "ster", "sters", "stere", "steres", "stère", "stères":
		return volumeUnit{CubicMetre, Ranked, 1}
	case "srm", "schüttraummeter":
		return volumeUnit{CubicMetre, Loose, 1}
	case "cu", "cubic":
		return volumeUnit{size: cube(second.text), words: 2}
	}
	if second.glued && (second.kind == cubeToken || second.text == "3") {
		return volumeUnit{size: cube(first.text), words: 2}
	}
	return volumeUnit{}
}

// cube gives the volume of a cube whose edge is one of a unit of length, 0 for an edge
// whose cube is no unit here.
func cube(edge string) Volume {
	switch edge {
	case "yd", "yds", "yard", "yards":
		return CubicYard
	case "dm", "decimetre", "decimetres", "decimeter", "decimeters":
		return Litre
	}
	switch lengthUnits(edge) {
	case Inch:
		return CubicInch
	case Foot:
		return CubicFoot
	case Metre:
		return CubicMetre
	}
	return 0
}
