//go:build !wasm

package words

import (
	"strings"

	"wellstowed/orders"
	"wellstowed/orders/yard"
)

// Ends says of a correction or a void which receipt it ends; empty for others.
func (p *Printer) Ends(f orders.Facts) string {
	if f.Former == nil {
		return ""
	}
	on := p.Day(f.Former.Issued, f.Zone)
	if f.Kind == orders.VoidReceipt {
		return p.say("Makes receipt %d of %s void.", int(f.Of), on)
	}
	return p.say("Corrects receipt %d of %s.", int(f.Of), on)
}

// EndedHero says of a correction or a void in a few words what it does: "Receipt 5 is
// void", "In place of receipt 5".
func (p *Printer) EndedHero(f orders.Facts) string {
	if f.Kind == orders.VoidReceipt {
		return p.say("Receipt %d is void", int(f.Of))
	}
	return p.say("In place of receipt %d", int(f.Of))
}

// EndedBy says of a receipt that no longer counts which one ended it.
func (p *Printer) EndedBy(e orders.Ending) string {
	if e.Kind == orders.VoidReceipt {
		return p.say("Void: receipt %d says why.", int(e.Number))
	}
	return p.say("Corrected by receipt %d.", int(e.Number))
}

// A Change is one thing that a correction says otherwise than its former receipt.
type Change struct{ What, Was, Is string }

// Changes are what a correction says otherwise, in the order of the paper. Who
// bought is first; what was not said is a dash.
func (p *Printer) Changes(r orders.Receipt) []Change {
	var changes []Change
	add := func(what, was, is string) {
		if was != is {
			changes = append(changes, Change{p.say(what), dash(was), dash(is)})
		}
	}
	if was := r.WasPurchaser; was != nil {
		add("Purchaser", was.Name, r.Purchaser.Name)
		add("Address", oneLine(was.Address), oneLine(r.Purchaser.Address))
	}
	f, was := r.Facts, r.Facts.Former
	add("Delivered", p.Quantity(was.Delivered), p.Quantity(f.Delivered))
	add("Day", p.Date(was.DeliveredOn), p.Date(f.DeliveredOn))
	add("Wood", was.Species, f.Species)
	add("Cut in", was.Origin, f.Origin)
	add("Heat-treatment certificate", was.Certificate, f.Certificate)
	add("Piece length", p.Length(was.PieceLength), p.Length(f.PieceLength))
	add("Seasoning", p.stated(was.Seasoning), p.stated(f.Seasoning))
	add("Price is for", p.Quantity(was.Priced), p.Quantity(f.Priced))
	add("Total", p.Money(was.Total), p.Money(f.Price.Total()))
	add("Prepaid", p.Money(was.Deposit), p.Money(f.Deposit))
	before := r
	before.Facts.Ticket = was.Ticket
	if r.WasMeasurer != nil {
		before.Measurer = *r.WasMeasurer
	}
	for i, line := range p.everyTicketLine(r) {
		add(line.Label, p.everyTicketLine(before)[i].Text, line.Text)
	}
	return changes
}

func (p *Printer) stated(s yard.Seasoning) string {
	if s == "" {
		return ""
	}
	return p.Seasoning(s)
}

// Changed says one change in a line: "Delivered: was 1 cord, is 3/4 cord".
func (p *Printer) Changed(c Change) string { return p.say("%s: was %s, is %s", c.What, c.Was, c.Is) }

func oneLine(text string) string { return strings.ReplaceAll(text, "\n", ", ") }

func dash(text string) string {
	if text == "" {
		return "–"
	}
	return text
}

// Former is what a receipt that was made void had said.
func (p *Printer) Former(f orders.Facts) []string {
	was := f.Former
	said := []string{p.say("%s delivered on %s", p.Quantity(was.Delivered), p.Date(was.DeliveredOn))}
	if was.Species != "" {
		said = append(said, p.Field("Wood", was.Species))
	}
	said = append(said, p.Field("Total", p.Money(was.Total)))
	if was.Deposit.Minor != 0 {
		said = append(said, p.Field("Prepaid", p.Money(was.Deposit)))
	}
	return said
}

// ReceiptLine says in a few words what a receipt is, in the history of its order.
func (p *Printer) ReceiptLine(r orders.ReceiptLine) string {
	switch r.Kind {
	case orders.CorrectionReceipt:
		return p.say("%s, in place of receipt %d", r.Delivered, int(r.Of))
	case orders.VoidReceipt:
		return p.say("Receipt %d made void: %s", int(r.Of), r.Reason)
	case orders.SettlementReceipt:
		if r.InPart {
			return p.say("Receipt %d settled in part", int(r.Of))
		}
		return p.say("Receipt %d settled", int(r.Of))
	}
	return p.Quantity(r.Delivered)
}
