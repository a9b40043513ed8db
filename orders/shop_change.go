package orders

import (
	"context"
	"slices"
	"time"

	"golang.org/x/text/currency"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
)

// Shop gives the shop's settings.
func (s *Service) Shop(ctx context.Context, who act.Actor) (Shop, error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Shop{}, err
	}
	shop, err := s.shop(ctx)
	return shop, act.Fail(err)
}

// Manner is what a page for anybody goes by: the shop's language, units, paper, zone and
// rules, and nothing else of it.
func (s *Service) Manner(ctx context.Context) (Shop, error) {
	shop, err := s.shop(ctx)
	return Shop{Language: shop.Language, Units: shop.Units, Paper: shop.Paper, Zone: shop.Zone, RuleSet: shop.RuleSet}, act.Fail(err)
}

func (s *Service) shop(ctx context.Context) (shop Shop, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		shop, err = tx.Shop()
		return err
	})
	return shop, err
}

// ChangeShop saves the settings; currency, zone, paper, units and rule set stay
// as they are where the request leaves them empty, but for the currency and the zone of a
// shop that has not said them: those must be said. It is Invalid with all faults,
// Conflict when the version is not the latest.
func (s *Service) ChangeShop(ctx context.Context, by act.Act, r ShopRequest) (Shop, error) {
	w := act.Write{Verb: ShopChanged, May: act.ToManage, Content: r}
	return s.changeShop(ctx, by, w, r.Version, func(tx Tx, shop *Shop) error {
		var f act.Fields
		if err := s.fillShop(&f, tx, shop, r); err != nil {
			return err
		}
		return f.Err()
	})
}

// changeShop saves what fill makes of the shop as it is at a version.
func (s *Service) changeShop(ctx context.Context, by act.Act, w act.Write, version int64, fill func(Tx, *Shop) error) (Shop, error) {
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		shop, err := tx.Shop()
		if err != nil {
			return "", err
		}
		if version != shop.Version {
			return "", act.NewConflict("somebody else changed the settings first; look at them as they are now and change them again")
		}
		if err := fill(tx, &shop); err != nil {
			return "", err
		}
		return "", tx.ChangeShop(shop)
	}, func(tx Tx, _ string) (Shop, error) { return tx.Shop() })
}

// fillShop puts what was typed into shop.
func (s *Service) fillShop(f *act.Fields, tx Tx, shop *Shop, r ShopRequest) error {
	shop.Name = s.printable(f, "name", f.Line("name", r.Name))
	shop.Address = s.printable(f, "address", f.Lines("address", r.Address))
	shop.Phone = s.printable(f, "phone", f.Line("phone", r.Phone))
	shop.TaxNumber = s.printable(f, "tax_number", f.Line("tax_number", r.TaxNumber))
	if !shop.Located {
		placed(f, r)
	}
	zone(f, &shop.Zone, r.Zone)
	paperOf(f, &shop.Paper, r.Paper)
	units(f, &shop.Units, r.Units)
	languageOf(f, &shop.Language, r.Language)
	ruleSet(f, s.rules, &shop.RuleSet, r.RuleSet)
	if err := currencyOf(f, tx, &shop.Currency, r.Currency); err != nil {
		return err
	}
	if set, err := s.rules.Get(shop.RuleSet); err == nil {
		f.BarredInName(set, "name", shop.Name)
		f.BarredInName(set, "address", shop.Address)
		f.BarredInName(set, "phone", shop.Phone)
		f.BarredInName(set, "tax_number", shop.TaxNumber)
	}
	shop.Located = true // it is not saved with a fault
	return nil
}

// placed asks where a shop is.
func placed(f *act.Fields, r ShopRequest) {
	if r.Zone == "" {
		f.Missing("zone", measure.Say("the time zone the shop is in, such as America/New_York; it dates what you issue"))
	}
	if r.Currency == "" {
		f.Missing("currency", measure.Say("the currency you sell in, such as USD"))
	}
}

// unplaced notes that nobody has said where the shop is.
func unplaced(f *act.Fields, shop Shop) {
	if !shop.Located {
		f.Missing("shop.zone", measure.Say("the shop’s time zone and currency, in the shop's settings"))
	}
}

func zone(f *act.Fields, to *string, text string) {
	if text == "" {
		return
	}
	if _, err := time.LoadLocation(text); err != nil || text == "Local" {
		f.Add("zone", "unknown", text, measure.Say("that isn’t the name of a time zone"), measure.Say("a large city in it, as America/New_York, America/Chicago or Europe/London"))
		return
	}
	*to = text
}

func paperOf(f *act.Fields, to *Paper, text string) {
	switch p := Paper(text); p {
	case "":
	case Letter, A4:
		*to = p
	default:
		f.Add("paper", "unknown", text, measure.Say("no such paper is known"), measure.Say("letter or a4"))
	}
}

func units(f *act.Fields, to *act.Units, text string) {
	switch u := act.Units(text); u {
	case "":
	case act.Imperial, act.Metric:
		*to = u
	default:
		f.Add("units", "unknown", text, measure.Say("no such units are known"), measure.Say("imperial or metric"))
	}
}

func languageOf(f *act.Fields, to *string, text string) {
	switch {
	case text == "":
	case slices.Contains(Languages(), text):
		*to = text
	default:
		f.Add("language", "unknown", text, measure.Say("papers can’t be written in that language"), measure.Say("en or es-US"))
	}
}

func ruleSet(f *act.Fields, book rules.Book, to *string, text string) {
	if text == "" {
		return
	}
	if _, err := book.Get(text); err != nil {
		f.Add("rule_set", "unknown", text, measure.Say("no such rule set is known"), measure.Say("a rule set from the list"))
		return
	}
	*to = text
}

// currency changes the currency only while nothing is priced in the old one.
func currencyOf(f *act.Fields, tx Tx, to *string, text string) error {
	if text == "" || text == *to {
		return nil
	}
	unit, err := currency.ParseISO(text)
	if err != nil || unit.String() != text {
		f.Add("currency", "unknown", text, measure.Say("no such currency is known"), measure.Say("an ISO 4217 code, such as USD"))
		return nil
	}
	last, err := tx.LastNumber(OrderNumbers)
	if err != nil {
		return err
	}
	if last > 0 {
		f.Add("currency", "fixed", text, measure.Say("orders are priced in %s already", *to), measure.Say("%s", *to))
		return nil
	}
	*to = text
	return nil
}
