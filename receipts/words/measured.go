//go:build !wasm

package words

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
)

// MeasuredShort says what a tally found before a delivery and how much is missing.
func (p *Printer) MeasuredShort(t orders.Tally) string {
	f := t.Result.Finding
	return p.say("Measured before: %s, short by %s.", t.Result.Quantity, measure.Quantity{Volume: -f.Margin, Basis: f.Sold.Basis})
}

// MeasuredBefore says how short a receipt's wood was measured before it was delivered,
// with the seller's words where more is said to be delivered; empty where it wasn't.
func (p *Printer) MeasuredBefore(f orders.Facts) string {
	if f.Measured == nil || f.Measuring == nil || f.Measuring.Word != stack.Short {
		return ""
	}
	m := f.Measuring
	said := p.say("Short by %s of what was ordered, by sheet %d.", measure.Quantity{Volume: m.Missing, Basis: f.Measured.Basis}, int(m.Sheet))
	if m.Why != "" {
		said += " " + p.say("More is delivered, the seller says: %s", m.Why)
	}
	return said
}
