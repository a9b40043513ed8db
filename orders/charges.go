package orders

import (
	"context"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// Charges are what a shop charges besides the wood, as far as it has said; the zero
// Charges are none.
type Charges struct {
	// Distance is charged for each Per (a mile or a kilometre) beyond Free.
	Distance money.Money    `json:"distance,omitzero"`
	Per      measure.Length `json:"per,omitempty"`
	Free     measure.Length `json:"free,omitempty"`
	// HalfLoad is offered where less than FullLoad is ordered on its basis.
	FullLoad measure.Quantity `json:"full_load,omitzero"`
	HalfLoad money.Money      `json:"half_load,omitzero"`
	Tax      TaxRule          `json:"tax,omitzero"`
}

// A ChargesRequest is a shop's charges as typed; what is left empty is not charged.
type ChargesRequest struct {
	DistanceRate string `json:"distance_rate"`
	FreeDistance string `json:"free_distance"` // miles, or kilometres where the shop is metric
	FullLoad     string `json:"full_load"`
	HalfLoadFee  string `json:"half_load_fee"`
	TaxName      string `json:"tax_name"`
	TaxRate      string `json:"tax_rate"` // "5.5 %"
	TaxWood      string `json:"tax_wood"` // "yes": the tax is on it; likewise below
	TaxDelivery  string `json:"tax_delivery"`
	TaxStacking  string `json:"tax_stacking"`
	TaxOther     string `json:"tax_other"`
	Version      int64  `json:"version"` // of the shop
}

// ChargesChanged is the verb of a shop whose charges were changed.
const ChargesChanged act.Verb = "change charges"

// ChangeCharges saves what the shop charges besides the wood; orders taken before
// keep their prices. It is Invalid with all faults, Conflict when the version is not
// the latest.
func (s *Service) ChangeCharges(ctx context.Context, by act.Act, r ChargesRequest) (Shop, error) {
	w := act.Write{Verb: ChargesChanged, May: act.ToManage, Content: r}
	return s.changeShop(ctx, by, w, r.Version, func(_ Tx, shop *Shop) (err error) {
		shop.Charges, err = s.readCharges(*shop, r)
		return err
	})
}

func (s *Service) readCharges(shop Shop, r ChargesRequest) (c Charges, err error) {
	set, err := s.setOf(shop)
	if err != nil {
		return Charges{}, err
	}
	in := orderReader{service: s, shop: shop, set: set, currency: shop.Currency}
	unplaced(&in.Fields, shop)
	c.Distance = in.charge("distance_rate", r.DistanceRate)
	if r.FreeDistance != "" {
		c.Free = in.readDistance("free_distance", r.FreeDistance)
	}
	switch {
	case c.Distance.Minor > 0:
		c.Per = longDistance(shop.Units)
	case r.FreeDistance != "" && r.DistanceRate == "":
		in.Missing("distance_rate", measure.Say("what the distance beyond that costs, or nothing in both"))
	}
	in.fullLoad(&c, r)
	c.Tax = in.taxRule(r)
	return c, in.Err()
}

// charge reads an amount that may be left empty.
func (in *orderReader) charge(field, text string) money.Money {
	if text == "" {
		return money.Money{}
	}
	if m := in.amount(field, text); m.Minor > 0 {
		return m
	}
	return money.Money{}
}

// fullLoad reads what a full load is and the fee for less: there are both or neither.
func (in *orderReader) fullLoad(c *Charges, r ChargesRequest) {
	c.HalfLoad = in.charge("half_load_fee", r.HalfLoadFee)
	switch {
	case r.FullLoad == "" && r.HalfLoadFee != "":
		in.Missing("full_load", act.AcceptedQuantities())
	case r.FullLoad != "" && r.HalfLoadFee == "":
		in.Missing("half_load_fee", money.Accepted(in.currency))
	case r.FullLoad != "":
		said := in.SaidUnder(in.set, in.shop.Units, "full_load", r.FullLoad, 16*measure.Inch)
		if said.Barred != "" {
			in.Add("full_load", "barred", "", measure.Say("those words aren’t a lawful quantity; they mean %s", said.Quantity),
				measure.Say("%s", act.Spell(in.set, in.shop.Units, said.Quantity)))
		}
		c.FullLoad = said.Quantity
	}
}

// taxRule reads a tax: there are name, rate and something it is on, or none of them.
func (in *orderReader) taxRule(r ChargesRequest) TaxRule {
	t := TaxRule{Name: in.printedLine("tax_name", r.TaxName),
		On: Taxed{in.Ticked("tax_wood", r.TaxWood), in.Ticked("tax_delivery", r.TaxDelivery), in.Ticked("tax_stacking", r.TaxStacking), in.Ticked("tax_other", r.TaxOther)}}
	if r.TaxName == "" && r.TaxRate == "" && t.On == (Taxed{}) {
		return TaxRule{}
	}
	if r.TaxName == "" {
		in.Missing("tax_name", measure.Say("what the tax is called on receipts, such as Sales tax"))
	}
	if r.TaxRate == "" {
		in.Missing("tax_rate", measure.Say("a percentage from 0 to 100, such as 5.5 %"))
	} else {
		var err error
		t.Rate, err = money.ParseRate(r.TaxRate)
		in.Parsed("tax_rate", err)
	}
	if t.On == (Taxed{}) {
		in.Missing("tax_wood", measure.Say("what the tax is on: the wood, delivery, stacking or other charges"))
	}
	return t
}

// longDistance is the unit that a shop's roads are measured in.
func longDistance(u act.Units) measure.Length {
	if u == act.Metric {
		return Kilometre
	}
	return Mile
}

// addCharges adds to a price what the shop charges besides: for the distance that
// was typed, for less than a full load where that was agreed to, and tax.
func (in *orderReader) addCharges(o *Order) {
	c, p := in.shop.Charges, &o.Price
	o.Distance = 0
	if in.typed.Distance != "" {
		o.Distance = in.readDistance("distance", in.typed.Distance)
	}
	if beyond := o.Distance - c.Free; c.Distance.Minor > 0 && beyond > 0 {
		if fee := c.Distance.Times(int64(beyond), int64(c.Per)); fee.Minor > 0 {
			p.Fees = append(p.Fees, PriceLine{Kind: DistanceLine, Amount: fee, Basis: &ChargeBasis{Beyond: beyond, Free: c.Free, Rate: c.Distance, Per: c.Per}})
		}
	}
	if c.offersHalfLoad(o.Quantity) {
		switch in.typed.HalfLoad {
		case "yes":
			p.Fees = append(p.Fees, PriceLine{Kind: HalfLoadLine, Amount: c.HalfLoad, Basis: &ChargeBasis{FullLoad: c.FullLoad}})
		case "no":
		default:
			in.Add("half_load", "read-back", "", measure.Say("%s is less than a full load of %s, for which %s may be charged", o.Quantity, c.FullLoad, c.HalfLoad),
				measure.Say("yes or no"))
		}
	}
	exempt := in.printedLine("tax_exempt", in.typed.TaxExempt)
	if exempt != "" && c.Tax.Name == "" {
		in.Add("tax_exempt", "contradicts", exempt, measure.Say("the shop charges no tax, so nothing is exempt from it"), measure.Say("nothing here, or a tax in the shop’s settings"))
	}
	p.Tax = c.Tax.tax(*p, exempt)
}

func (c Charges) offersHalfLoad(q measure.Quantity) bool {
	return c.HalfLoad.Minor > 0 && q.Volume > 0 && q.Basis == c.FullLoad.Basis && q.Volume < c.FullLoad.Volume
}
