//go:build !wasm

package words

import (
	"slices"
	"strings"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/spoken"
)

// ReadBack says an order to its customer before it is taken: a few sentences, and what
// it costs in all, empty where it has no price yet.
func (p *Printer) ReadBack(b orders.ReadBack) (lines []string, total string) {
	o := b.Order
	lines = append(lines, p.say("That’s %s, for %s.", p.woodToSay(o), p.buyerToSay(o.Customer)))
	if b.Why.Key != "" {
		lines = append(lines, upper(p.Say(b.Why))+".")
	}
	if o.Price.Wood.Currency != "" {
		lines = append(lines, p.priceToSay(o.Price)...)
		total = p.totalToSay(o)
	}
	if how := p.stackingToSay(o); how != "" {
		lines = append(lines, how)
	}
	if when := p.Promised(o.Day, act.Date{}); when != "" {
		lines = append(lines, p.say("To be delivered: %s.", when))
	}
	if o.Notes != "" {
		lines = append(lines, p.say("For the driver: %s.", strings.Join(strings.Split(o.Notes, "\n"), "; ")))
	}
	return lines, total
}

// woodToSay says how much of what wood: "2 cords (256 ft³) of red oak, in pieces 16 in
// long, seasoned".
func (p *Printer) woodToSay(o orders.Order) string {
	wood := unbroken(p.Quantity(o.Quantity))
	if o.Species != "" {
		wood = p.say("%s of %s", wood, o.Species)
	}
	if o.PieceLength != 0 {
		wood = p.say("%s, in pieces %s long", wood, unbroken(p.Length(o.PieceLength)))
	}
	if o.Seasoning != "" {
		wood = p.say("%s, %s", wood, p.Seasoning(o.Seasoning))
	}
	if how := p.Splitting(o.Split); how != "" {
		wood = p.say("%s, %s", wood, how)
	}
	return wood
}

// Splitting is how wood is to be split, empty where that is not said.
func (p *Printer) Splitting(s spoken.SplitSize) string {
	switch s {
	case spoken.AnySplit:
		return p.say("split")
	case spoken.SmallSplit:
		return p.say("split small")
	case spoken.MediumSplit:
		return p.say("split medium")
	case spoken.LargeSplit:
		return p.say("split large")
	case spoken.Unsplit:
		return p.say("not split")
	}
	return ""
}

// Stacking is whether wood is to be stacked where it goes, empty where that is not said.
func (p *Printer) Stacking(s spoken.Stack) string {
	switch s {
	case spoken.Stacked:
		return p.say("to be stacked")
	case spoken.Unstacked:
		return p.say("not to be stacked")
	}
	return ""
}

// stackingToSay says whether the wood is stacked where it goes; what that costs is among the
// charges, and where it costs nothing that is said.
func (p *Printer) stackingToSay(o orders.Order) string {
	charged := slices.ContainsFunc(o.Price.Fees, func(f orders.PriceLine) bool { return f.Kind == orders.StackingLine })
	switch {
	case o.Stacking == spoken.Stacked && !charged:
		return p.say("We stack it for you, at no charge.")
	case o.Stacking == spoken.Stacked:
		return p.say("We stack it for you.")
	case o.Stacking == spoken.Unstacked:
		return p.say("It’s left unstacked.")
	}
	return ""
}

func (p *Printer) buyerToSay(c orders.Customer) string {
	if c.Address == "" {
		return c.Name
	}
	return p.say("%s, %s", c.Name, strings.Join(strings.Split(c.Address, "\n"), ", "))
}

// unbroken is a figure with its unit, which never breaks inside.
func unbroken(figure string) string { return strings.ReplaceAll(figure, " ", "\u00a0") }

// priceToSay says the parts of a price.
func (p *Printer) priceToSay(price orders.Price) []string {
	wood := p.say("The wood is %s for the whole.", price.Wood)
	if by := p.PricePer(price); by != "" {
		wood = p.say("At %s the wood is %s.", by, price.Wood)
	}
	lines := []string{wood}
	for _, fee := range price.Fees {
		lines = append(lines, p.say("%s: %s.", p.Fee(fee), fee.Amount))
	}
	switch tax := price.Tax; {
	case tax == nil:
	case tax.Exempt != "":
		lines = append(lines, p.say("%s.", p.Tax(*tax, price)))
	default:
		lines = append(lines, p.say("%s: %s.", p.Tax(*tax, price), tax.Amount))
	}
	return lines
}

// totalToSay says what an order costs in all, and what is left of it to pay.
func (p *Printer) totalToSay(o orders.Order) string {
	total := o.Price.Total()
	if o.Deposit.Minor == 0 {
		return p.say("%s in all.", total)
	}
	left := total
	left.Minor -= o.Deposit.Minor
	return p.say("%s in all: %s is paid, and %s is left to pay.", total, o.Deposit, left)
}
