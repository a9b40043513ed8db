//go:build !wasm

package form

import (
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Charges is what a shop charges besides the wood as a form to change it.
func Charges(s orders.Shop, set rules.Set) orders.ChargesRequest {
	c := s.Charges
	r := orders.ChargesRequest{
		DistanceRate: amount(c.Distance), HalfLoadFee: amount(c.HalfLoad), TaxName: c.Tax.Name, Version: s.Version,
		TaxWood: yes(c.Tax.On.Wood), TaxDelivery: yes(c.Tax.On.Delivery), TaxStacking: yes(c.Tax.On.Stacking), TaxOther: yes(c.Tax.On.Other),
	}
	if c.Free > 0 {
		r.FreeDistance = orders.FormatDistance(c.Free, s.Units)
	}
	if c.FullLoad.Volume > 0 {
		r.FullLoad = set.Spell(c.FullLoad, s.Units == act.Metric)
	}
	if c.Tax.Name != "" {
		r.TaxRate = c.Tax.Rate.String()
	}
	return r
}

func yes(on bool) string {
	if on {
		return "yes"
	}
	return ""
}
