package receipts

import "wellstowed/orders"

// ends says which receipt a correction or a void ends, what it said otherwise, and
// why.
func (w *paper) ends(r orders.Receipt) {
	f := r.Facts
	if f.Kind == orders.VoidReceipt {
		w.heading(w.print.Heading("Void"), 6*mainFace().lead())
	} else {
		w.heading(w.print.Heading("Correction"), 6*mainFace().lead())
	}
	w.paragraph(strongFace(), w.print.Ends(f))
	if f.Kind == orders.VoidReceipt {
		w.paragraph(mainFace(), w.print.Heading("It no longer counts. It said:"))
		for _, said := range w.print.Former(f) {
			w.item(mainFace(), said)
		}
	} else {
		w.paragraph(mainFace(), w.print.Heading("This receipt stands in its place. What changed:"))
		for _, c := range w.print.Changes(r) {
			w.item(mainFace(), w.print.Changed(c))
		}
	}
	w.paragraph(mainFace(), w.print.Field("Why", f.Reason))
	w.paragraph(noteFace(), w.print.Field("Seal of the receipt it ends", f.Former.Seal))
}
