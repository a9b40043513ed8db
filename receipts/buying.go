package receipts

import (
	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// BuyingChecklist paints a page for a buyer of wood to take along: what to look to
// before paying, at the truck and after, what the ticket must hold under a rule set,
// and room to write down what is asked later. The same bytes each time.
func (p *Painter) BuyingChecklist(language string, set rules.Set, paper orders.Paper, units act.Units) ([]byte, error) {
	w := p.paper(setup{title: measure.Say("Buying wood"), paper: paper, units: units, unit: set.SoldIn(units == act.Metric), language: language, whose: set.Name})
	w.buyingHead(set.Name)
	parts := w.print.Buying(set)
	left, right := evenly(parts, w)
	w.lay(w.beside(span{1, 6, left}, span{7, gridColumns, right}))
	w.ticketToTick(set)
	w.toWriteDown()
	w.gap(3.5)
	for _, source := range append([]string{w.print.AdviceSource(), w.print.NotAdvice(set)}, w.print.TicketSources(set)...) {
		w.item(noteFace(), source)
	}
	return w.bytes()
}

// evenly deals parts to two columns, in their order, so that the longer one is as short as
// it can be.
func evenly(parts []words.BuyingPart, w *paper) (left, right block) {
	of := func(some []words.BuyingPart) block {
		return func() {
			for _, part := range some {
				w.ticked(part)
			}
		}
	}
	high := func(some []words.BuyingPart) float64 { return w.high(func() { w.within(span{1, 6, of(some)}) }) }
	cut, best := 0, high(parts)
	for n := range parts {
		if longer := max(high(parts[:n]), high(parts[n:])); longer < best {
			cut, best = n, longer
		}
	}
	return of(parts[:cut]), of(parts[cut:])
}

// buyingHead is the title with the name of the rules at the right, below it where that is
// long.
func (w *paper) buyingHead(rules string) {
	const title = 50 // as wide as the title and some air
	w.at(w.left(), w.y+6, headFace(), w.print.Heading("Buying wood"))
	w.y += 8
	if w.measure(noteFace(), rules) <= w.inner()-title {
		w.rightAt(w.right(), w.y-2, noteFace(), rules)
		return
	}
	w.paragraph(noteFace(), rules)
}

// ticked are lines to be ticked off.
func (w *paper) ticked(part words.BuyingPart) {
	w.heading(part.Heading, 2*tickFace().lead())
	for _, line := range part.Lines {
		w.gap(0.5)
		w.need(2 * tickFace().lead())
		w.frame(w.left(), w.y+0.9, 3.2, 3.2, ruleLine)
		w.block(w.left()+5.5, w.inner()-5.5, tickFace(), line)
	}
}

func tickFace() face { return mainFace() }

// ticketToTick are the fields that a ticket must hold, in two columns.
func (w *paper) ticketToTick(set rules.Set) {
	w.heading(w.print.Heading("The delivery ticket must hold"), 4*tickFace().lead())
	half := w.inner() / 2
	fields := w.print.TicketFields(set)
	for from := 0; from < len(fields); from += 2 {
		y, lowest := w.y, w.y
		for i := from; i < min(from+2, len(fields)); i++ {
			x := w.left() + float64(i-from)*half
			w.y = y + 0.5
			w.frame(x, w.y+0.9, 3.2, 3.2, ruleLine)
			w.block(x+5.5, half-8, tickFace(), fields[i].Words)
			lowest = max(lowest, w.y)
		}
		w.y = lowest
	}
	for _, line := range w.print.TicketConditions(set) {
		w.paragraph(noteFace(), line)
	}
}

// toWriteDown are lines for what the seller, and later an office, is asked.
func (w *paper) toWriteDown() {
	w.heading(w.print.Heading("Record"), 24)
	third := w.inner() / 3
	for row, names := range [][]string{
		{"Seller", "Address and phone", "Vehicle and plate"},
		{"Day delivered", "Sold, in the seller’s words", "Paid, and how"},
	} {
		for i, name := range names {
			w.writeOn(w.left()+float64(i)*third, w.y+7+float64(row)*11, third-5, name)
		}
	}
	w.y += 22
}
