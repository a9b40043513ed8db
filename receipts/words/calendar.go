//go:build !wasm

package words

import "wellstowed/orders"

// CalendarName is what a calendar of deliveries is called.
func (p *Printer) CalendarName(shop orders.Shop) string {
	if shop.Name == "" {
		return p.say("Deliveries")
	}
	return p.say("Deliveries, %s", shop.Name)
}

// CalendarLine is a delivery in a calendar: how much of which wood, the hours and its order's
// number.
func (p *Printer) CalendarLine(s orders.Stop) string {
	said := p.Quantity(s.Due)
	if s.Order.Species != "" {
		said = p.say("%s %s", said, s.Order.Species)
	}
	if hours := p.hours(s.Order.Day.Hours); hours != "" {
		said = p.say("%s, %s", said, hours)
	}
	return p.say("%s, order %d", said, int(s.Order.Number))
}
