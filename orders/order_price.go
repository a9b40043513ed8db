package orders

import (
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// A unitPrice is the price of the wood by the unit that the rules sell it in, as
// typed.
type unitPrice struct {
	field, typed, stray string // stray: a price by a unit that is not sold in
	unit                rules.UnitCode
}

func (in *orderReader) unitPrice() unitPrice {
	r, unit := in.typed, in.set.SoldIn(in.shop.Units == act.Metric)
	spoken := r.PricePerUnit == "" && r.PricePerCord != "" && in.set.Sells(rules.Cord) && !in.set.CordVaries()
	if unit == rules.Cord || unit == "" || spoken {
		return unitPrice{"price_per_cord", r.PricePerCord, r.PricePerUnit, rules.Cord}
	}
	return unitPrice{"price_per_unit", r.PricePerUnit, r.PricePerCord, unit}
}

// price reads the wood's price, by the unit of sale or for the whole or from the price
// list, and the fees.
func (in *orderReader) price(o Order) Price {
	by, total, v := in.unitPrice(), in.typed.PriceTotal, o.Quantity.Volume
	listed, isListed := in.list.Wood(wanted(o))
	var p Price
	switch {
	case by.stray != "":
		in.Add("price_total", "unit-not-sold", "", measure.Say("these rules of sale have no price by that unit"),
			measure.Say("a price by the unit of sale or for the whole"))
	case by.typed == "" && total == "" && isListed:
		p = listedPrice(listed, by.unit, v)
	case by.typed == "" && total == "" && in.asksPrice():
	case by.typed == "" && total == "":
		in.Missing(by.field, measure.Say("the wood's price, by the unit of sale or for the whole"))
	case by.typed != "" && total != "":
		in.Add("price_total", "one-only", total, measure.Say("there is a price by the unit as well"), measure.Say("one of the two"))
	case by.typed == "":
		p.Wood = in.amount("price_total", total)
	case by.unit == rules.Cord:
		p.PerCord = in.amount(by.field, by.typed)
		p.Wood = p.PerCord.ForVolume(v, measure.Cord)
	default:
		p.PerUnit, p.Unit = in.amount(by.field, by.typed), by.unit
		p.Wood = p.PerUnit.ForVolume(v, by.unit.Volume())
	}
	in.delivery(&p)
	in.stacking(&p, o.Quantity)
	in.fee(&p, OtherLine, "other_fee", in.typed.OtherFee, in.otherFee())
	return p
}

// asksPrice tells whether the line says a price that is asked about.
func (in *orderReader) asksPrice() bool {
	return slices.ContainsFunc(in.line.Questions, func(q *measure.InputError) bool { return q.Code == "price" })
}

// boundPrice refuses a price that comes to more than an amount may.
func (in *orderReader) boundPrice(p Price) {
	if sum := p.Total(); sum.Minor > money.Largest(in.currency) {
		in.Add(in.unitPrice().field, "too-large", "", measure.Say("the total is %s", sum.String()), money.Accepted(in.currency))
	}
}

// amount reads one amount; a faulty one is nothing of no currency.
func (in *orderReader) amount(field, text string) money.Money {
	m, err := money.Parse(text, in.currency)
	in.Parsed(field, err)
	return m
}

// fee adds a fee unless it is left empty or nothing.
func (in *orderReader) fee(p *Price, kind LineKind, field, text, words string) {
	if text == "" {
		return
	}
	if m := in.amount(field, text); m.Minor > 0 {
		p.Fees = append(p.Fees, PriceLine{Kind: kind, Words: words, Amount: m})
	}
}

// otherFee reads what the other fee is for: there is both or neither.
func (in *orderReader) otherFee() string {
	words := in.printedLine("other_fee_for", in.typed.OtherFeeFor)
	switch {
	case words == "" && in.typed.OtherFee != "" && in.typed.OtherFeeFor == "":
		in.Missing("other_fee_for", measure.Say("what the other fee is for"))
	case words != "" && in.typed.OtherFee == "":
		in.Missing("other_fee", money.Accepted(in.currency))
	case words != "":
		if m, err := money.Parse(in.typed.OtherFee, in.currency); err == nil && m.Minor == 0 {
			in.Add("other_fee", "nothing", in.typed.OtherFee, measure.Say("a charge of nothing isn’t printed"), measure.Say("an amount above 0, or nothing in both"))
		}
	}
	return words
}

// deposit reads what was paid ahead, at most the whole price.
func (in *orderReader) deposit(p Price) money.Money {
	if in.typed.Deposit == "" {
		return money.Money{Currency: in.currency}
	}
	m := in.amount("deposit", in.typed.Deposit)
	if total := p.Total(); p.Wood.Currency != "" && m.Minor > total.Minor {
		in.Add("deposit", "too-large", in.typed.Deposit, measure.Say("it is more than the whole price of %s", total.String()),
			measure.Say("at most %s", total.String()))
	}
	return m
}
