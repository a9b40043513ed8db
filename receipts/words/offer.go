//go:build !wasm

package words

import (
	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/money"
	"wellstowed/orders/offers"
)

// OfferPrice says what stacked wood costs by an offer: by the cord where wood is sold so,
// else by the cubic metre or foot.
func (p *Printer) OfferPrice(o offers.Offer) string {
	switch {
	case p.InCords():
		return p.say("%s a cord, stacked", p.moneyRange(o.Per(measure.Cord)))
	case p.InMetres():
		return p.say("%s a cubic metre, stacked", p.moneyRange(o.Per(measure.CubicMetre)))
	}
	return p.say("%s a cubic foot, stacked", p.moneyRange(o.Per(measure.CubicFoot)))
}

// OfferHeat says what the heat of an offer costs, empty where its wood isn't known.
func (p *Printer) OfferHeat(o offers.Offer) string {
	unit, key := wood.MillionBtu, "%s a million Btu"
	if p.metric() {
		unit, key = 1000*wood.KilowattHour, "%s a megawatt-hour"
	}
	low, high, known := o.PerHeat(unit)
	if !known {
		return ""
	}
	return p.say(key, p.moneyRange(low, high))
}

// OfferWood says how much an offer is, once stacked.
func (p *Printer) OfferWood(o offers.Offer) string {
	much := p.Quantity(measure.Quantity{Volume: o.Ranked.High, Basis: measure.Ranked})
	if o.Ranked.Low != o.Ranked.High {
		much = p.say("%s to %s", p.Quantity(measure.Quantity{Volume: o.Ranked.Low, Basis: measure.Ranked}), much)
	}
	if o.Species == "" {
		return p.say("%s for %s", much, o.Price)
	}
	return p.say("%s of %s for %s", much, o.Species, o.Price)
}

// OfferLead says which offer costs least, or why that can't be told.
func (p *Printer) OfferLead(list []offers.Offer) string {
	compared := 0
	for _, o := range list {
		if o.Fault == nil {
			compared++
		}
	}
	switch best := offers.Cheapest(list); {
	case compared < 2:
		return p.say("Nothing to compare it with yet")
	case best >= 0:
		return p.say("Offer %d costs least for the wood in it", best+1)
	}
	return p.say("Can’t tell yet which costs least")
}

func (p *Printer) moneyRange(low, high money.Money) string {
	if low == high {
		return p.say("%s", low)
	}
	return p.say("%s to %s", low, high)
}
