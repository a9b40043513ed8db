//go:build !wasm

package words

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/prices"
)

// Offered names what a line of a price list is about: "oak, 16 in, seasoned".
func (p *Printer) Offered(l prices.Line) string {
	switch l.Kind {
	case prices.Delivery:
		return l.Place
	case prices.Stacking:
		return p.say("Stacking")
	case prices.Least:
		return p.say("Least order")
	}
	parts := []string{l.Species}
	if l.Species == "" {
		parts[0] = p.say("any wood")
	}
	if l.PieceLength > 0 {
		parts = append(parts, p.Length(l.PieceLength))
	}
	if l.Seasoning != "" {
		parts = append(parts, p.Seasoning(l.Seasoning))
	}
	return strings.Join(parts, ", ")
}

// OfferedFirst is what Offered gives, at the beginning of a line.
func (p *Printer) OfferedFirst(l prices.Line) string { return upper(p.Offered(l)) }

// Asked is the price of a line with what it is for: "$300.00 per cord".
func (p *Printer) Asked(l prices.Line) string {
	switch {
	case l.Ended:
		return p.say("not offered")
	case l.Kind == prices.Least:
		return p.perhapsRanked(l.Per)
	case l.Kind == prices.Delivery && l.Price.Minor == 0:
		return p.say("free")
	case l.Kind == prices.Delivery:
		return p.Money(l.Price)
	case l.Per.Basis != measure.Ranked || l.Per.Volume != p.unit.Volume():
		return p.say("%s for %s", l.Price, p.perhapsRanked(l.Per))
	case p.unit == rules.CubicFoot:
		return p.say("%s per cubic foot", l.Price)
	case p.unit == rules.CubicMetre:
		return p.say("%s per cubic metre", l.Price)
	}
	return p.say("%s per cord", l.Price)
}

// perhapsRanked is a quantity in its main unit alone where that is enough: "1/2 cord".
func (p *Printer) perhapsRanked(q measure.Quantity) string {
	if q.Basis == measure.Ranked && p.InCords() {
		return p.due(q.Volume)
	}
	return p.Quantity(q)
}

// PriceKind is what a part of a price list is headed with.
func (p *Printer) PriceKind(kind prices.Kind) string {
	switch kind {
	case prices.Delivery:
		return p.say("Delivery")
	case prices.Stacking:
		return p.say("Stacking")
	case prices.Least:
		return p.say("Least order")
	}
	return p.say("Wood")
}

// ChargesBeside says what the shop charges by distance, for less than a full load, and
// what tax comes on top, a line each.
func (p *Printer) ChargesBeside(c orders.Charges) (lines []string) {
	if c.Distance.Minor > 0 {
		lines = append(lines, p.say("Distance: %s", p.DistanceRate(c)))
	}
	if c.HalfLoad.Minor > 0 {
		lines = append(lines, p.say("Less than a full load of %s: %s", p.perhapsRanked(c.FullLoad), c.HalfLoad))
	}
	if c.Tax.Name != "" {
		lines = append(lines, p.say("%s of %s is added where it is due", c.Tax.Name, c.Tax.Rate.String()))
	}
	return lines
}

// DistanceRate says what each mile or kilometre costs, and what is driven for nothing.
func (p *Printer) DistanceRate(c orders.Charges) string {
	rate := p.say("%s a mile", c.Distance)
	if c.Per == orders.Kilometre {
		rate = p.say("%s a kilometre", c.Distance)
	}
	if c.Free > 0 {
		return p.say("%s beyond the first %s", rate, p.Distance(c.Free))
	}
	return rate
}
