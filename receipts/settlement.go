package receipts

import "wellstowed/orders"

// settles says what a receipt settles, how, and what was agreed.
func (w *paper) settles(f orders.Facts) {
	s := f.Settles
	w.heading(w.print.Heading("Settlement"), 6*mainFace().lead())
	w.paragraph(strongFace(), w.print.Settles(f))
	w.gap(0.8)
	third := w.inner() / 3
	cells := []column{w.cell(0, third, "Owed", w.print.Quantity(s.Owed))}
	if s.Choice == orders.SettleMoney {
		cells = append(cells, w.cell(1, third, "Given with this receipt", w.print.Money(s.Given)))
	} else {
		brought := s.Owed
		brought.Volume = s.Brought
		cells = append(cells, w.cell(1, third, "Brought with this receipt", w.print.Quantity(brought)))
	}
	w.columns(append(cells, w.cell(2, third, "Day", w.print.Date(s.On)))...)
	w.gap(0.8)
	w.paragraph(mainFace(), w.print.Field("How", w.print.SettledBy(*s)))
	w.paragraph(mainFace(), w.print.Field("Chosen", w.print.Agreed(s.AgreedOn, s.AgreedHow)))
	if f.Reason != "" {
		w.paragraph(mainFace(), w.print.Field("Why", f.Reason))
	}
}
