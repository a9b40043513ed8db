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
// nothing is charged: "Sales tax: exempt, heating a home".
func (p *Printer) Tax(t orders.Tax) string {
	if t.Exempt != "" {
		return p.say("%s: exempt, %s", t.Name, t.Exempt)
	}
	return p.say("%s, %s of %s", t.Name, t.Rate.String(), t.Taxable)
}
