package measure

import "math/big"

// A Basis says how wood stands when its volume is taken. Bases never add and
// never compare.
type Basis string

// The three bases. The zero Basis is invalid.
const (
	Ranked    Basis = "ranked"    // in rows, parallel, touching, compact
	Loose     Basis = "loose"     // thrown
	Container Basis = "container" // as it fills a bin, crate or round stack
)

// A Quantity is a volume of wood and the basis it is taken on.
type Quantity struct {
	Volume Volume `json:"nanolitres"`
	Basis  Basis  `json:"basis"`
}

// A Said is a quantity as a person put it: the words, what they come to, and
// what has to be read back.
type Said struct {
	// Words are exactly as typed.
	Words string
	// Quantity is what they mean.
	Quantity Quantity
	// Barred is the term used that is no legal quantity ("face cord", "rick"),
	// empty otherwise. Words with a barred term stay inside: nothing printed
	// repeats them.
	Barred string
	// PieceLength is the length that gave a barred term its size, else 0.
	PieceLength Length
	// Unsaid tells that no word says how the wood stands, and Ranked was taken. A
	// cord says it.
	Unsaid bool
	// Cord is what one cord was taken for; 0 where it was not said in cords.
	Cord Volume
	// Preparation is what the words say was done to the wood, empty where they do not.
	Preparation Preparation
}

// A face cord, and a rick taken the same, is a row 4 ft high and 8 ft long, one
// piece deep: common practice, no source. It is no legal quantity.
const faceArea = 4 * 8 // square feet

// ParseQuantity reads a quantity of wood > 0 and ≤ MaxQuantity with its basis:
// "1 1/3 cords", "half a cord", "64 cu ft", "3.6 m³ stacked", "180 cu ft loose",
// "two face cords of 16 inch". Without a word for it the basis is Ranked. A term
// whose size hangs on piece length is read where that is said with it; the error,
// an *InputError, has code "needs-piece-length" where it is not.
func ParseQuantity(s string) (Said, error) { return ParseQuantityOf(s, 0) }

// ParseQuantityOf reads a quantity as ParseQuantity does, and takes piece for the
// length of the pieces where the words give none; 0 is not known.
func ParseQuantityOf(s string, piece Length) (Said, error) {
	return Terms{Piece: piece}.ParseQuantity(s)
}

func readQuantity(s string, terms Terms) (Said, *InputError) {
	r, fault := openText(s)
	if fault != nil {
		return Said{}, fault
	}
	if r.hasTermWithoutVolume() {
		return Said{}, noLegalQuantity()
	}
	value, fault := r.amount()
	if fault != nil {
		return Said{}, fault
	}
	basis := r.basis()
	var said Said
	if said.Barred = r.barred(); said.Barred != "" {
		fault = r.faceCords(&said, value, basis, terms.Piece)
	} else {
		fault = r.plainQuantity(&said, value, basis, terms)
	}
	if fault != nil {
		return Said{}, fault
	}
	if r.skip("of") && !r.skip("wood", "firewood") {
		return Said{}, notRead("trailing", "“of” is not followed by what is read here")
	}
	if fault := r.end(); fault != nil {
		return Said{}, fault
	}
	return said, checkQuantity(said.Quantity.Volume)
}

func checkQuantity(v Volume) *InputError {
	switch {
	case v <= 0:
		return notRead("not-positive", "a quantity of wood is more than nothing")
	case v > MaxQuantity:
		return notRead("too-large", "this is more than %s, the most that is taken", Volume(MaxQuantity))
	}
	return nil
}

// plainQuantity reads the rest of a quantity in a unit of volume.
func (r *reader) plainQuantity(said *Said, value *big.Rat, basis Basis, terms Terms) *InputError {
	inCords := r.peek(0).text == "full" || wordIndex(r.peek(0), "cord", "cords") != 0
	unit, fault := r.volumeUnit()
	if fault != nil {
		return fault
	}
	if value, fault = r.tail(value); fault != nil {
		return fault
	}
	start := r.at
	said.Quantity.Basis, fault = r.basisAfter(basis)
	if fault != nil {
		return fault
	}
	said.Unsaid = !inCords && basis == "" && r.at == start
	said.Preparation = r.preparation()
	if inCords {
		if unit, fault = terms.cord(said.Quantity.Basis, said.Preparation); fault != nil {
			return fault
		}
		said.Cord = unit
	}
	said.Quantity.Volume, fault = volumeOf(times(value, int64(unit)))
	return fault
}

// basisAfter reads the basis said after the unit; before is the one said before
// it, if any. Nothing said is Ranked.
func (r *reader) basisAfter(before Basis) (Basis, *InputError) {
	start := r.at
	if r.peek(0).kind == commaToken {
		r.at++
	}
	after := r.basis()
	switch {
	case after == "":
		r.at = start
	case before != "" && before != after:
		return "", notRead("wrong-basis", "the wood is said to stand in two ways")
	}
	if before != "" {
		return before, nil
	}
	if after != "" {
		return after, nil
	}
	return Ranked, nil
}

