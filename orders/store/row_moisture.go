package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

type moistureRow struct {
	ID       string `gorm:"primaryKey"`
	OrderID  *string
	BatchID  *string
	Readings string
	Season   string
	ReadBy   string
	ReadOn   string
	Created  int64
}

func (moistureRow) TableName() string { return "moistures" }

// Moistures gives the sets of moisture readings of an order, oldest first.
func (t tx) Moistures(orderID string) ([]yard.Moisture, error) {
	return t.moistures("order_id = ?", orderID)
}

// BatchMoistures gives those of a batch, oldest first.
func (t tx) BatchMoistures(batchID string) ([]yard.Moisture, error) {
	return t.moistures("batch_id = ?", batchID)
}

func (t tx) moistures(where, id string) ([]yard.Moisture, error) {
	var rows []moistureRow
	if err := t.db.Where(where, id).Order("created, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	sets := make([]yard.Moisture, len(rows))
	for i, r := range rows {
		set, err := r.moisture()
		if err != nil {
			return nil, fmt.Errorf("moisture readings %s: %w", r.ID, err)
		}
		sets[i] = set
	}
	return sets, nil
}

func (r moistureRow) moisture() (yard.Moisture, error) {
	m := yard.Moisture{ID: r.ID, OrderID: textOf(r.OrderID), BatchID: textOf(r.BatchID), By: r.ReadBy, Created: instant(r.Created)}
	var err error
	if m.On, err = act.ParseDate(r.ReadOn); err != nil {
		return m, err
	}
	if err := json.Unmarshal([]byte(r.Readings), &m.Readings); err != nil {
		return m, err
	}
	return m, json.Unmarshal([]byte(r.Season), &m.Season)
}

// AddMoisture adds a set of moisture readings.
func (t tx) AddMoisture(m yard.Moisture) error {
	readings, err := json.Marshal(m.Readings)
	if err != nil {
		return err
	}
	season, err := json.Marshal(m.Season)
	if err != nil {
		return err
	}
	return t.db.Create(&moistureRow{
		ID: m.ID, OrderID: orNull(m.OrderID), BatchID: orNull(m.BatchID), Readings: string(readings), Season: string(season),
		ReadBy: m.By, ReadOn: m.On.String(), Created: micros(m.Created),
	}).Error
}
