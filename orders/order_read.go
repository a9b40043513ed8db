package orders

import (
	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
)

// An orderReader turns what was typed into an order and gathers the faults.
type orderReader struct {
	fields
	service  *Service
	typed    OrderRequest
	shop     Shop
	set      rules.Set
	currency string
}

// readOrder puts what was typed into o, which holds what the order was before and
// is new when its words are empty. It is Invalid with all faults.
func (s *Service) readOrder(o *Order, shop Shop, r OrderRequest) error {
	set, err := s.setOf(shop)
	if err != nil {
		return err
	}
	in := orderReader{service: s, typed: r, shop: shop, set: set, currency: shop.Currency}
	before := *o
	in.customer(&o.Customer)
	var piece fields
	o.PieceLength = piece.pieceLength(r.PieceLength, shop.Units)
	said := in.quantity(o.PieceLength)
	o.Words, o.Quantity = said.Words, said.Quantity
	o.Species = in.printedLine("species", r.Species)
	if wood.StatesShares(o.Species) {
		_, err := wood.ParseStated(o.Species)
		in.parsed("species", err)
	}
	o.Origin = in.printedLine("origin", r.Origin)
	o.Certificate = in.printedLine("certificate", r.Certificate)
	in.Faults = append(in.Faults, piece.Faults...)
	in.refused("piece_length", r.PieceLength, set.RefusePieces(o.PieceLength))
	o.Seasoning = in.seasoning()
	o.Price = in.price(o.Quantity.Volume)
	in.addCharges(o)
	in.boundPrice(o.Price)
	o.Deposit = in.deposit(o.Price)
	o.Notes = in.lines("notes", r.Notes)
	in.barredInName(set, "notes", o.Notes)
	if before.Words != o.Words || before.Quantity != o.Quantity {
		in.agreed(said, o.PieceLength, o.Price.Wood)
	}
	in.hush(set)
	return in.err()
}

// customer leaves a spelling for print only beside the text it stands in for.
func (in *orderReader) customer(c *Customer) {
	name := in.line("customer_name", in.typed.CustomerName)
	if name == "" && len(in.Faults) == 0 {
		in.missing("customer_name", measure.Say("the customer's name"))
	}
	address := in.lines("customer_address", in.typed.CustomerAddress)
	in.barredInName(in.set, "customer_name", name)
	in.barredInName(in.set, "customer_address", address)
	if name != c.Name {
		c.PrintName = ""
	}
	if address != c.Address {
		c.PrintAddress = ""
	}
	c.Name, c.Address, c.Phone = name, address, in.line("customer_phone", in.typed.CustomerPhone)
}

// quantity reads the words; the barred terms stay in them, inside.
func (in *orderReader) quantity(piece measure.Length) measure.Said {
	if in.typed.Quantity == "" {
		in.missing("quantity", acceptedQuantities())
		return measure.Said{}
	}
	said := in.saidUnder(in.set, in.shop.Units, "quantity", in.typed.Quantity, piece)
	in.refused("quantity", in.typed.Quantity, in.set.Refuse(said.Quantity, piece))
	return said
}

// refused notes a fault of a rule set, if there is one, at a field and what was typed.
func (f *fields) refused(field, text string, fault *measure.InputError) {
	if fault != nil {
		f.add(field, fault.Code, text, fault.Reason, fault.Accepts)
	}
}

func acceptedQuantities() measure.Text {
	return measure.Say("how much wood, such as 64 cu ft or 3.6 m³ stacked")
}

func (f *fields) pieceLength(text string, units Units) measure.Length {
	unit := measure.Inch
	if units == Metric {
		unit = measure.Centimetre
	}
	if text == "" {
		f.missing("piece_length", measure.Say("how long the pieces are, such as 16 in"))
		return 0
	}
	length, err := measure.ParseLengthIn(text, unit)
	if !f.parsed("piece_length", err) {
		return 0
	}
	if length <= 0 || length > measure.MaxPieceLength {
		f.add("piece_length", "out-of-range", text, measure.Say("pieces are not that long"),
			measure.Say("more than nothing, up to %s", measure.MaxPieceLength))
		return 0
	}
	return length
}

// printedLine reads one line that will be printed.
func (in *orderReader) printedLine(field, text string) string {
	text = in.service.printable(&in.fields, field, in.line(field, text))
	in.barred(in.set, field, text)
	return text
}

func (in *orderReader) seasoning() Seasoning {
	switch s := Seasoning(in.typed.Seasoning); s {
	case "", Green, Seasoned, KilnDried:
		return s
	}
	in.add("seasoning", "unknown", in.typed.Seasoning, measure.Say("no such statement is known"),
		measure.Say("green, seasoned or kiln-dried, or nothing"))
	return ""
}

// agreed asks for what the words come to where they are no legal quantity, or are
// cords whose size hangs on the wood.
func (in *orderReader) agreed(said measure.Said, piece measure.Length, wood Money) {
	switch {
	case said.Barred != "":
		in.readBack(in.set, in.shop.Units, in.typed.Confirmed, said, wood)
	case prepared(in.set, said):
		m, _ := in.set.CordOf(said.Quantity.Basis, piece, said.Preparation) // it gave the words their size
		in.confirm(in.set, in.shop.Units, in.typed.Confirmed, said.Quantity, wood,
			measure.Say("a cord of %s is %s here (%s); this comes to %s", measure.Say(m.Of), said.Cord, m.Source, said.Quantity))
	}
}

// readBack asks for the legal quantity of words that name none, unless the person
// has confirmed it. Neither fault nor answer repeats a term that is barred.
func (f *fields) readBack(set rules.Set, units Units, typed string, said measure.Said, wood Money) {
	f.confirm(set, units, typed, said.Quantity, wood, set.WhyReadBack(said))
}

// confirm asks whether a quantity is agreed to, with the reason for asking, unless it
// was confirmed in words that nobody can take for another.
func (f *fields) confirm(set rules.Set, units Units, typed string, q measure.Quantity, wood Money, reason measure.Text) {
	said, err := measure.ParseQuantity(typed)
	if err == nil && said.Barred == "" && !prepared(set, said) && len(set.BarredIn(typed)) == 0 && said.Quantity == q {
		return
	}
	if wood.Currency != "" {
		reason = measure.Say("%s, and the wood to %s", reason, wood)
	}
	f.add("confirmed", "read-back", "", reason, measure.Say("%s", spell(set, units, q)))
}
