//go:build !wasm

package form

import (
	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// Order is an order as a form to change it. The quantity is given plainly: the
// customer's own words may hold a term that no page shows.
func Order(o orders.Order, set rules.Set, units act.Units) orders.OrderRequest {
	r := orders.OrderRequest{
		CustomerName: o.Customer.Name, CustomerAddress: o.Customer.Address, CustomerPhone: o.Customer.Phone,
		Quantity: plainQuantity(o, set, units), Species: o.Species, Origin: o.Origin, Certificate: o.Certificate, PieceLength: length(o.PieceLength),
		Seasoning: string(o.Seasoning), Split: string(o.Split), Stacking: string(o.Stacking), Deposit: amount(o.Deposit), Notes: o.Notes, Day: o.Day.String(), Version: o.Version,
	}
	switch unit := set.SoldIn(units == act.Metric); {
	case o.Price.PerCord.Minor != 0 && unit == rules.Cord:
		r.PricePerCord = amount(o.Price.PerCord)
	case o.Price.PerUnit.Minor != 0 && unit == o.Price.Unit:
		r.PricePerUnit = amount(o.Price.PerUnit)
	default:
		r.PriceTotal = amount(o.Price.Wood)
	}
	if o.Distance > 0 {
		r.Distance = orders.FormatDistance(o.Distance, units)
	}
	if o.Price.Tax != nil {
		r.TaxExempt = o.Price.Tax.Exempt
	}
	r.HalfLoad = "no"
	for _, fee := range o.Price.Fees {
		switch fee.Kind {
		case orders.DeliveryLine:
			r.DeliveryFee = amount(fee.Amount)
		case orders.StackingLine:
			r.StackingFee = amount(fee.Amount)
		case orders.HalfLoadLine:
			r.HalfLoad = "yes"
		case orders.OtherLine:
			r.OtherFee, r.OtherFeeFor = amount(fee.Amount), fee.Words
		}
	}
	return r
}

// Again is a new order for the same as another: its price and fees as they were, no
// deposit, and what is asked back asked anew.
func Again(o orders.Order, set rules.Set, units act.Units) orders.OrderRequest {
	r := Order(o, set, units)
	r.Deposit, r.HalfLoad, r.Day, r.Version = "", "", "", 0
	r.CustomerID = o.Customer.Record
	if r.CustomerName == orders.ErasedName {
		r.CustomerName = "" // who it was is not known any more
	}
	return r
}

// plainQuantity is the quantity in the customer's words where they read back to
// it without a term the rule set bars and say nothing that has a field of its own, else
// as a plain number.
func plainQuantity(o orders.Order, set rules.Set, units act.Units) string {
	said, err := orders.OrderTerms(set, o.PieceLength).ParseQuantity(o.Words)
	varies := err == nil && set.CordVaries() && said.Cord > 0
	if varies {
		said.Quantity = set.Round(said.Quantity, units == act.Metric)
	}
	if err == nil && !varies && (len(said.Rest) > 0 || said.PieceLength > 0 || said.Sides[0] > 0) {
		return set.Spell(o.Quantity, units == act.Metric)
	}
	if err == nil && said.Barred == "" && len(set.BarredIn(o.Words)) == 0 && said.Quantity == o.Quantity {
		return o.Words
	}
	return set.Spell(o.Quantity, units == act.Metric)
}

func length(l measure.Length) string {
	if l == 0 {
		return ""
	}
	return l.String()
}

func amount(m money.Money) string {
	if m.Minor == 0 {
		return ""
	}
	return m.Amount()
}
