package store

import (
	"encoding/json"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

type shopRow struct {
	ID        int64 `gorm:"primaryKey;autoIncrement:false"`
	Version   int64
	Name      string
	Address   string
	Phone     string
	Currency  string
	Zone      string
	Paper     string
	Units     string
	Language  string
	RuleSet   string
	Charges   string
	TaxNumber string
	Located   int64 // 1: it said where it is
}

func (shopRow) TableName() string { return "shop" }

// Shop gives the one row there is.
func (t tx) Shop() (orders.Shop, error) {
	var r shopRow
	if err := t.db.Where("id = ?", 1).Take(&r).Error; err != nil {
		return orders.Shop{}, err
	}
	shop := orders.Shop{
		Version: r.Version, Name: r.Name, Address: r.Address, Phone: r.Phone,
		Currency: r.Currency, Zone: r.Zone, Paper: orders.Paper(r.Paper), Units: act.Units(r.Units),
		Language: r.Language, RuleSet: r.RuleSet, TaxNumber: r.TaxNumber, Located: r.Located != 0,
	}
	return shop, json.Unmarshal([]byte(r.Charges), &shop.Charges)
}

// ChangeShop saves over s.Version.
func (t tx) ChangeShop(s orders.Shop) error {
	charges, err := json.Marshal(s.Charges)
	if err != nil {
		return err
	}
	row := shopRow{
		Version: s.Version + 1, Name: s.Name, Address: s.Address, Phone: s.Phone,
		Currency: s.Currency, Zone: s.Zone, Paper: string(s.Paper), Units: string(s.Units),
		Language: s.Language, RuleSet: s.RuleSet, TaxNumber: s.TaxNumber, Charges: string(charges),
	}
	if s.Located {
		row.Located = 1
	}
	return changedOne(t.db.Model(&shopRow{}).Where("id = ? AND version = ?", 1, s.Version).
		Select("*").Omit("ID").Updates(row))
}

// Ground gives what of the shop's settings its yard goes by.
func (t tx) Ground() (yard.Ground, error) {
	shop, err := t.Shop()
	return yard.Ground{Zone: shop.Zone, Units: shop.Units, RuleSet: shop.RuleSet}, err
}