// basis reads a word for how the wood stands, empty for none.
func (r *reader) basis() Basis {
	switch {
	case r.skip("stacked", "ranked"):
		return Ranked
	case r.skip("loose", "thrown"):
		return Loose
	}
	start := r.at
	if r.skip("in") {
		r.skip("a", "the")
		if r.skip("container", "containers") {
			return Container
		}
	}
	r.at = start
	return ""
}

// barred reads a term whose size hangs on piece length, empty for none.
func (r *reader) barred() string {
	if r.skip("rick", "ricks", "ric", "rics") {
		return "rick"
	}
	if r.peek(0).text == "face" && wordIndex(r.peek(1), "cord", "cords") != 0 {
		r.at += 2
		return "face cord"
	}
	return ""
}

// faceCords reads the rest of a quantity in a term whose size hangs on piece
// length: "and a half", "of 16 inch pieces".
func (r *reader) faceCords(said *Said, value *big.Rat, basis Basis, piece Length) *InputError {
	value, fault := r.tail(value)
	if fault != nil {
		return fault
	}
	said.PieceLength, fault = r.pieceLength(piece)
	if fault != nil {
		return fault
	}
	if said.Quantity.Basis, fault = r.basisAfter(basis); fault != nil {
		return fault
	}
	if said.Quantity.Basis != Ranked {
		return notRead("wrong-basis", "this term is for ranked wood")
	}
	feet := big.NewRat(int64(said.PieceLength), int64(Foot))
	cubicFeet := value.Mul(value, feet.Mul(feet, big.NewRat(faceArea, 1)))
	said.Quantity.Volume, fault = volumeOf(times(cubicFeet, int64(CubicFoot)))
	return fault
}

// pieceLength reads "of 16 inch pieces"; known is taken where that is not there.
func (r *reader) pieceLength(known Length) (Length, *InputError) {
	start := r.at
	if r.peek(0).kind == commaToken {
		r.at++
	}
	r.skip("of", "at")
	if t := r.peek(0); t.kind == numberToken || t.kind == vulgarToken || cardinal(t) != 0 {
		l, fault := r.length(0)
		if fault != nil {
			return 0, fault
		}
		r.skip("long")
		r.skip("pieces", "wood", "firewood", "logs", "splits")
		return l, checkPieceLength(l)
	}
	r.at = start
	if known == 0 {
		fault := notRead("needs-piece-length", "what this term comes to depends on how long the pieces are, and it is no legal quantity")
		fault.Accepts = Say("the same with “of 16 in” after it, or a quantity in cords, cubic feet or cubic metres")
		return 0, fault
	}
	return known, checkPieceLength(known)
}

func checkPieceLength(l Length) *InputError {
	switch {
	case l <= 0:
		return notRead("not-positive", "a piece is longer than nothing")
	case l > MaxPieceLength:
		return notRead("too-large", "a piece of %s is over the limit of %s", l, Length(MaxPieceLength))
	}
	return nil
}

// hasTermWithoutVolume tells whether a trade term comes that has no volume
// anybody can check.
func (r *reader) hasTermWithoutVolume() bool {
	for i, t := range r.tokens {
		if wordIndex(t, "rack", "racks", "pile", "piles", "heap", "heaps", "load", "loads", "truckload", "truckloads",
			"truck", "trucks", "pickup", "pickups", "trailer", "trailers", "trailerload", "trailerloads") != 0 {
			return true
		}
		ofCords := i+1 < len(r.tokens) && wordIndex(r.tokens[i+1], "cord", "cords") != 0
		if ofCords && wordIndex(t, "stove", "furnace", "short", "bush", "apartment", "wood", "running") != 0 {
			return true
		}
	}
	return false
}

func noLegalQuantity() *InputError {
	fault := notRead("no-legal-quantity", "this term has no size that can be checked and is no legal quantity")
	fault.Accepts = Say("cords and fractions of a cord, cubic feet or cubic metres")
	return fault
}

// String writes q exactly, so that ParseQuantity reads it back where q is > 0 and
// ≤ MaxQuantity: "1 1/3 cords", "58.4 cu ft stacked", "180 cu ft loose". Only
// ranked wood is written in cords.
func (q Quantity) String() string {
	sign, n := "", uint64(q.Volume)
	if q.Volume < 0 {
		sign, n = "-", uint64(-(q.Volume+1))+1
	}
	switch q.Basis {
	case Ranked:
		if text := cords(n); text != "" {
			return sign + text
		}
		return sign + space(n) + " stacked"
	case Loose:
		return sign + space(n) + " loose"
	case Container:
		return sign + space(n) + " in a container"
	}
	return sign + space(n)
}
