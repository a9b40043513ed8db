//go:build !wasm

package words

import (
	"wellstowed/orders"
	"wellstowed/orders/yard"
)

// Seasoning names a statement of dryness.
func (p *Printer) Seasoning(s yard.Seasoning) string {
	if s == "" {
		return p.say("not stated")
	}
	return p.say(string(s))
}

// State names where an order stands. To a customer what was taken was picked up.
func (p *Printer) State(s orders.State) string {
	if s == orders.Taken {
		return p.say("ordered")
	}
	return p.say(string(s))
}

// Fee says what a price line pays for.
func (p *Printer) Fee(line orders.PriceLine) string {
	switch line.Kind {
	case orders.WoodLine:
		return p.say("Wood")
	case orders.DeliveryLine:
		return p.say("Delivery")
	case orders.StackingLine:
		return p.say("Stacking")
	case orders.DistanceLine:
		return p.distanceFee(line.Basis)
	case orders.HalfLoadLine:
		if b := line.Basis; b != nil {
			return p.say("Less than a full load of %s", b.FullLoad)
		}
		return p.say("Less than a full load")
	}
	if line.Words == "" {
		return p.say("Other")
	}
	return line.Words
}
