//go:build !wasm

package words

import (
	"strings"

	"wellstowed/orders"
)

// ReceiptMessage is what a receipt says in a few lines, to be sent to the buyer with it or
// without.
func (p *Printer) ReceiptMessage(f orders.Facts, seal string) string {
	lines := []string{
		p.say("Receipt %d, %s", int(f.Number), f.Vendor.Name),
		p.say("%s of %s, delivered on %s.", f.Delivered, p.Said(f.Species), p.Date(f.DeliveredOn)),
	}
	for _, line := range p.Bill(f) {
		lines = append(lines, p.say("%s: %s", line.What, line.Amount))
	}
	lines = append(lines, p.say("Seal %s", seal))
	if f.Vendor.Phone != "" {
		lines = append(lines, p.say("Is anything wrong? Call %s first.", f.Vendor.Phone))
	}
	return strings.Join(lines, "\n")
}
