package stack

import (
	"math"
	"strconv"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// A Window is a part of the face in which the pieces were counted. The zero Window
// was not counted.
type Window struct {
	Width, Height measure.Length
	Pieces        int
}

// A PieceCount is about how many pieces a volume of ranked wood is.
type PieceCount struct {
	Low     int  `json:"low"`
	High    int  `json:"high"`
	Counted bool `json:"counted"` // in a window of the face; else by common practice
	// LowFace and HighFace are the pieces to a square foot of face, a statistic.
	LowFace  float64 `json:"low_a_square_foot"`
	HighFace float64 `json:"high_a_square_foot"`
	// PieceLength is what turns volume into face.
	PieceLength measure.Length `json:"piece_length"`
}

// Pieces to a square foot of face where none were counted: practice, no source.
const (
	usualFace     = 7.0
	usualFaceHalf = 1.5
	maxWindow     = 10_000 // pieces in a window
)

// UsualPieces reckons pieces of a length where none were counted: 7 ± 1.5 to a square
// foot of face, common practice without a source. The count of a volume is from Of.
func UsualPieces(piece measure.Length) PieceCount {
	return PieceCount{LowFace: usualFace - usualFaceHalf, HighFace: usualFace + usualFaceHalf, PieceLength: piece}
}

// Of gives about how many pieces a volume of the same wood is, from and to; 0 and 0
// where that is not known. A volume below 0 counts as far as it goes.
func (p PieceCount) Of(v measure.Volume) (low, high int) {
	if p.PieceLength <= 0 {
		return 0, 0
	}
	face := math.Abs(v.In(measure.CubicFoot)) / p.PieceLength.In(measure.Foot)
	return int(math.Floor(face * p.LowFace)), int(math.Ceil(face * p.HighFace))
}

// Text says how the pieces were counted.
func (p PieceCount) Text() measure.Text {
	if p.Counted {
		return measure.Say("Pieces are taken at %.3g to %.3g to a square foot of face, from those counted in a part of it.", p.LowFace, p.HighFace)
	}
	return measure.Say("Pieces are taken at %.3g to %.3g to a square foot of face, none having been counted: common practice.", p.LowFace, p.HighFace)
}

// pieceCount reckons the pieces of an estimate. A count is doubted by its square
// root, as counts are that come at random.
func (e *estimate) pieceCount(basis measure.Basis) PieceCount {
	if basis != measure.Ranked || e.piece <= 0 {
		return PieceCount{}
	}
	p := UsualPieces(measure.Length(math.RoundToEven(e.piece * float64(measure.Inch))))
	if w := e.window; w.Pieces > 0 {
		n := float64(w.Pieces)
		area := w.Width.In(measure.Foot) * w.Height.In(measure.Foot)
		p.Counted, p.LowFace, p.HighFace = true, (n-math.Sqrt(n))/area, (n+math.Sqrt(n))/area
	}
	p.Low, p.High = p.Of(volume(e.value))
	return p
}

// readWindow reads a part of the face in which pieces were counted.
func (r *rowsReader) readWindow(d *WindowDocument, ranked bool) Window {
	if d == nil {
		return Window{}
	}
	path := strict.Member(r.path, "window")
	if !ranked {
		r.errs.Add(path, "out-of-place", "", measure.Say("only ranked wood has a face to count pieces in"), measure.Say("nothing here"))
		return Window{}
	}
	w := Window{
		Width:  r.need(strict.Member(path, "width"), d.Width, MaxRowLength),
		Height: r.need(strict.Member(path, "height"), d.Height, MaxHeight),
		Pieces: d.Pieces,
	}
	if d.Pieces < 1 || d.Pieces > maxWindow {
		r.errs.Add(strict.Member(path, "pieces"), "out-of-range", strconv.Itoa(d.Pieces), measure.Say("this isn’t a number of pieces counted"), measure.Say("a whole number from 1 to %d", maxWindow))
	}
	return w
}
