//go:build !wasm

package words

import (
	"wellstowed/orders/yard"
)

// Filled says which body a load came in and how its volume is known.
func (p *Printer) Filled(b *yard.BodyFact) string {
	return p.say("Filled to the line “%s” of the %s, taped on %s by %s.", b.Line, b.Name, p.Date(b.On), b.By)
}
