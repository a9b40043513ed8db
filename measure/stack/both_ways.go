package stack

import (
	"math"

	"wellstowed/measure/face"
)

// A FacePair is the face of a row that was read with a tape and from a photo: each with its
// give or take, 19 times in 20, of what the two readings have not in common.
type FacePair struct {
	Row        int               `json:"row"` // from 1
	Tape       face.SquareInches `json:"tape"`
	TapeDoubt  face.SquareInches `json:"tape_doubt"`
	Photo      face.SquareInches `json:"photo"`
	PhotoDoubt face.SquareInches `json:"photo_doubt"`
	// Limit is k·√(u₁² + u₂²): by how much two readings of one face may differ.
	Limit face.SquareInches `json:"limit"`
	Agree bool              `json:"agree"` // the faces differ by no more
}

// facePairs holds what a tape and a photo say of the same rows against each other. The
// tape's reading is the one that counts.
func (s Rows) facePairs(t *Tally) []FacePair {
	var pairs []FacePair
	for i := range s.Rows {
		if s.Rows[i].Beside == nil {
			continue
		}
		if pair, err := s.facePair(t, i); err == nil {
			pairs = append(pairs, pair)
		}
	}
	return pairs
}

// facePair takes row i for the whole stack, once as each was read.
func (s Rows) facePair(t *Tally, i int) (FacePair, error) {
	taped, seen := s.Rows[i], s.Rows[i]
	taped.Pieces, seen.Pieces = s.PiecesOf(i), s.PiecesOf(i)
	seen.readFrom(seen.Beside)
	var faces [2]combined
	var areas [2]float64
	var apart []part
	for n, row := range []Row{taped, seen} {
		e, err := Rows{Rows: []Row{row}}.estimate(t)
		if err != nil {
			return FacePair{}, err
		}
		own := ofFace(&e)
		for k := range own {
			own[k].u /= e.piece
		}
		faces[n], areas[n] = combine(own, ""), e.value/e.piece
		apart = append(apart, own...)
	}
	area := func(x float64) face.SquareInches { return face.SquareInches(x) }
	both := combine(apart, "")
	p := FacePair{Row: i + 1, Tape: area(areas[0]), TapeDoubt: area(faces[0].expanded()), Photo: area(areas[1]), PhotoDoubt: area(faces[1].expanded()), Limit: area(both.expanded())}
	p.Agree = math.Abs(areas[0]-areas[1]) <= float64(p.Limit)
	return p, nil
}

// ofFace are the parts of a row's doubt that are of its face, and of this way of reading it:
// where the top of the wood is was judged twice, once along the tape and once in the picture.
func ofFace(e *estimate) []part {
	var parts []part
	for _, p := range e.parts {
		switch p.source {
		case PieceSpread, RoundingOfPieces, OneFace: // both ways have them in common
		default:
			if p.own() || p.source == TopOfWood {
				parts = append(parts, p)
			}
		}
	}
	return parts
}
