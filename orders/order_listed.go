package orders

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/prices"
	"wellstowed/orders/spoken"
)

// wanted is what an order asks of the price list.
func wanted(o Order) prices.Item {
	return prices.Item{Kind: prices.Wood, Species: o.Species, PieceLength: o.PieceLength, Seasoning: o.Seasoning, Per: o.Quantity}
}

// listedPrice is the price of wood by a line of the price list: by the unit of sale where
// the line is for one of it, else for the whole.
func listedPrice(l prices.Line, unit rules.UnitCode, v measure.Volume) Price {
	p := Price{Wood: l.Of(v)}
	switch {
	case l.Per.Volume != unit.Volume():
	case unit == rules.Cord:
		p.PerCord = l.Price
	default:
		p.PerUnit, p.Unit = l.Price, unit
	}
	return p
}

// delivery adds the fee for delivery: typed, or that of a place on the price list.
func (in *orderReader) delivery(p *Price) {
	place := in.typed.DeliverTo
	if place == "" {
		in.fee(p, DeliveryLine, "delivery_fee", in.typed.DeliveryFee, "")
		return
	}
	l, found := in.list.To(place)
	switch {
	case !found:
		in.Add("deliver_to", "unknown", place, measure.Say("that place isn’t on the price list"), in.places())
	case in.typed.DeliveryFee != "":
		in.Add("delivery_fee", "one-only", in.typed.DeliveryFee, measure.Say("a place on the price list was picked as well"), measure.Say("one of the two"))
	case l.Price.Minor > 0:
		p.Fees = append(p.Fees, PriceLine{Kind: DeliveryLine, Amount: l.Price})
	}
}

// places says which places the price list has.
func (in *orderReader) places() measure.Text {
	var names []string
	for _, l := range in.list.Of(prices.Delivery) {
		names = append(names, l.Place)
	}
	if len(names) == 0 {
		return measure.Say("nothing, since the list has none")
	}
	return measure.Say("%s, or nothing", strings.Join(names, "; "))
}

// stacking adds the fee for stacking: typed, or what the price list asks for as much wood
// where that was picked, or the order's line says that it is to be stacked.
func (in *orderReader) stacking(p *Price, q measure.Quantity) {
	l, found := in.list.Stacked(q.Basis)
	said := in.line.Stacking == spoken.Stacked && in.typed.StackingFee == "" && found
	if !in.Ticked("list_stacking", in.typed.Stacked) && !said {
		in.fee(p, StackingLine, "stacking_fee", in.typed.StackingFee, "")
		return
	}
	switch {
	case !found:
		in.Add("list_stacking", "not-listed", "", measure.Say("the price list has no price for stacking such wood"), measure.Say("a fee for stacking, or nothing"))
	case in.typed.StackingFee != "":
		in.Add("stacking_fee", "one-only", in.typed.StackingFee, measure.Say("stacking at the list’s price was picked as well"), measure.Say("one of the two"))
	default:
		if fee := l.Of(q.Volume); fee.Minor > 0 {
			p.Fees = append(p.Fees, PriceLine{Kind: StackingLine, Amount: fee})
		}
	}
}

// listFar is how far from the list's a price is asked about: by more than a quarter of it.
const listFar = 4

// offList says what of an order isn't as the price list has it: less than the least order,
// or a price far from the list's.
func (in *orderReader) offList(o Order) (odd []measure.Text) {
	if least, found := in.list.LeastOrder(o.Quantity.Basis); found && o.Quantity.Volume < least.Volume {
		odd = append(odd, measure.Say("%s is less than your least order, which is %s", o.Quantity, least))
	}
	if l, found := in.list.Wood(wanted(o)); found {
		listed := l.Of(o.Quantity.Volume)
		if off := max(o.Price.Wood.Minor-listed.Minor, listed.Minor-o.Price.Wood.Minor); off*listFar > listed.Minor {
			odd = append(odd, measure.Say("%s is far from your price list, by which this much wood is %s", o.Price.Wood.String(), listed.String()))
		}
	}
	return odd
}

// AtList is an order as typed with the wood of a line of the price list: its price is left
// to the list, and how much is the line's where nothing was typed.
func (r OrderRequest) AtList(typed prices.Request) OrderRequest {
	r.PricePerCord, r.PricePerUnit, r.PriceTotal = "", "", ""
	for _, of := range []struct {
		to   *string
		from string
	}{{&r.Species, typed.Species}, {&r.PieceLength, typed.PieceLength}, {&r.Seasoning, typed.Seasoning}} {
		if of.from != "" {
			*of.to = of.from
		}
	}
	if r.Quantity == "" {
		r.Quantity = typed.Per
	}
	return r
}
