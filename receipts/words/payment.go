//go:build !wasm

package words

import (
	"wellstowed/orders"
	"wellstowed/orders/money"
)

// Balance says in a few words where the money of an order stands, empty while
// nothing is asked for or paid.
func (p *Printer) Balance(b orders.Balance) string {
	switch {
	case b.Due.Minor > 0:
		return p.say("owes %s", b.Due)
	case b.Back.Minor > 0:
		return p.say("you owe %s back", b.Back)
	case b.Ahead.Minor > 0:
		return p.say("%s prepaid", b.Ahead)
	case b.Asked.Minor > 0:
		return p.say("paid")
	}
	return ""
}

// PaymentMethod names a way of paying.
func (p *Printer) PaymentMethod(m orders.PaymentMethod) string { return p.say(string(m)) }

// PaidBy says how a payment came or went: "cheque 1042", "voucher HA-77".
func (p *Printer) PaidBy(m orders.Payment) string {
	if m.Reference == "" {
		return p.PaymentMethod(m.Method)
	}
	return p.say("%s %s", p.PaymentMethod(m.Method), m.Reference)
}

// Payment says what kind of entry a payment is, empty for money that simply came.
func (p *Printer) Payment(m orders.Payment, all []orders.Payment) string {
	switch {
	case m.Reverses != "":
		return p.say("counter-entry: %s", m.Reason)
	case m.Reversed(all):
		return p.say("taken back")
	case m.Amount.Minor < 0:
		return p.say("given back to the customer")
	case m.CopyDue():
		return p.say("signed copy due")
	case !m.CopyOn.IsZero():
		return p.say("signed copy received on %s", m.CopyOn)
	}
	return ""
}

// PaymentLine is a payment on a statement: its day, how it was paid, and what kind of
// entry it is where money did not simply come.
func (p *Printer) PaymentLine(m orders.Payment, all []orders.Payment) string {
	if kind := p.Payment(m, all); kind != "" {
		return p.say("%s, %s: %s", m.On, p.PaidBy(m), kind)
	}
	return p.say("%s, %s", m.On, p.PaidBy(m))
}

// BalanceOf names where the money of an order stands, for both sides to read, with
// the sum.
func (p *Printer) BalanceOf(b orders.Balance) (string, money.Money) {
	switch {
	case b.Back.Minor > 0:
		return p.say("Due back to the customer"), b.Back
	case b.Ahead.Minor > 0:
		return p.say("Prepaid, for wood still to come"), b.Ahead
	case b.Due.Minor == 0:
		return p.say("Nothing is due"), b.Due
	}
	return p.say("Due from the customer"), b.Due
}
