package orders

import (
	"cmp"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/money"
	"wellstowed/orders/prices"
	"wellstowed/orders/promise"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// An orderReader turns what was typed into an order and gathers the faults.
type orderReader struct {
	act.Fields
	service  *Service
	typed    OrderRequest
	shop     Shop
	list     prices.List // what is offered today
	set      rules.Set
	currency string
	answer   *promise.Answer // whether it can be promised, once that was worked out
	line     spoken.Line     // what the line says
	said     measure.Said    // how much that is
}

// readOrder puts what was typed into o, which holds what the order was before. The
// reader that it gives knows what was said; the error is Invalid with all faults.
func (s *Service) readOrder(tx Tx, o *Order, r OrderRequest) (*orderReader, error) {
	in, err := s.orderReader(tx, r)
	if err != nil {
		return nil, err
	}
	set, shop := in.set, in.shop
	unplaced(&in.Fields, shop)
	in.customer(&o.Customer)
	if err := in.picked(tx, o.Customer.Name); err != nil {
		return nil, err
	}
	var piece act.Fields
	field := piece.PieceOf(set, shop.Units, "piece_length", r.PieceLength)
	usual := piece.PieceOf(set, shop.Units, "usual_length", r.UsualLength)
	if err := in.hear(tx); err != nil {
		return nil, err
	}
	in.said = in.quantity(cmp.Or(field, in.line.Piece, usual))
	o.Words, o.Quantity = in.said.Words, in.said.Quantity
	o.Species = in.printedLine("species", r.Species)
	if wood.StatesShares(o.Species) {
		_, err := wood.ParseStated(o.Species)
		in.Parsed("species", err)
	}
	o.Origin = in.printedLine("origin", r.Origin)
	o.Certificate = in.printedLine("certificate", r.Certificate)
	in.Faults = append(in.Faults, piece.Faults...)
	o.PieceLength = in.pieces(field, in.line.Piece, usual)
	in.Refused("piece_length", r.PieceLength, set.RefusePieces(o.PieceLength))
	o.Seasoning = in.seasoning()
	o.Split = oneOf[spoken.SplitSize](in, "split", r.Split, measure.Say("split, small, medium, large or not split, or nothing"))
	o.Stacking = oneOf[spoken.Stack](in, "stacking", r.Stacking, measure.Say("yes or no, or nothing"))
	o.Notes = in.Lines("notes", r.Notes)
	in.day("day", &o.Day, r.Day)
	in.carry(o)
	in.carryPrice()
	o.Price = in.price(*o)
	in.addCharges(o)
	in.boundPrice(o.Price)
	o.Deposit = in.deposit(o.Price)
	in.BarredInName(set, "notes", o.Notes)
	in.Hush(set)
	return in, in.Err()
}

// orderReader reads by the shop's settings and prices as they are now.
func (s *Service) orderReader(tx Tx, r OrderRequest) (*orderReader, error) {
	shop, err := tx.Shop()
	if err != nil {
		return nil, err
	}
	set, err := s.setOf(shop)
	if err != nil {
		return nil, err
	}
	list, err := s.Prices.Today(tx)
	return &orderReader{service: s, typed: r, shop: shop, list: list, set: set, currency: shop.Currency}, err
}

// picked asks who it is where another name was typed over that of a customer who was picked:
// an order renames nobody.
func (in *orderReader) picked(tx Tx, name string) error {
	if in.typed.CustomerID == "" || name == "" {
		return nil
	}
	r, err := tx.CustomerRecord(in.typed.CustomerID)
	if act.KindOf(err) == act.NotFound {
		return nil // that is told where it is recorded
	}
	if err != nil || customers.Key(r.Name) == customers.Key(name) {
		return err
	}
	in.Faults = append(in.Faults, &measure.InputError{Field: "customer_name", Code: "somebody-else", Got: name,
		Reason: measure.Say("%s was picked, and another name is typed. Who is it?", r.Name), Accepts: measure.Say("the name as it is kept; it is changed on the customer’s own page"),
		Choices: []measure.Choice{
			{Field: "customer_name", Value: r.Name, Label: measure.Say("%s", r.Name)},
			{Field: "customer_id", Value: "", Label: measure.Say("Somebody else: %s", name)},
		}})
	return nil
}

// customer leaves a spelling for print only beside the text it stands in for.
func (in *orderReader) customer(c *Customer) {
	name := in.Line("customer_name", in.typed.CustomerName)
	if name == "" && len(in.Faults) == 0 {
		in.Missing("customer_name", measure.Say("the customer's name"))
	}
	address := in.Lines("customer_address", in.typed.CustomerAddress)
	in.BarredInName(in.set, "customer_name", name)
	in.BarredInName(in.set, "customer_address", address)
	if name != c.Name {
		c.PrintName = ""
	}
	if address != c.Address {
		c.PrintAddress = ""
	}
	c.Name, c.Address, c.Phone = name, address, in.Line("customer_phone", in.typed.CustomerPhone)
}

// quantity reads the words for how much it is; the barred terms stay in them, inside.
func (in *orderReader) quantity(piece measure.Length) measure.Said {
	words := in.line.Quantity
	if words == "" {
		return measure.Said{} // it is asked already
	}
	said := in.SaidOf(in.set, OrderTerms(in.set, piece), in.shop.Units, "quantity", words)
	in.Refused("quantity", words, in.set.Refuse(said.Quantity, piece))
	return said
}

// printedLine reads one line that will be printed.
func (in *orderReader) printedLine(field, text string) string {
	text = in.service.printable(&in.Fields, field, in.Line(field, text))
	in.Barred(in.set, field, text)
	return text
}

func (in *orderReader) seasoning() yard.Seasoning {
	switch s := yard.Seasoning(in.typed.Seasoning); s {
	case "", yard.Green, yard.Seasoned, yard.KilnDried:
		return s
	}
	in.Add("seasoning", "unknown", in.typed.Seasoning, measure.Say("no such statement is known"),
		measure.Say("green, seasoned or kiln-dried, or nothing"))
	return ""
}

// ConfirmReading asks for the legal quantity of words that name none, unless the person
// has confirmed it. Neither fault nor answer repeats a term that is barred.
func ConfirmReading(f *act.Fields, set rules.Set, units act.Units, typed string, said measure.Said, wood money.Money) {
	confirm(f, set, units, typed, said.Quantity, wood, set.WhyReadBack(said))
}

// confirm asks whether a quantity is agreed to, with the reason for asking, unless it
// was confirmed in words that nobody can take for another.
func confirm(f *act.Fields, set rules.Set, units act.Units, typed string, q measure.Quantity, wood money.Money, reason measure.Text) {
	said, err := measure.ParseQuantity(typed)
	if err == nil && said.Barred == "" && !act.Prepared(set, said) && len(set.BarredIn(typed)) == 0 && said.Quantity == q {
		return
	}
	if wood.Currency != "" {
		reason = measure.Say("%s, and the wood to %s", reason, wood)
	}
	f.Add("confirmed", "read-back", "", reason, measure.Say("%s", act.Spell(set, units, q)))
}
