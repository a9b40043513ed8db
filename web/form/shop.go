//go:build !wasm

package form

import "wellstowed/orders"

// Shop is the shop's settings as a form to change them. Zone and currency are empty until
// somebody has said them.
func Shop(s orders.Shop) orders.ShopRequest {
	if !s.Located {
		s.Zone, s.Currency = "", ""
	}
	return orders.ShopRequest{
		Name: s.Name, Address: s.Address, Phone: s.Phone, Currency: s.Currency, Zone: s.Zone,
		Paper: string(s.Paper), Units: string(s.Units), Language: s.Language, RuleSet: s.RuleSet, TaxNumber: s.TaxNumber, Version: s.Version,
	}
}
