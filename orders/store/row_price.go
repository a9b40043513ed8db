package store

import (
	"fmt"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/prices"
	"wellstowed/orders/yard"
)

type priceRow struct {
	ID          string `gorm:"primaryKey"`
	Kind        string
	Species     string
	PieceLength int64
	Seasoning   string
	Quantity    int64
	Basis       string
	Place       string
	Price       int64
	Currency    string
	FromOn      string
	Ended       int64 // 1: it isn't offered from then on
	WrittenBy   string
	Created     int64
}

func (priceRow) TableName() string { return "price_lines" }

// PriceLines gives all lines, in the order they were written down.
func (t tx) PriceLines() ([]prices.Line, error) {
	var rows []priceRow
	if err := t.db.Order("created, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	lines := make([]prices.Line, len(rows))
	for i, r := range rows {
		l, err := r.line()
		if err != nil {
			return nil, fmt.Errorf("price %s: %w", r.ID, err)
		}
		lines[i] = l
	}
	return lines, nil
}

func (r priceRow) line() (l prices.Line, err error) {
	l = prices.Line{
		ID: r.ID, Price: money.Money{Minor: r.Price, Currency: r.Currency}, Ended: r.Ended != 0, By: r.WrittenBy, Created: instant(r.Created),
		Item: prices.Item{
			Kind: prices.Kind(r.Kind), Species: r.Species, PieceLength: measure.Length(r.PieceLength), Seasoning: yard.Seasoning(r.Seasoning),
			Per: measure.Quantity{Volume: measure.Volume(r.Quantity), Basis: measure.Basis(r.Basis)}, Place: r.Place,
		},
	}
	l.From, err = act.ParseDate(r.FromOn)
	return l, err
}

// AddPriceLine adds a line.
func (t tx) AddPriceLine(l prices.Line) error {
	row := priceRow{
		ID: l.ID, Kind: string(l.Kind), Species: l.Species, PieceLength: int64(l.PieceLength), Seasoning: string(l.Seasoning),
		Quantity: int64(l.Per.Volume), Basis: string(l.Per.Basis), Place: l.Place, Price: l.Price.Minor, Currency: l.Price.Currency,
		FromOn: l.From.String(), WrittenBy: l.By, Created: micros(l.Created),
	}
	if l.Ended {
		row.Ended = 1
	}
	return t.db.Create(&row).Error
}

// Market gives what of the shop's settings its prices go by.
func (t tx) Market() (prices.Market, error) {
	shop, err := t.Shop()
	return prices.Market{Zone: shop.Zone, Units: shop.Units, RuleSet: shop.RuleSet, Currency: shop.Currency, Located: shop.Located}, err
}
