package measure

// Terms are what typed text depends on besides its words.
type Terms struct {
	// Piece is the length of the pieces where the words give none; 0 is not known.
	Piece Length
	// Cord is what the rules of a sale take a cord for, of wood that stands so, in
	// pieces of a length (0: not known), and prepared so. Where it is nil a cord is
	// 128 ft³ of ranked wood, and there is no loose cord.
	Cord func(Basis, Length, Preparation) (Volume, *InputError)
	// Points tells that where this is typed a point may part thousands, so that 1.234
	// has to be asked about as 1,234 is everywhere.
	Points bool
	// ReadBack tells that what is understood is read back to whoever typed it before
	// anything is done with it: a box's sides are then taken for its volume, and words
	// that are not understood are kept in Said.Rest.
	ReadBack bool
}

// cord is what one cord is under the terms.
func (t Terms) cord(b Basis, piece Length, how Preparation) (Volume, *InputError) {
	switch {
	case b == Container:
		return 0, notRead("wrong-basis", "a cord is ranked wood").accepting("cubic feet or cubic metres, such as 40 cu ft in a container")
	case t.Cord != nil:
		return t.Cord(b, piece, how)
	case b == Loose:
		return 0, notRead("needs-rule-set", "a loose cord has a size only where a rule set defines one").accepting("cubic feet or cubic metres, loose, such as 180 cu ft loose")
	}
	return Cord, nil
}

// A Preparation is what was done to wood before it was stacked or thrown, as the
// rules of some places ask of a cord. The zero Preparation is not said.
type Preparation string

// The preparations.
const (
	Unsawed       Preparation = "not sawed" // in lengths as felled and bucked, such as 4 ft
	Sawed         Preparation = "sawed"     // to the length it is burnt in, and not split
	SawedAndSplit Preparation = "sawed and split"
)

// Preparations are all there are.
func Preparations() []Preparation { return []Preparation{Unsawed, Sawed, SawedAndSplit} }
