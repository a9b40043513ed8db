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

// Tax says what a tax is on and at what rate: "Sales tax, 5.5 % of $280.00", or why
// nothing is charged: "Sales tax, exempt: heating a home".
func (p *Printer) Tax(t orders.Tax) string { return p.say("%s, %s", t.Name, p.TaxOn(t)) }

// TaxOn is the same without the tax's name.
func (p *Printer) TaxOn(t orders.Tax) string {
	if t.Exempt != "" {
		return p.say("exempt: %s", t.Exempt)
	}
	return p.say("%s of %s", t.Rate.String(), t.Taxable)
}
