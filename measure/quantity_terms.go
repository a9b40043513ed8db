package measure

// Terms are what a quantity in words hangs on besides the words.
type Terms struct {
	// Piece is the length of the pieces where the words give none; 0 is not known.
	Piece Length
	// Cord is what the rules of a sale take a cord for, of wood that stands and is
	// prepared so. Where it is nil a cord is 128 ft³ of ranked wood, and there is no
	// loose cord.
	Cord func(Basis, Preparation) (Volume, *InputError)
}

// ParseQuantity reads a quantity as the function of that name does, under these
// terms. Where they define a loose cord, "2 loose cords" is that many of it, on the
// basis Loose; elsewhere the error has the code "needs-rule-set".
func (t Terms) ParseQuantity(s string) (Said, error) {
	said, fault := readQuantity(s, t)
	if fault != nil {
		return Said{}, finish(fault, s, Say("a quantity such as 1 1/3 cords, 64 cu ft, 3.6 m³ stacked or 180 cu ft loose"))
	}
	said.Words = s
	return said, nil
}

// cord is what one cord is under the terms.
func (t Terms) cord(b Basis, how Preparation) (Volume, *InputError) {
	switch {
	case b == Container:
		return 0, notRead("wrong-basis", "a cord is ranked wood")
	case t.Cord != nil:
		return t.Cord(b, how)
	case b == Loose:
		return 0, notRead("needs-rule-set", "a loose cord has a size only where a rule set defines one")
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

// preparation reads "sawed and split", "of cut wood", "not sawed"; empty for none.
func (r *reader) preparation() Preparation {
	start := r.at
	if r.peek(0).kind == commaToken {
		r.at++
	}
	r.skip("of")
	not := r.skip("not")
	switch {
	case !r.skip("sawed", "sawn", "cut"):
		r.at = start
		return ""
	case not:
		r.skip("wood", "firewood")
		return Unsawed
	}
	how, end := Sawed, r.at
	if r.peek(0).kind == commaToken {
		r.at++
	}
	r.skip("and")
	if r.skip("split") {
		how = SawedAndSplit
	} else {
		r.at = end
	}
	r.skip("wood", "firewood")
	return how
}
