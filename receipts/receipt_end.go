package receipts

import "wellstowed/orders"

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
			w.section(w.print.Heading("It no longer counts. It said:"), w.formerly(w.print.Former(f)))()
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

// void paints what a void ends and what goes back with it, the room that is left between its
// sections, who signs and the seal at the foot.
func (w *paper) void(r orders.Receipt, sign, foot block) {
	const sections, most = 3, 18.0
	above := []block{w.ends(r)}
	if r.Erased.IsZero() {
		above = append(above, w.givenBack())
	}
	below := func() { w.lay(sign, foot) }
	w.air = max(0, min((w.bottom()-w.y-w.high(append(above, below)...))/sections, most))
	w.lay(above...)
	w.atFoot(below)
}

// formerly are what a receipt said that no longer counts, a line each.
func (w *paper) formerly(said []string) block {
	return func() {
		for _, line := range said {
			w.gap(1)
			w.row(strongFace(), []float64{1}, cell{text: line})
		}
		w.gap(2)
	}
}

// givenBack is room to write down what goes back with a void, which both sides sign for
// below it, and what to do with the paper that it ends.
func (w *paper) givenBack() block {
	return w.section(w.print.Heading("What goes back"), func() {
		const high = 15.0
		for _, back := range []string{"Money given back: amount, how, day", "Wood taken back, or left: how much, day"} {
			w.writeOn(w.left(), w.y+high-belowLine, w.inner(), back)
			w.y += high
		}
		w.gap(3)
		w.paragraph(mainFace(), w.print.Heading("Write “void” across every copy of the receipt, and keep this paper with it."))
	})
}

// across crosses each page out with two thin lines, between which all is still to be read,
// and says in the margin beside it, over no text, which paper ended it.
func (w *paper) across(text string) {
	const apart = 4.0
	f := w.shrink(face{44, true}, text, w.height-marginTop-marginBottom)
	for n := 1; n <= w.pdf.PageCount(); n++ {
		w.goTo(n)
		w.line(w.left(), w.bottom()-apart, w.right()-apart, marginTop, hairline)
		w.line(w.left()+apart, w.bottom(), w.right(), marginTop+apart, hairline)
		x, y := marginLeft-1.5*apart, w.height/2
		w.pdf.TransformBegin()
		w.pdf.TransformRotate(90, x, y)
		w.middleAt(x, y, f, text)
		w.pdf.TransformEnd()
		w.forget()
	}
}
