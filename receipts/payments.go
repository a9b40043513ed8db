package receipts

import (
	"cmp"
	"strconv"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Payments paints what the receipts of an order ask for, what was paid of it when and
// how, and the balance as of a day. It is no delivery ticket. The same bytes each time
// from the same data. It returns an *act.Error of Kind Invalid that names the text
// that can't be printed.
func (p *Painter) Payments(h orders.History, shop orders.Shop, asOf act.Date) ([]byte, error) {
	c := h.Order.Customer
	c.Name, c.Address = cmp.Or(c.PrintName, c.Name), cmp.Or(c.PrintAddress, c.Address)
	texts := []named{{"vendor.name", shop.Name}, {"vendor.address", shop.Address}, {"vendor.phone", shop.Phone},
		{"customer.name", c.Name}, {"customer.address", c.Address}, {"customer.phone", c.Phone}}
	var noted []named
	for _, m := range h.Payments {
		noted = append(noted, named{"reference", m.Reference}, named{"reason", m.Reason})
	}
	if err := p.letters.printable(append(texts, noted...)); err != nil {
		return nil, err
	}
	if err := p.lawful(orders.RuleSet{Code: shop.RuleSet}, noted...); err != nil {
		return nil, err
	}
	number := strconv.FormatInt(h.Order.Number, 10)
	w := p.paper(setup{title: measure.Say("Payments on order %s", number), paper: shop.Paper, units: shop.Units, language: shop.Language, whose: shop.Name})
	w.letterhead(head{
		from: &side{"Seller", orders.Party{Name: shop.Name, Address: shop.Address, Phone: shop.Phone}}, kind: w.print.Heading("Payments"),
		facts: []string{w.print.Field("Order", number), w.print.Field("As of", w.print.Date(asOf))},
		sides: []side{{"Customer", orders.Party{Name: c.Name, Address: c.Address, Phone: c.Phone}}},
	})
	w.first(h.Balance)
	w.asked(h.Balance)
	w.payments(h)
	w.balance(h.Balance)
	w.gap(3)
	w.paragraph(noteFace(), w.print.Heading("A statement of money. It is not a delivery ticket, and doesn’t replace one."))
	return w.bytes()
}

// first is the balance, the largest on the paper.
func (w *paper) first(b orders.Balance) {
	name, sum := w.print.BalanceOf(b)
	w.gap(1)
	w.paragraph(verdictFace(), w.print.Money(sum))
	w.paragraph(leadFace(), name)
}

// asked is what receipts ask for and give, and what came with the order.
func (w *paper) asked(b orders.Balance) {
	w.heading(w.print.Heading("Due"), 3*mainFace().lead())
	w.amount(w.print.Heading("By the receipts that hold"), w.print.Money(b.Asked), false)
	if b.Settled.Minor != 0 {
		w.amount(w.print.Heading("Given for wood that was missing"), w.print.Money(b.Settled), false)
	}
}

// payments are the deposit and the payments since, oldest first.
func (w *paper) payments(h orders.History) {
	w.heading(w.print.Heading("Paid"), 3*mainFace().lead())
	if h.Balance.Deposit.Minor != 0 {
		w.amount(w.print.Heading("Prepaid"), w.print.Money(h.Balance.Deposit), false)
	}
	for _, m := range h.Payments {
		w.amount(w.print.PaymentLine(m, h.Payments), w.print.Money(m.Amount), false)
	}
	w.amount(w.print.Heading("Paid in all"), w.print.Money(h.Balance.Deposit.Add(h.Balance.Paid)), true)
}

func (w *paper) balance(b orders.Balance) {
	w.heading(w.print.Heading("Balance"), 3*strongFace().lead())
	name, sum := w.print.BalanceOf(b)
	w.amount(name, w.print.Money(sum), true)
}
