package receipts

import "wellstowed/orders/signed"

// Where a purchaser's signature stands, up from the end of the signatures, in mm.
const (
	nameUp   = 14.0 // the base of the printed name
	strokeUp = 4.0  // the foot of the box that was drawn in
	strokeIn = 23.0 // its left, beside what the line above is called
	boxHigh  = 8.0
	penWide  = 0.35
)

// drawnName puts what was drawn on a screen over the purchaser's line, and the printed name
// over its own; nothing where nobody signed so.
func (w *paper) drawnName(s *signed.Signature) {
	if s == nil || w.dry {
		return
	}
	x := w.left() + w.inner()/2 + gutter/2
	width := w.inner()/2 - gutter/2
	w.at(x+1, w.y-nameUp, w.shrink(mainFace(), s.By, width-2), s.By)
	scale := min(boxHigh/signed.Height, (width*0.66-strokeIn)/signed.Width)
	left, top := x+strokeIn, w.y-strokeUp-scale*signed.Height
	w.stroke(penWide, 0)
	for _, stroke := range s.Drawn() {
		last := stroke[0]
		for _, p := range stroke {
			w.pdf.Line(left+float64(last.X)*scale, top+float64(last.Y)*scale, left+float64(p.X)*scale, top+float64(p.Y)*scale)
			last = p
		}
	}
}
