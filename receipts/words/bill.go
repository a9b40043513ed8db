//go:build !wasm

package words

import (
	"strings"

	"wellstowed/orders"
	"wellstowed/orders/money"
	"wellstowed/orders/signed"
)

// A BillLine is one line of what is to pay: what it is for and the sum.
type BillLine struct {
	What   string
	Amount money.Money
	Sum    bool // it sums the lines above it
}

// Bill is what a receipt asks for, a line for each thing there is: the wood, each fee, the
// tax, what was prepaid, and what is to pay.
func (p *Printer) Bill(f orders.Facts) []BillLine {
	lines := p.Charged(f.Price, p.WoodPrice(f.Price, f.Priced))
	if f.Deposit.Minor != 0 || f.Paid.Minor != 0 {
		lines = append(lines, BillLine{p.say("Total"), f.Price.Total(), true})
	}
	since, handed := f.Paid, BillLine{}
	if h := f.Handed; h != nil {
		since.Minor -= h.Amount.Minor
		handed = BillLine{p.say("Paid on delivery, %s", p.PaymentMethod(h.Method)), h.Amount, false}
	}
	for _, paid := range []BillLine{{p.say("Prepaid"), f.Deposit, false}, {p.say("Paid since"), since, false}, handed} {
		if paid.Amount.Minor != 0 {
			paid.Amount.Minor = -paid.Amount.Minor
			lines = append(lines, paid)
		}
	}
	lines = append(lines, BillLine{p.say("To pay"), f.Balance(), true})
	if f.Owed.Minor != 0 {
		lines = append(lines, BillLine{p.say("To pay on the whole order, with earlier receipts"), f.Owed, false})
	}
	return lines
}

// SignedFor says in a line what a receipt is signed for: "Receipt 12: 1 cord (128 ft³)
// delivered on 9 March 2026, to pay $425.00".
func (p *Printer) SignedFor(f orders.Facts) string {
	return p.say("Receipt %d: %s", int(f.Number), p.signedFor(f))
}

func (p *Printer) signedFor(f orders.Facts) string {
	if f.Handed != nil && f.Balance().Minor == 0 {
		return p.say("%s delivered on %s, all paid", f.Delivered, p.Date(f.DeliveredOn))
	}
	return p.say("%s delivered on %s, to pay %s", f.Delivered, p.Date(f.DeliveredOn), f.Balance())
}

// Signed says when the wood was signed for on a screen, and for what; the name stands
// beside it.
func (p *Printer) Signed(s signed.Signature, f orders.Facts) string {
	if s.Strokes == "" {
		return p.say("Name given on the screen %s, for: %s.", p.Time(s.At, f.Zone), p.signedFor(f))
	}
	return p.say("Signed on the screen %s, for: %s.", p.Time(s.At, f.Zone), p.signedFor(f))
}

// Charged are the wood, each fee and the tax of a price; the wood is said as given.
func (p *Printer) Charged(price orders.Price, wood string) []BillLine {
	lines := []BillLine{{What: wood, Amount: price.Wood}}
	for _, fee := range price.Fees {
		lines = append(lines, BillLine{What: p.Fee(fee), Amount: fee.Amount})
	}
	if t := price.Tax; t != nil {
		lines = append(lines, BillLine{What: p.Tax(*t, price), Amount: t.Amount})
	}
	return lines
}

// Tax says at what rate a tax is on which lines of a price: "Sales tax, 5.5 % of $305.00
// (wood, delivery)"; or why nothing is charged: "Sales tax, exempt: heating a home".
func (p *Printer) Tax(t orders.Tax, price orders.Price) string {
	return p.say("%s, %s", t.Name, p.TaxOn(t, price))
}

// TaxOn is the same without the tax's name.
func (p *Printer) TaxOn(t orders.Tax, price orders.Price) string {
	if t.Exempt != "" {
		return p.say("exempt: %s", t.Exempt)
	}
	return p.say("%s of %s (%s)", t.Rate.String(), t.Taxable, p.taxed(t, price))
}

// taxed names the lines of a price that a tax is on; "nothing on this receipt" where none
// is.
func (p *Printer) taxed(t orders.Tax, price orders.Price) string {
	var names []string
	if t.On.Wood && price.Wood.Minor != 0 {
		names = append(names, p.say("wood"))
	}
	for _, fee := range price.Fees {
		if t.On.Taxes(fee.Kind) {
			names = append(names, p.feeName(fee))
		}
	}
	if len(names) == 0 {
		return p.say("nothing on this receipt")
	}
	return strings.Join(names, ", ")
}

// feeName names a fee within a sentence.
func (p *Printer) feeName(fee orders.PriceLine) string {
	if fee.Kind == orders.OtherLine {
		return p.Fee(fee)
	}
	fee.Basis = nil
	return strings.ToLower(p.Fee(fee))
}
