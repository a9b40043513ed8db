package measure

// Kind is "rows".
func (s Rows) Kind() string { return "rows" }

// Basis is Ranked.
func (s Rows) Basis() Basis { return Ranked }

// How the ends of a row are counted: practice, no source.
const cribShare = 0.80 // of a crib's box that is wood, unless judged

// estimate takes each row's face, A = Σwᵢhᵢ with its ends and less its voids,
// times its piece length: V = Σ PᵣNᵣ. Gaps between rows are not wood.
func (s Rows) estimate(t *Tally) (estimate, error) {
	if err := s.check(t); err != nil {
		return estimate{}, err
	}
	b := rowsBudget{tally: t, rows: len(s.Rows), parts: make([]part, 0, s.mostParts())}
	if s.Pieces.given() {
		b.stack = s.Pieces.judge()
	}
	for i := range s.Rows {
		b.addRow(i+1, &s.Rows[i])
	}
	b.addStack()
	if b.volume <= 0 {
		return estimate{}, unfit("stack.rows", "no-wood", "", Say("the voids and shoulders take up the whole stack"),
			Say("voids and shoulders smaller than the rows they are in"))
	}
	return estimate{
		value:        b.volume,
		piece:        b.volume / b.net,
		withoutCribs: b.volume - b.cribs,
		wholeCribs:   b.volume - b.cribs + b.wholeCribs,
		parts:        b.parts,
		notes:        s.notes(t),
		window:       s.Window,
	}, nil
}

// piecesOf are the pieces that give row i its length.
func (s Rows) piecesOf(i int) Pieces {
	if own := s.Rows[i].Pieces; own.given() {
		return own
	}
	return s.Pieces
}

// mostParts is as many lines as the doubt budget can have.
func (s Rows) mostParts() int {
	n := 7 // stowage, pieces, top, few stations, three of the tape
	for i := range s.Rows {
		n += 6 + len(s.Rows[i].Voids) // own pieces, stations, end, reading, two ends
	}
	return n
}

// A rowsBudget gathers what the rows of a stack come to, in inches and their
// products.
type rowsBudget struct {
	tally *Tally
	rows  int
	stack pieceLength // serves every row without pieces of its own
	parts []part

	volume     float64 // ΣPᵣNᵣ
	cribs      float64 // of that, cribs
	wholeCribs float64 // the cribs' boxes
	cribbed    int     // how many
	tops       float64 // ΣLᵣPᵣ
	sides      float64 // ΣH̄ᵣPᵣ
	net        float64 // ΣNᵣ
	stackNet   float64 // ΣNᵣ of the rows served by the stack's pieces
	few        fewRows
}

// A fewRows gathers the rows with fewer than four stations, which are one
// judgement.
type fewRows struct {
	rows        int
	half        float64 // ΣLᵣPᵣ·half-width
	after       float64 // Σu² with four more stations
	afterFourth float64 // Σu⁴/ν of the same
}

// addRow takes in one row, numbered from 1, and the parts that are its own.
func (b *rowsBudget) addRow(number int, r *Row) {
	p, own := b.stack, r.Pieces.given()
	if own {
		p = r.Pieces.judge()
	}
	area, weights := r.area(b.tally.Raised)
	length := inches(r.Length)
	net := area + b.addEnds(number, r, p.mean) - b.addVoids(number, r, p.mean)
	if own {
		b.addPieces(number, p, net)
	} else {
		b.stackNet += net
	}
	b.addStations(number, r, p.mean, weights)
	side := area / length * p.mean
	b.add(RowEnds, number, rectangular(rowEndHalf)*side)
	b.add(LengthReading, number, resolution(b.tally.Tape)*side)
	b.volume += net * p.mean
	b.net += net
	b.tops += length * p.mean
	b.sides += side
}

// addEnds takes in both ends of a row and gives the face they add, which is
// negative for shoulders.
func (b *rowsBudget) addEnds(number int, r *Row, piece float64) float64 {
	var face float64
	for i, e := range r.Ends {
		station := i * (len(r.Heights) - 1)
		face += b.addEnd(number, e, r.wood(station, b.tally.Raised), piece)
	}
	return face
}

func (b *rowsBudget) addEnd(number int, e End, height, piece float64) float64 {
	over := inches(e.Over)
	switch e.Kind {
	case Shouldered:
		face := inches(e.Drop) * over / 2
		b.add(ShoulderShape, number, rectangular(shapeHalf*face)*piece)
		return -face
	case Tapered:
		face := height * over / 2
		b.add(TaperShape, number, rectangular(shapeHalf*face)*piece)
		return face
	case Cribbed:
		return b.addCrib(number, e, height*over, piece)
	}
	return 0
}

func (b *rowsBudget) addCrib(number int, e End, box, piece float64) float64 {
	share, half := cribShare, cribHalf
	if e.Judged {
		share, half = e.Share, judgedCribHalf
	}
	b.cribs += share * box * piece
	b.wholeCribs += box * piece
	b.cribbed++
	b.addCurable(CribShare, number, rectangular(half*box)*piece, cure{code: restackCribs, minutes: cribMinutes})
	return share * box
}

// addVoids takes in the voids of a row and gives their face.
func (b *rowsBudget) addVoids(number int, r *Row, piece float64) float64 {
	var face float64
	for _, v := range r.Voids {
		gap := inches(v.Width) * inches(v.Height)
		b.add(VoidSize, number, rectangular(voidHalf*gap)*piece)
		face += gap
	}
	return face
}
