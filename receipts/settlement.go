package receipts

import (
	"wellstowed/measure"
	"wellstowed/orders"
)

// settles says what is still owed, what a receipt settles, how, and what was agreed.
func (w *paper) settles(f orders.Facts) block {
	return func() {
		s := f.Settles
		hero := w.print.StillOwed(f)
		w.gap(1)
		w.paragraph(w.shrink(verdictFace(), hero, w.inner()), hero)
		w.paragraph(leadFace(), w.print.Settles(f))
		w.gap(1)
		w.heading(w.print.Heading("Account"), 0)
		w.settled("Owed", w.print.Quantity(s.Owed))
		if s.Choice == orders.SettleMoney {
			w.settled("Given with this receipt", w.print.Money(s.Given))
		} else {
			w.settled("Brought with this receipt", w.print.Quantity(measure.Quantity{Volume: s.Brought, Basis: s.Owed.Basis}))
		}
		w.settled("Day", w.print.Date(s.On))
		w.gap(0.8)
		w.paragraph(mainFace(), w.print.Field("How", w.print.SettledBy(*s)))
		w.paragraph(mainFace(), w.print.Field("Chosen", w.print.Agreed(s.AgreedOn, s.AgreedHow)))
		if f.Reason != "" {
			w.paragraph(mainFace(), w.print.Field("Why", f.Reason))
		}
	}
}

// settled is a line of the account.
func (w *paper) settled(name, text string) {
	w.row(mainFace(), []float64{0.5, 0.5}, cell{text: w.print.Heading(name)}, cell{text: text, right: true})
}
