package receipts

import (
	"strings"

	"wellstowed/receipts/words"
)

// reach has a telephone number linked wherever it stands on the paper from here on, so that
// it is called from a phone that shows the paper.
func (w *paper) reach(phone string) {
	if phone = oneLine(phone); words.Dialled(phone) != "" {
		w.reached = append(w.reached, phone)
	}
}

// linkPhones links the numbers in a line that was painted at x, y.
func (w *paper) linkPhones(x, y float64, f face, text string) {
	for _, phone := range w.reached {
		if before, _, found := strings.Cut(text, phone); found {
			w.pdf.LinkString(x+w.measure(f, before), y-f.lead()*0.76, w.measure(f, phone), f.lead(), "tel:"+words.Dialled(phone))
		}
	}
}
