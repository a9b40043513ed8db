package stack

import (
	"math"
	"slices"

	"wellstowed/measure"
)

// Kind is "rows".
func (s Rows) Kind() string { return "rows" }

// Basis is Ranked.
func (s Rows) Basis() measure.Basis { return measure.Ranked }

// How the ends of a row are counted: practice, no source.
const cribShare = 0.80 // of a crib's box that is wood, unless judged

// What readings must be to carry an accusation, and to call a stack full.
const (
	fitPieces  = 5   // measured, in the sample that serves a row
	fitHeights = 3   // in a row
	fitShare   = 0.4 // of a row's length, the most that one height may stand for
)

// estimate takes each row's face, A = Σwᵢhᵢ with its ends and less its voids,
// times its piece length: V = Σ PᵣNᵣ. Gaps between rows are not wood.
func (s Rows) estimate(t *Tally) (estimate, error) {
	if err := s.check(t); err != nil {
		return estimate{}, err
	}
	b := s.budget(t)
	if s.Pieces.Given() {
		b.stack = s.Pieces.judge(t.Tape)
	}
	for i := range s.Rows {
		b.addRow(i)
	}
	b.addStack(s.bothFaces())
	if b.value <= 0 {
		return estimate{}, unfit("stack.rows", "no-wood", "", measure.Say("the voids and shoulders take up the whole stack"),
			measure.Say("voids and shoulders smaller than the rows they are in"))
	}
	b.noteRows(s)
	e := b.estimate("", b.value/b.face)
	e.at = b
	e.holds, e.fullHolds = s.holds(), s.endsUnsaid()
	if s.photoUnfit() {
		e.holds = append(slices.Clone(e.holds), HeldByPhoto)
	}
	return e, nil
}

// budget is a budget with room for all that the rows come to.
func (s Rows) budget(t *Tally) *rowsBudget {
	b := &rowsBudget{rows: s.Rows}
	b.budget = budget{tally: t, basis: measure.Ranked, division: s.division(t.Tape), window: s.Window, parts: b.fewParts[:0]}
	if b.pieces = b.fewPieces[:0]; len(s.Rows) > len(b.fewPieces) {
		b.pieces = make([]pieceLength, 0, len(s.Rows))
	}
	if n := s.mostParts(); n > len(b.fewParts) {
		b.parts = make([]part, 0, n)
	}
	b.pieces = b.pieces[:len(s.Rows)]
	return b
}

// division is the division in effect of all heights of the stack, in inches.
func (s Rows) division(tape measure.Length) float64 {
	d := dividerFor(tape)
	for i := range s.Rows {
		if s.Rows[i].Photo != nil {
			continue
		}
		d.add(s.Rows[i].Heights)
		d.add(s.Rows[i].Back)
	}
	return inches(d.inEffect())
}

// PiecesOf are the pieces that give row i its length.
func (s Rows) PiecesOf(i int) Pieces {
	if own := s.Rows[i].Pieces; own.Given() {
		return own
	}
	return s.Pieces
}

// bothFaces tells whether every row's heights were read on both faces.
func (s Rows) bothFaces() bool {
	for i := range s.Rows {
		if len(s.Rows[i].Back) == 0 {
			return false
		}
	}
	return true
}

// holds are what of these readings can't carry an accusation.
func (s Rows) holds() []Hold {
	var few, unread bool
	for i := range s.Rows {
		few = few || len(s.PiecesOf(i).Sample) < fitPieces
		unread = unread || !s.Rows[i].wellRead()
	}
	switch {
	case few && unread:
		return heldByReadings[:]
	case few:
		return heldByReadings[:1:1]
	case unread:
		return heldByReadings[1:]
	}
	return nil
}

// The holds of readings that are too few, only read.
var (
	heldByReadings = [...]Hold{HeldByPieces, HeldByHeights}
	heldByEnds     = [...]Hold{HeldByEnds}
)

// wellRead tells whether a row has heights enough, and none that stands for too much
// of it.
func (r *Row) wellRead() bool {
	if r.Photo != nil { // that it is fit is another matter
		return true
	}
	length := inches(r.Length)
	for i := range r.Heights {
		if r.weight(i, length) > fitShare*length*(1+1e-12) {
			return false
		}
	}
	return len(r.Heights) >= fitHeights
}

// endsUnsaid holds full back where it was not said how every row ends.
func (s Rows) endsUnsaid() []Hold {
	for i := range s.Rows {
		if s.Rows[i].Ends[0].Unsaid || s.Rows[i].Ends[1].Unsaid {
			return heldByEnds[:]
		}
	}
	return nil
}

// mostParts is as many lines as the doubt budget can have.
func (s Rows) mostParts() int {
	n := 12 // stowage, one face, pieces, top, few stations, three of the tape and its scale, three of rounding
	for i := range s.Rows {
		n += 7 + len(s.Rows[i].Voids) // own pieces, stations, end, reading, two ends
	}
	return n
}

