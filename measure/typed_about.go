package measure

// about reads what is said of the wood besides how much it is, in any order: how it
// stands, what was done to it, how long its pieces are, and the rest. Before is how it
// was said to stand already.
func (r *reader) about(said *Said, before Basis, terms Terms) (fault *InputError) {
	basis := before
	for fault == nil && r.peek(0).kind != endToken {
		var more Basis
		if more, fault = r.clause(said, terms); fault == nil {
			basis, fault = oneBasis(basis, more)
		}
	}
	said.Unsaid = basis == ""
	if said.Quantity.Basis = basis; basis == "" {
		said.Quantity.Basis = Ranked
	}
	return fault
}

// oneBasis joins what two places say of how the wood stands.
func oneBasis(a, b Basis) (Basis, *InputError) {
	switch {
	case a == "":
		return b, nil
	case b != "" && a != b:
		return "", notRead("wrong-basis", "the words say two ways the wood is piled").accepting("one of them: stacked, or loose")
	}
	return a, nil
}

// clause reads one thing that is said of the wood. It gives the basis where that is
// what is said.
func (r *reader) clause(said *Said, terms Terms) (Basis, *InputError) {
	if r.peek(0).kind == commaToken {
		r.at++
	}
	r.skip("and", "with")
	if basis := r.basis(); basis != "" {
		return basis, nil
	}
	if how := r.preparation(); how != "" {
		if said.Preparation != "" {
			return "", notRead("trailing", "the wood is said twice to be prepared").accepting("one of “not sawed”, “sawed”, “sawed and split”")
		}
		said.Preparation = how
		return "", nil
	}
	of := r.skip("of", "at")
	if !of && startsFigure(r.peek(1)) {
		r.skip("in") // "in 16 inch pieces"
	}
	if startsFigure(r.peek(0)) {
		return "", r.pieceLength(said)
	}
	if of && r.skip("wood", "firewood") {
		return "", nil
	}
	return "", r.phrase(said, of, terms)
}

// startsFigure tells whether t can begin a piece length.
func startsFigure(t token) bool {
	return startsAmount(t) && wordIndex(t, "a", "an") == 0 || t.kind == vulgarToken
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

// preparation reads "sawed and split", "of cut wood", "not sawed"; empty for none.
func (r *reader) preparation() Preparation {
	start := r.at
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

// pieceLength reads "16 inch pieces".
func (r *reader) pieceLength(said *Said) *InputError {
	from := r.at
	l, fault := r.length(0)
	if fault != nil {
		if fault.Code == "no-unit" || fault.Code == "unknown-unit" && r.volumeWords().size != 0 {
			return r.notAPiece(from, fault)
		}
		return fault
	}
	r.skip("long")
	r.skip("pieces", "wood", "firewood", "logs", "splits")
	if said.PieceLength != 0 && said.PieceLength != l {
		return notRead("two-lengths", "the pieces are said to be %s and %s long", said.PieceLength, l).accepting("one piece length")
	}
	said.PieceLength = l
	return checkPieceLength(l)
}

// notAPiece refuses a second number after a quantity that is no length of pieces.
func (r *reader) notAPiece(from int, fault *InputError) *InputError {
	if fault.Code == "no-unit" {
		number := r.typed(from, r.at)
		return notRead("no-unit", "“%s” has no unit", number).accepting("the unit after it, if it is how long the pieces are: %s in or %s cm", number, number)
	}
	return notRead("trailing", "there are two quantities").accepting("one quantity, such as 1 1/2 cords")
}

// phrase keeps a run of words that say something else of the wood: its species, how
// dry it is, what is wanted. Without "of" before them, they are refused unless what was
// understood is read back.
func (r *reader) phrase(said *Said, of bool, terms Terms) *InputError {
	from := r.at
	for r.phraseGoesOn() {
		r.at++
	}
	to := r.at
	for to > from && wordIndex(r.tokens[to-1], "and", "in", "of", "at", "with") != 0 {
		to--
	}
	if to == from || !of && !terms.ReadBack {
		r.at = min(from, len(r.tokens)-1)
		return r.leftOver()
	}
	for i := from; i < to; i++ {
		if changesAmount(r.tokens[i]) {
			r.at = i
			return r.leftOver()
		}
	}
	if wordIndex(r.tokens[to-1], "not", "no", "non", "never", "un") != 0 {
		r.at = to - 1
		return r.leftOver()
	}
	said.Rest = append(said.Rest, r.typed(from, to))
	return nil
}

// phraseGoesOn tells whether the next token belongs to a run of words.
func (r *reader) phraseGoesOn() bool {
	start := r.at
	known := r.basis() != "" || r.preparation() != ""
	r.at = start
	t := r.peek(0)
	between := t.kind == slashToken && t.glued && r.peek(1).glued && r.peek(1).kind == wordToken // "oak/maple"
	return !known && (t.kind == wordToken || between)
}

// changesAmount tells whether a word may change how much wood is meant, so that it is
// never passed over.
func changesAmount(t token) bool {
	switch {
	case wordIndex(t, "a", "an", "in") != 0:
		return false
	case startsAmount(t), t.text == "hundred", lengthUnits(t.text) != 0, cube(t.text) != 0:
		return true
	}
	one := reader{tokens: []token{t}}
	if one.volumeWords().size != 0 || one.barred() != "" {
		return true
	}
	return wordIndex(t, "face", "full", "cu", "cubic", "or", "so", "about", "approx", "approximately", "around", "roughly", "maybe", "perhaps",
		"plus", "minus", "less", "more", "extra", "another", "except", "each", "every", "per", "times", "twice", "double", "triple",
		"solid", "fm", "change") != 0
}

// leftOver refuses the next token, which is not understood after a quantity.
func (r *reader) leftOver() *InputError {
	t := r.peek(0)
	if t.kind == slashToken {
		return r.end()
	}
	return notRead("trailing", "“%s” is not understood after the rest", r.typed(r.at, r.at+1)).
		accepting("a quantity, and after it only the wood and how long its pieces are: 2 cords of oak, 16 in")
}
