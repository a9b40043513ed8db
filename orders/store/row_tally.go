package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/orders"
)

type tallyRow struct {
	ID       string `gorm:"primaryKey"`
	OrderID  string
	Look     int
	Document []byte
	Result   []byte
	Model    int
	Outcome  string
	Sheet    int64
	ReadBy   string
	Created  int64
}

func (tallyRow) TableName() string { return "tallies" }

// Tallies gives the tallies of an order, oldest first.
func (t tx) Tallies(orderID string) ([]orders.Tally, error) {
	var rows []tallyRow
	if err := t.db.Where("order_id = ?", orderID).Order("look").Find(&rows).Error; err != nil {
		return nil, err
	}
	tallies := make([]orders.Tally, len(rows))
	for i, r := range rows {
		tallies[i] = orders.Tally{
			ID: r.ID, OrderID: r.OrderID, Look: r.Look, Document: r.Document, Sheet: r.Sheet, By: r.ReadBy, Created: instant(r.Created),
		}
		if err := json.Unmarshal(r.Result, &tallies[i].Result); err != nil {
			return nil, fmt.Errorf("result of sheet %d: %w", r.Sheet, err)
		}
	}
	return tallies, nil
}

// AddTally adds a tally.
func (t tx) AddTally(tally orders.Tally) error {
	result, err := json.Marshal(tally.Result)
	if err != nil {
		return err
	}
	row := tallyRow{
		ID: tally.ID, OrderID: tally.OrderID, Look: tally.Look, Document: tally.Document, Result: result,
		Model: tally.Result.Model, Sheet: tally.Sheet, ReadBy: tally.By, Created: micros(tally.Created),
	}
	if tally.Result.Finding != nil {
		row.Outcome = string(tally.Result.Finding.Word)
	}
	return t.db.Create(&row).Error
}
