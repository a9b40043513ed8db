//go:build !wasm

package words

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Missing says how much wood that is, in a unit of sale, in volume and in pieces:
// "0.08 cord (10.2 ft³), about 63 to 97 pieces".
func (p *Printer) Missing(q measure.Quantity, count stack.PieceCount) string {
	low, high := count.Of(q.Volume)
	if high == 0 || q.Basis != measure.Ranked {
		return p.Quantity(q)
	}
	return p.say("%s, about %d to %d pieces", p.Quantity(q), low, high)
}

// Agreed says how the buyer agreed: "agreed with the buyer on 12 March 2026, by word".
func (p *Printer) Agreed(on act.Date, how orders.AgreedHow) string {
	if how == orders.InWriting {
		return p.say("agreed with the buyer on %s, in writing", on)
	}
	return p.say("agreed with the buyer on %s, spoken", on)
}

// Settles says what a receipt that settles another settles, and whether anything is
// still owed: "Settles receipt 3: owed 0.08 cord (10.2 ft³), brought 0.1 cord
// (12.8 ft³), nothing more owed."
func (p *Printer) Settles(f orders.Facts) string {
	s := f.Settles
	owed := p.Quantity(s.Owed)
	if s.Choice == orders.SettleMoney {
		return p.say("Settles receipt %d: owed %s, %s given for it, nothing more owed.", int(f.Of), owed, s.Given)
	}
	brought := p.Quantity(measure.Quantity{Volume: s.Before + s.Brought, Basis: s.Owed.Basis})
	left := p.Quantity(measure.Quantity{Volume: s.Left, Basis: s.Owed.Basis})
	switch {
	case s.Closes && s.Left == 0:
		return p.say("Settles receipt %d: owed %s, brought %s, nothing more owed.", int(f.Of), owed, brought)
	case s.Closes:
		return p.say("Settles receipt %d: owed %s, brought %s; the buyer takes this as enough.", int(f.Of), owed, brought)
	}
	return p.say("Towards receipt %d: owed %s, brought %s; %s still owed.", int(f.Of), owed, brought, left)
}

// SettledBy says how the wood came or the money went.
func (p *Printer) SettledBy(s orders.SettlesFact) string {
	switch {
	case s.Method == orders.OffBalance:
		return p.say("taken off what is owed for the order")
	case s.Method != "":
		return p.say("given back: %s", p.PaymentMethod(orders.PaymentMethod(s.Method)))
	case s.Tally != nil:
		return p.say("measured: %s by a tally of the load", p.Quantity(s.Tally.Result.Quantity))
	case s.Tallied:
		return p.say("measured by a tally of the load")
	case s.Body != nil:
		return p.Filled(s.Body)
	}
	return p.say("as stated by the seller")
}

// WouldSettle says what a load that was measured does to what is owed, before it is
// saved.
func (p *Printer) WouldSettle(o orders.Outcome) string {
	switch {
	case o.OtherBasis:
		return p.say("This is %s wood, and %s wood is owed. It settles nothing until it is measured as such.", measure.Say(string(o.Brought.Basis)), measure.Say(string(o.Left.Basis)))
	case o.Left.Volume == 0:
		return p.say("Saving this closes it: nothing more is owed.")
	}
	return p.say("%s is still owed after this load, by the readings.", p.Quantity(o.Left))
}

// Settlement says in a line what was owed and where it stands.
func (p *Printer) Settlement(s orders.Settlement) string {
	if s.Closed() {
		return p.say("%s was owed: %s", p.Missing(s.Owed, s.Pieces), p.SettlementState(s))
	}
	return p.say("%s owed: %s", p.Missing(s.Owed, s.Pieces), p.SettlementState(s))
}

// SettlementState says where a settlement stands.
func (p *Printer) SettlementState(s orders.Settlement) string {
	switch {
	case s.Closed() && s.Choice == orders.SettleMoney:
		return p.say("settled with %s", s.Steps[len(s.Steps)-1].Given)
	case s.Closed():
		return p.say("settled with wood")
	case s.Replaced:
		return p.say("another settlement replaces it")
	case s.Choice == orders.SettleMoney:
		return p.say("%s to be given for it", s.Worth)
	case len(s.Steps) > 0:
		return p.say("%s still to be brought", p.Quantity(s.Left()))
	}
	return p.say("to be brought")
}

// StillOwed says in a few words what is owed after a receipt that settles another: "14.06
// cords still owed", "Nothing more owed".
func (p *Printer) StillOwed(f orders.Facts) string {
	s := f.Settles
	if s.Choice == orders.SettleMoney || s.Closes || s.Left == 0 {
		return p.say("Nothing more owed")
	}
	much, _ := p.QuantityParts(measure.Quantity{Volume: s.Left, Basis: s.Owed.Basis})
	return p.say("%s still owed", much)
}
