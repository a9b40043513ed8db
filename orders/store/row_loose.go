package store

import "wellstowed/orders/loose"

type looseRow struct {
	ID      string `gorm:"primaryKey"`
	Kind    string
	Typed   string
	MadeBy  string
	Created int64
}

func (looseRow) TableName() string { return "loose_readings" }

// LooseReadings are all, newest first.
func (t tx) LooseReadings() ([]loose.Reading, error) {
	var rows []looseRow
	if err := t.db.Order("created DESC, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	var all []loose.Reading
	for _, r := range rows {
		all = append(all, loose.Reading{ID: r.ID, Kind: r.Kind, Typed: r.Typed, By: r.MadeBy, Created: instant(r.Created)})
	}
	return all, nil
}

// AddLooseReading adds readings.
func (t tx) AddLooseReading(r loose.Reading) error {
	return t.db.Create(&looseRow{ID: r.ID, Kind: r.Kind, Typed: r.Typed, MadeBy: r.By, Created: micros(r.Created)}).Error
}

// DropLooseReading drops readings.
func (t tx) DropLooseReading(id string) error {
	return t.db.Where("id = ?", id).Delete(&looseRow{}).Error
}