// A rowsBudget gathers what the rows of a stack come to.
type rowsBudget struct {
	budget
	rows   []Row
	pieces []pieceLength // by row
	stack  pieceLength   // serves every row without pieces of its own

	cribbed  int     // how many
	tops     float64 // ΣLᵣPᵣ
	taped    float64 // of that, rows whose heights were read with a tape
	sides    float64 // ΣH̄ᵣPᵣ
	stackNet float64 // ΣNᵣ of the rows served by the stack's pieces
	few      fewRows

	// Room for the rows of most stacks, so that all of it is made at once.
	fewPieces [4]pieceLength
	fewParts  [36]part
}

// A fewRows gathers the rows with fewer than four stations, which are one
// judgement.
type fewRows struct {
	rows        int
	half        float64 // ΣLᵣPᵣ·half-width
	after       float64 // Σu² with four more stations
	afterFourth float64 // Σu⁴/ν of the same
}

// volumeAt is V in cubic inches as readings would be seen otherwise.
func (b *rowsBudget) volumeAt(v view) float64 {
	var sum float64
	for i := range b.rows {
		sum += b.pieces[i].at(b.tally, v) * b.net(&b.rows[i], v)
	}
	return sum
}

// net is Nᵣ in square inches: the face between the ends, with the ends and less the
// voids.
func (b *rowsBudget) net(r *Row, v view) float64 {
	net, _ := b.faceOf(r, v)
	for i, e := range r.Ends {
		net += e.face(b.beside(r, i, v), v.cribs)
	}
	return net - r.gaps()
}

// faceOf is a row's face between its ends in square inches, and the root of the sum
// of its squared station weights in inches.
func (b *rowsBudget) faceOf(r *Row, v view) (area, weights float64) {
	if r.Photo != nil {
		return b.photoFace(r, v), 0
	}
	return r.area(b.tally.Raised, b.length(r, v), b.up(v))
}

// length is a row's length in inches.
func (b *rowsBudget) length(r *Row, v view) float64 {
	return inches(r.Length) + b.tally.up(b.division, v)
}

// up is what heights are raised by, in inches.
func (b *rowsBudget) up(v view) float64 { return b.tally.up(b.division, v) + b.tally.over(v) }

// beside is the height of the wood at the station nearest to an end, in inches.
func (b *rowsBudget) beside(r *Row, end int, v view) float64 {
	return r.WoodAt(end*(len(r.Heights)-1), b.tally.Raised, b.up(v))
}

// addRow takes in one row, from 0, and the parts that are its own.
func (b *rowsBudget) addRow(i int) {
	r, number := &b.rows[i], i+1
	b.pieces[i] = b.stack
	own := r.Pieces.Given()
	if own {
		b.pieces[i] = r.Pieces.judge(b.tally.Tape)
	}
	piece, length := b.pieces[i].at(b.tally, view{}), b.length(r, view{})
	area, weights := b.faceOf(r, view{})
	net := b.net(r, view{})
	for end, e := range r.Ends {
		b.addEnd(number, e, b.beside(r, end, view{}), piece)
	}
	for _, v := range r.Voids {
		b.add(VoidSize, number, rectangular(voidHalf*inches(v.Width)*inches(v.Height))*piece)
	}
	if own {
		b.addPieces(number, &b.pieces[i], net)
	} else {
		b.stackNet += net
	}
	b.value += net * piece
	b.face += net
	b.tops += length * piece
	if r.Photo != nil {
		b.addPhoto(number, r.Photo, piece)
		return
	}
	b.addStations(number, r, length*piece, weights*piece)
	side := area / length * piece
	b.add(RowEnds, number, rectangular(rowEndHalf)*side)
	b.roundLength(LengthReading, number, side)
	b.roundHeights(length*piece, deviation(r.Heights, MeanInches(r.Heights)))
	b.taped += length * piece
	b.sides += side
}

// addEnd puts in how well an end is known, beside wood of a height.
func (b *rowsBudget) addEnd(row int, e End, height, piece float64) {
	face := math.Abs(e.face(height, cribsAsJudged)) * piece
	switch e.Kind {
	case Shouldered:
		b.add(ShoulderShape, row, rectangular(shapeHalf*face))
	case Tapered:
		b.add(TaperShape, row, rectangular(shapeHalf*face))
	case Cribbed:
		half := cribHalf
		if e.Judged {
			half = judgedCribHalf
		}
		b.cribbed++
		b.cure(CribShare, row, rectangular(half*height*inches(e.Over))*piece, cure{code: restackCribs, minutes: cribMinutes})
	}
}

// face is what an end adds to a row's face beside wood of a height, in square inches;
// less than 0 for a shoulder.
func (e *End) face(height float64, cribs cribCount) float64 {
	over := inches(e.Over)
	switch e.Kind {
	case Shouldered:
		return -inches(e.Drop) * over / 2
	case Tapered:
		return height * over / 2
	case Cribbed:
		return e.wood(cribs) * height * over
	}
	return 0
}

// wood is the share of a crib's box that is counted.
func (e *End) wood(cribs cribCount) float64 {
	switch {
	case cribs == noCribs:
		return 0
	case cribs == wholeCribs:
		return 1
	case e.Judged:
		return e.Share
	}
	return cribShare
}
