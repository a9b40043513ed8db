package measure

// Terms are what a quantity in words hangs on besides the words.
type Terms struct {
	// Piece is the length of the pieces where the words give none; 0 is not known.
	Piece Length
	// LooseCord is what a rule set defines a loose cord of such pieces as; 0 where
	// it defines none.
	LooseCord Volume
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
