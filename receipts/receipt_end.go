package receipts

import (
	"math"

	"wellstowed/orders"
)

// ends says which receipt a correction or a void ends, what it said otherwise, and
// why: what ended and what changed are the largest on the paper.
func (w *paper) ends(r orders.Receipt) block {
	return func() {
		f := r.Facts
		hero := w.print.EndedHero(f)
		w.gap(2)
		w.paragraph(w.shrink(verdictFace(), hero, w.inner()), hero)
		w.paragraph(leadFace(), w.print.Ends(f))
		w.gap(1)
		if f.Kind == orders.VoidReceipt {
			w.paragraph(mainFace(), w.print.Heading("It no longer counts. It said:"))
			for _, said := range w.print.Former(f) {
				w.item(strongFace(), said)
			}
		} else {
			w.paragraph(mainFace(), w.print.Heading("This receipt replaces it. What changed:"))
			for _, c := range w.print.Changes(r) {
				w.item(strongFace(), w.print.Changed(c))
			}
		}
		w.gap(1)
		w.paragraph(mainFace(), w.print.Field("Why", f.Reason))
		w.paragraph(noteFace(), w.print.Field("Seal of the receipt it ends", f.Former.Seal))
	}
}

// across writes a text over each page, from the bottom left to the top right, in outlines
// that leave what lies under them to be read.
func (w *paper) across(text string) {
	long := math.Hypot(w.inner(), w.height*0.6)
	f := w.shrink(face{44, true}, text, long)
	for n := 1; n <= w.pdf.PageCount(); n++ {
		w.goTo(n)
		x, y := w.width/2, w.height/2
		w.pdf.TransformBegin()
		w.pdf.TransformRotate(math.Atan2(w.height*0.6, w.inner())*180/math.Pi, x, y)
		w.stroke(0.4, 0)
		w.pdf.SetTextRenderingMode(1)
		w.middleAt(x, y, f, text)
		w.pdf.SetTextRenderingMode(0)
		w.stroke(0.8, 0)
		w.pdf.Line(x-long/2, y+3, x+long/2, y+3)
		w.pdf.TransformEnd()
		w.forget()
	}
}
