package orders

import (
	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// price reads the wood's price, by the cord or for the whole, and the fees.
func (in *orderReader) price(v measure.Volume) Price {
	r := in.typed
	var p Price
	cords := in.set.SoldIn(in.shop.Units == Metric) == rules.Cord
	switch {
	case !cords && r.PricePerCord != "":
		in.add("price_total", "unit-not-sold", "", measure.Say("these rules of sale have no price by that unit"),
			measure.Say("the price for all of the wood"))
	case !cords && r.PriceTotal == "":
		in.missing("price_total", measure.Say("the price for all of the wood"))
	case r.PricePerCord == "" && r.PriceTotal == "":
		in.missing("price_per_cord", measure.Say("the wood's price, by the cord or for the whole"))
	case r.PricePerCord != "" && r.PriceTotal != "":
		in.add("price_total", "one-only", r.PriceTotal, measure.Say("there is a price by the cord as well"), measure.Say("one of the two"))
	case r.PricePerCord != "":
		p.PerCord = in.amount("price_per_cord", r.PricePerCord)
		p.Wood = p.PerCord.ForVolume(v, measure.Cord)
	default:
		p.Wood = in.amount("price_total", r.PriceTotal)
	}
	in.fee(&p, DeliveryLine, "delivery_fee", r.DeliveryFee, "")
	in.fee(&p, StackingLine, "stacking_fee", r.StackingFee, "")
	in.fee(&p, OtherLine, "other_fee", r.OtherFee, in.otherFee())
	if total := p.Total(); total.Minor > largest(in.currency) {
		in.add("price_per_cord", "too-large", "", measure.Say("the whole comes to %s", total.String()), acceptedAmounts(in.currency))
	}
	return p
}

// amount reads one amount; a faulty one is nothing of no currency.
func (in *orderReader) amount(field, text string) Money {
	m, err := ParseMoney(text, in.currency)
	in.parsed(field, err)
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
		in.missing("other_fee_for", measure.Say("what the other fee is for"))
	case words != "" && in.typed.OtherFee == "":
		in.missing("other_fee", acceptedAmounts(in.currency))
	}
	return words
}

// deposit reads what was paid ahead, at most the whole price.
func (in *orderReader) deposit(p Price) Money {
	if in.typed.Deposit == "" {
		return Money{Currency: in.currency}
	}
	m := in.amount("deposit", in.typed.Deposit)
	if total := p.Total(); p.Wood.Currency != "" && m.Minor > total.Minor {
		in.add("deposit", "too-large", in.typed.Deposit, measure.Say("it is more than the whole price of %s", total.String()),
			measure.Say("at most %s", total.String()))
	}
	return m
}

// largest is MaxAmount in minor units.
func largest(currency string) int64 { return MaxAmount * int64(power10(minorDigits(currency))) }
