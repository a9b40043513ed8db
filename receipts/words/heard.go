//go:build !wasm

package words

import (
	"strings"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// Heard says what was understood of an order's line, and keeps what wasn't apart, as the
// note that it becomes.
func (p *Printer) Heard(b orders.ReadBack) (parts []Fact) {
	o, l := b.Order, b.Line
	put := func(label, text string) {
		if text != "" {
			parts = append(parts, Fact{label, upper(text)})
		}
	}
	if o.Quantity.Volume > 0 {
		put(p.say("How much"), p.Quantity(o.Quantity))
	}
	wood := l.Species
	if l.Seasoning != "" {
		wood = strings.TrimPrefix(wood+", "+p.Seasoning(yard.Seasoning(l.Seasoning)), ", ")
	}
	put(p.say("Wood"), wood)
	if l.Piece > 0 {
		put(p.say("Pieces"), p.say("%s long", p.Length(l.Piece)))
	}
	put(p.say("Split"), p.Splitting(l.Split))
	put(p.say("Stacking"), p.Stacking(l.Stacking))
	put(p.saidPrice(b))
	put(p.say("When"), p.Promised(l.Day, act.Date{}))
	put(p.say("Note"), quoted(l.Notes))
	return parts
}

// saidPrice is the price that the line says, empty where it says none that can be read.
func (p *Printer) saidPrice(b orders.ReadBack) (label, text string) {
	price := b.Order.Price
	switch {
	case b.Line.Price.Amount == "" || price.Wood.Minor == 0:
		return "", ""
	case price.PerCord.Minor > 0:
		return p.say("Price per cord"), p.Money(price.PerCord)
	case price.PerUnit.Minor > 0:
		return p.PerUnit(), p.Money(price.PerUnit)
	}
	return p.say("Price for all of the wood"), p.Money(price.Wood)
}

func quoted(notes []string) string {
	all := make([]string, len(notes))
	for i, n := range notes {
		all[i] = "“" + n + "”"
	}
	return strings.Join(all, ", ")
}
