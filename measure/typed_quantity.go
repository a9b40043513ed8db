package measure

import "math/big"

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
	// PieceLength is how long the words say the pieces are; of a barred term the
	// length that gave it its size; else 0.
	PieceLength Length
	// Unsaid tells that no word says how the wood stands, and Ranked was taken. A
	// cord says it.
	Unsaid bool
	// Cord is what one cord was taken for; 0 where it was not said in cords.
	Cord Volume
	// Preparation is what the words say was done to the wood, empty where they do not.
	Preparation Preparation
	// Sides are those of a stack whose volume was taken for the quantity, all 0 where
	// the words give the quantity itself.
	Sides [3]Length
	// Rest is what else the words say, each run of them as typed: "seasoned oak". None
	// of it changes how much wood it is.
	Rest []string
}

// A face cord, and a rick taken the same, is a row 4 ft high and 8 ft long, one
// piece deep: common practice, no source. It is no legal quantity.
const faceArea = 4 * 8 // square feet

// ParseQuantity reads a quantity of wood > 0 and ≤ MaxQuantity with its basis:
// "1 1/3 cords", "half a cord", "a couple of cords", "64 cu ft", "3.6 m³ stacked",
// "6 steres", "180 cu ft loose", "two face cords of 16 inch", "1 cord of oak, 16 in".
// Without a word for it the basis is Ranked. A term whose size depends on piece length
// is read where that is said with it; the error, an *InputError, has code
// "needs-piece-length" where it is not. "4 x 4 x 8" has code "box": the volume of such
// a stack is offered.
func ParseQuantity(s string) (Said, error) { return ParseQuantityOf(s, 0) }

// ParseQuantityOf reads a quantity as ParseQuantity does, and takes piece for the
// length of the pieces where the words give none; 0 is not known.
func ParseQuantityOf(s string, piece Length) (Said, error) {
	return Terms{Piece: piece}.ParseQuantity(s)
}

// ParseQuantity reads a quantity as the function of that name does, under these
// terms. Where they define a loose cord, "2 loose cords" is that many of it, on the
// basis Loose; elsewhere the error has the code "needs-rule-set".
func (t Terms) ParseQuantity(s string) (Said, error) {
	said, fault := t.readQuantity(s)
	if fault != nil {
		return Said{}, finish(fault, s, Say("a quantity such as 1 1/3 cords, 64 cu ft, 3.6 m³ stacked or 180 cu ft loose"))
	}
	said.Words = s
	return said, nil
}

func (t Terms) readQuantity(s string) (Said, *InputError) {
	r, fault := openText(s)
	if fault != nil {
		return Said{}, fault
	}
	r.points = t.Points
	if r.hasTermWithoutVolume() {
		return Said{}, noLegalQuantity()
	}
	var said Said
	if r.aheadOfBox() {
		fault = r.box(&said, t)
	} else {
		fault = r.plainQuantity(&said, t)
	}
	if fault != nil {
		return Said{}, fault
	}
	return said, checkQuantity(said.Quantity.Volume)
}

func checkQuantity(v Volume) *InputError {
	switch {
	case v <= 0:
		return notRead("not-positive", "a quantity of wood is more than nothing").accepting("how much wood it is, such as 1/2 cord")
	case v > MaxQuantity:
		return notRead("too-large", "this is more than %s", Volume(MaxQuantity)).accepting("at most %s", Volume(MaxQuantity))
	}
	return nil
}

// plainQuantity reads a number with its unit or term, and what is said of the wood.
func (r *reader) plainQuantity(said *Said, terms Terms) *InputError {
	from := r.at
	value, fault := r.amount()
	if fault != nil {
		return fault
	}
	before := r.basis()
	var unit volumeUnit
	inCords := false
	if said.Barred = r.barred(); said.Barred == "" {
		inCords = wordIndex(r.peek(0), "full", "cord", "cords") != 0
		if unit, fault = r.volumeUnit(from); fault != nil {
			return fault
		}
	}
	if value, fault = r.tail(value); fault != nil {
		return fault
	}
	if before, fault = oneBasis(before, unit.basis); fault != nil {
		return fault
	}
	if fault = r.about(said, before, terms); fault != nil {
		return fault
	}
	switch {
	case said.Barred != "":
		return said.faceCords(value, terms.Piece)
	case inCords:
		said.Unsaid = false
		if unit.size, fault = terms.cord(said.Quantity.Basis, pieceOr(said.PieceLength, terms.Piece), said.Preparation); fault != nil {
			return fault
		}
		said.Cord = unit.size
	}
	said.Quantity.Volume, fault = volumeOf(times(value, int64(unit.size)))
	return fault
}

func pieceOr(said, known Length) Length {
	if said != 0 {
		return said
	}
	return known
}

// barred reads a term whose size depends on piece length, empty for none.
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

// faceCords works out the volume of a quantity in a term whose size depends on piece
// length.
func (said *Said) faceCords(value *big.Rat, known Length) (fault *InputError) {
	said.Unsaid = false
	if said.PieceLength = pieceOr(said.PieceLength, known); said.PieceLength == 0 {
		return notRead("needs-piece-length", "the size of this term depends on how long the pieces are, and it isn’t a legal quantity").
			accepting("the same with “of 16 in” after it, or a quantity in cords, cubic feet or cubic metres")
	}
	if fault = checkPieceLength(said.PieceLength); fault != nil {
		return fault
	}
	if said.Quantity.Basis != Ranked {
		return notRead("wrong-basis", "this term is for ranked wood").accepting("cubic feet or cubic metres, loose, such as 180 cu ft loose")
	}
	feet := big.NewRat(int64(said.PieceLength), int64(Foot))
	cubicFeet := value.Mul(value, feet.Mul(feet, big.NewRat(faceArea, 1)))
	said.Quantity.Volume, fault = volumeOf(times(cubicFeet, int64(CubicFoot)))
	return fault
}

func checkPieceLength(l Length) *InputError {
	switch {
	case l <= 0:
		return notRead("not-positive", "a piece is longer than nothing").accepting("a piece length such as 16 in")
	case l > MaxPieceLength:
		return notRead("too-large", "a piece of %s is over the limit of %s", l, MaxPieceLength).accepting("a piece length up to %s", MaxPieceLength)
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
	return notRead("no-legal-quantity", "this term has no size that can be checked and isn’t a legal quantity").
		accepting("cords and fractions of a cord, cubic feet or cubic metres")
}
