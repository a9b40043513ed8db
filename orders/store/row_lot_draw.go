package store

import (
	"fmt"
	"strconv"

	"wellstowed/orders/audits"
)

type lotDrawRow struct {
	ID     string `gorm:"primaryKey"`
	LotKey string
	Lot    string
	Size   int
	Seed   string
	Typed  int
	Person string
	At     int64
}

func (lotDrawRow) TableName() string { return "lot_draws" }

// AddLotDraw adds one draw.
func (t tx) AddLotDraw(key string, d audits.LotDraw) error {
	row := lotDrawRow{ID: d.ID, LotKey: key, Lot: d.Lot, Size: d.Size, Seed: strconv.FormatUint(d.Seed, 10), Person: d.By, At: micros(d.At)}
	if d.Typed {
		row.Typed = 1
	}
	return t.db.Create(&row).Error
}

// LotDraws gives the draws for a lot, oldest first.
func (t tx) LotDraws(key string) ([]audits.LotDraw, error) {
	var rows []lotDrawRow
	if err := t.db.Where("lot_key = ?", key).Order("at, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	draws := make([]audits.LotDraw, len(rows))
	for i, r := range rows {
		seed, err := strconv.ParseUint(r.Seed, 10, 64)
		if err != nil {
			return nil, fmt.Errorf("draw %s: %w", r.ID, err)
		}
		draws[i] = audits.LotDraw{ID: r.ID, Lot: r.Lot, Size: r.Size, Seed: seed, Typed: r.Typed == 1, By: r.Person, At: instant(r.At)}
	}
	return draws, nil
}
