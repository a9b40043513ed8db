package receipts

import (
	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/prices"
)

// PriceList paints what is on offer on a day, to be handed out or pinned up. The same
// bytes each time from the same data. It returns an *act.Error of Kind Invalid that names
// the text that can't be printed, or may not be under the shop's rules.
func (p *Painter) PriceList(list prices.List, shop orders.Shop) ([]byte, error) {
	texts := []named{{"vendor.name", shop.Name}, {"vendor.address", shop.Address}, {"vendor.phone", shop.Phone}}
	var sold []named
	for _, l := range list.Lines {
		sold = append(sold, named{"species", l.Species}, named{"place", l.Place})
	}
	sold = append(sold, named{"tax_name", shop.Charges.Tax.Name})
	if err := p.letters.printable(append(texts, sold...)); err != nil {
		return nil, err
	}
	if err := p.lawful(orders.RuleSet{Code: shop.RuleSet}, sold...); err != nil {
		return nil, err
	}
	set, err := p.rules.Get(shop.RuleSet)
	if err != nil {
		return nil, err
	}
	w := p.paper(setup{title: measure.Say("Price list"), paper: shop.Paper, units: shop.Units, unit: set.SoldIn(shop.Units == act.Metric), language: shop.Language, whose: shop.Name})
	w.letterhead(head{
		from: &side{"Seller", orders.Party{Name: shop.Name, Address: shop.Address, Phone: shop.Phone}}, kind: w.print.Heading("Price list"),
		facts: []string{w.print.Field("As of", w.print.Date(list.On))},
	})
	for _, kind := range prices.Kinds() {
		w.offered(list.Of(kind))
	}
	w.chargedBesides(shop.Charges)
	w.gap(3)
	w.paragraph(noteFace(), w.print.Heading("A price list, not a delivery ticket: that comes with the wood. An order keeps the price it was taken at."))
	return w.bytes()
}

// offered are the lines of one kind.
func (w *paper) offered(lines []prices.Line) {
	if len(lines) == 0 {
		return
	}
	kind := lines[0].Kind
	w.heading(w.print.PriceKind(kind), 2*strongFace().lead())
	for _, l := range lines {
		w.amount(w.print.OfferedFirst(l), w.print.Asked(l), kind == prices.Wood)
	}
}

func (w *paper) chargedBesides(c orders.Charges) {
	lines := w.print.ChargesBeside(c)
	if len(lines) == 0 {
		return
	}
	w.heading(w.print.Heading("Charged besides"), 2*mainFace().lead())
	for _, line := range lines {
		w.item(mainFace(), line)
	}
}
