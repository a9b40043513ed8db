//go:build !wasm

package words

import (
	"wellstowed/measure"
	"wellstowed/orders"
)

// Distance words the length of a road: "12.5 mi", or in metric "20 km".
func (p *Printer) Distance(l measure.Length) string {
	if p.metric() {
		return p.say("%s km", p.decimal(l.In(orders.Kilometre), 2))
	}
	return p.say("%s mi", p.decimal(l.In(orders.Mile), 2))
}

// distanceFee says how a charge for distance was worked out, where that was kept.
func (p *Printer) distanceFee(b *orders.ChargeBasis) string {
	if b == nil {
		return p.say("Distance")
	}
	rate := p.say("%s a mile", b.Rate)
	if b.Per == orders.Kilometre {
		rate = p.say("%s a kilometre", b.Rate)
	}
	if b.Free == 0 {
		return p.say("Distance, %s at %s", p.road(b.Beyond, b.Per), rate)
	}
	return p.say("Distance, %s beyond the first %s, at %s", p.road(b.Beyond, b.Per), p.road(b.Free, b.Per), rate)
}

// road words the length of a road in the unit it is charged in.
func (p *Printer) road(l, per measure.Length) string {
	if per == orders.Kilometre {
		return p.say("%s km", p.decimal(l.In(orders.Kilometre), 2))
	}
	return p.say("%s mi", p.decimal(l.In(orders.Mile), 2))
}
