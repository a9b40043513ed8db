//go:build !wasm

package words

import (
	"wellstowed/orders"
	"wellstowed/orders/audits"
	"wellstowed/orders/yard"
)

// Saved names what an act saved and says it in a few words, so that somebody knows it
// again; said is empty where the name says all.
func (p *Printer) Saved(thing any) (name, said string) {
	switch t := thing.(type) {
	case orders.Order:
		said = p.say("%s for %s", p.Quantity(t.Quantity), t.Customer.Name)
		if t.Price.Wood.Currency != "" {
			said = p.say("%s, %s", said, p.Money(t.Price.Total()))
		}
		return p.say("order %d", int(t.Number)), said
	case orders.Issued:
		f := t.Receipt.Facts
		return p.say("receipt %d", int(f.Number)), p.say("%s delivered on %s", p.Quantity(f.Delivered), p.Date(f.DeliveredOn))
	case orders.IssuedSheet:
		return p.say("measurement sheet %d", int(t.Sheet.Number)), p.Finding(t.Sheet.Result)
	case orders.Payment:
		return p.say("a payment"), p.say("%s %s, %s", p.Money(t.Amount), p.PaidBy(t), p.Date(t.On))
	case orders.Settlement:
		return p.say("a settlement"), p.Settlement(t)
	case orders.Wish:
		return p.say("a place on the waiting list"), p.say("%s for %s", p.Quantity(t.Quantity), t.Customer)
	case yard.Batch:
		return p.say("batch %s", t.Name), p.Quantity(t.PutUp)
	case yard.Body:
		return t.Name, p.say("%s up to %s", p.Quantity(t.Quantity), t.Line)
	case yard.Moisture:
		return p.say("a set of moisture readings"), p.Season(t.Season)
	case audits.Audit:
		return p.say("audit %d", int(t.Number)), ""
	case audits.Issued:
		return p.say("the report of audit %d", int(t.Report.Number)), ""
	}
	return p.say("what you sent first"), ""
}
