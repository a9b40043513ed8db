package orders

import (
	"context"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/prices"
)

// A BeginRequest is what a new shop is asked before anything else: its name and place,
// the rules it sells by, and what a cord costs. Nothing of it is taken for granted, so
// each but the price must be said.
type BeginRequest struct {
	Name     string `json:"name"`
	Address  string `json:"address"`
	Zone     string `json:"zone"`
	Currency string `json:"currency"`
	RuleSet  string `json:"rule_set"`
	// Price is what one unit of sale of any wood costs: a cord, or under rules without
	// cords a cubic metre or foot. Empty: each order says its own.
	Price string `json:"price"`
}

// Begin makes a shop out of an empty database, with the first line of its price list.
// Units and paper follow the rules and the currency. It is Invalid with all faults, and
// Conflict once the shop was begun.
func (s *Service) Begin(ctx context.Context, by act.Act, r BeginRequest) (Shop, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: ShopBegun, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		shop, err := tx.Shop()
		if err != nil {
			return "", err
		}
		if shop.Located {
			return "", act.NewConflict("this shop has begun already; what it said then is changed in its settings")
		}
		var f act.Fields
		nameless(&f, r)
		if err := s.fillShop(&f, tx, &shop, s.settings(r)); err != nil {
			return "", err
		}
		if r.RuleSet == "" {
			f.Missing("rule_set", measure.Say("the rules of where you sell; the US model law where your state isn’t listed"))
		}
		if _, err := money.Parse(r.Price, shop.Currency); r.Price != "" {
			f.Parsed("price", err)
		}
		if err := f.Err(); err != nil {
			return "", err
		}
		if err := tx.ChangeShop(shop); err != nil || r.Price == "" {
			return "", err
		}
		_, err = s.Prices.Put(tx, by.Actor, prices.Request{Kind: string(prices.Wood), Price: r.Price})
		return "", err
	}, func(tx Tx, _ string) (Shop, error) { return tx.Shop() })
}

// nameless notes that a shop doesn't say what its receipts need.
func nameless(f *act.Fields, r BeginRequest) {
	if r.Name == "" {
		f.Missing("name", measure.Say("the name of your business, as receipts print it"))
	}
	if r.Address == "" {
		f.Missing("address", measure.Say("its address, as receipts print it"))
	}
}

// settings are the settings that the answers lead to.
func (s *Service) settings(r BeginRequest) ShopRequest {
	to := ShopRequest{Name: r.Name, Address: r.Address, Zone: r.Zone, Currency: r.Currency, RuleSet: r.RuleSet, Units: string(act.Imperial), Paper: string(A4)}
	if set, err := s.rules.Get(r.RuleSet); err == nil && set.SoldIn(false) == rules.CubicMetre {
		to.Units = string(act.Metric)
	}
	if r.Currency == "USD" || r.Currency == "CAD" {
		to.Paper = string(Letter)
	}
	return to
}
