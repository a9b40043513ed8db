package orders

import "wellstowed/orders/money"

// Taxed are the parts of a price that a tax is on.
type Taxed struct {
	Wood     bool `json:"wood,omitempty"`
	Delivery bool `json:"delivery,omitempty"` // the distance too
	Stacking bool `json:"stacking,omitempty"`
	Other    bool `json:"other,omitempty"` // other charges, and those for less than a full load
}

// A TaxRule is a tax as a shop charges it; the zero TaxRule is none.
type TaxRule struct {
	Name string     `json:"name" names:"sale"`
	Rate money.Rate `json:"rate"` // millionths
	On   Taxed      `json:"on"`
}

// A Tax is what a price is taxed, or why it is not.
type Tax struct {
	TaxRule
	Taxable money.Money `json:"taxable"` // the sum that the tax is on
	// Amount is Taxable times the rate, rounded once, half away from zero; on a part
	// of an order, what brings the sum of its parts to that.
	Amount money.Money `json:"amount"`
	Exempt string      `json:"exempt,omitempty" names:"erased"` // why nothing is charged
}

// of is the sum of a price that the tax is on.
func (t Taxed) of(p Price) money.Money {
	sum := money.Money{Currency: p.Wood.Currency}
	if t.Wood {
		sum = sum.Add(p.Wood)
	}
	for _, f := range p.Fees {
		if t.Taxes(f.Kind) {
			sum = sum.Add(f.Amount)
		}
	}
	return sum
}

// Taxes tells whether the tax is on lines of a kind.
func (t Taxed) Taxes(k LineKind) bool {
	switch k {
	case WoodLine:
		return t.Wood
	case DeliveryLine, DistanceLine:
		return t.Delivery
	case StackingLine:
		return t.Stacking
	}
	return t.Other
}

// tax is what a whole price is taxed under a rule, nil where there is none.
func (t TaxRule) tax(p Price, exempt string) *Tax {
	if t.Name == "" {
		return nil
	}
	tax := Tax{TaxRule: t, Taxable: t.On.of(p), Exempt: exempt}
	tax.Amount = tax.due(tax.Taxable)
	return &tax
}

// due is the tax on a sum.
func (t Tax) due(taxable money.Money) money.Money {
	if t.Exempt != "" {
		return money.Money{Currency: taxable.Currency}
	}
	return t.Rate.Of(taxable)
}

// share is the tax on a part of an order's price beside the parts that the other
// receipts tax: what the running sum comes to, less what they charge.
func (t *Tax) share(p Price, others []Facts) *Tax {
	if t == nil {
		return nil
	}
	part := *t
	part.Taxable = t.On.of(p)
	running, charged := part.Taxable, int64(0)
	for _, f := range others {
		if f.Price.Tax != nil {
			running = running.Add(f.Price.Tax.Taxable)
			charged += f.Price.Tax.Amount.Minor
		}
	}
	part.Amount = t.due(running)
	part.Amount.Minor = max(part.Amount.Minor-charged, 0)
	return &part
}
