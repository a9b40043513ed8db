package store

import (
	"fmt"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

type loadRow struct {
	ID          string `gorm:"primaryKey"`
	OrderID     string
	Quantity    int64
	Basis       string
	DeliveredOn string
	Receipt     int64
	BatchID     *string
	Created     int64
}

func (loadRow) TableName() string { return "loads" }

// Loads gives the loads of an order that count, oldest first.
func (t tx) Loads(orderID string) ([]yard.Load, error) {
	var rows []loadRow
	if err := t.db.Table("standing_loads").Where("order_id = ?", orderID).Order("receipt").Find(&rows).Error; err != nil {
		return nil, err
	}
	loads := make([]yard.Load, len(rows))
	for i, r := range rows {
		load, err := r.load()
		if err != nil {
			return nil, err
		}
		loads[i] = load
	}
	return loads, nil
}

func (r loadRow) load() (yard.Load, error) {
	on, err := act.ParseDate(r.DeliveredOn)
	if err != nil {
		return yard.Load{}, fmt.Errorf("load of receipt %d: %w", r.Receipt, err)
	}
	return yard.Load{
		ID: r.ID, OrderID: r.OrderID, On: on, Receipt: r.Receipt, Batch: textOf(r.BatchID), Created: instant(r.Created),
		Delivered: measure.Quantity{Volume: measure.Volume(r.Quantity), Basis: measure.Basis(r.Basis)},
	}, nil
}

// AddLoad adds a load.
func (t tx) AddLoad(l yard.Load) error {
	return t.db.Create(&loadRow{
		ID: l.ID, OrderID: l.OrderID, Quantity: int64(l.Delivered.Volume), Basis: string(l.Delivered.Basis),
		DeliveredOn: l.On.String(), Receipt: l.Receipt, BatchID: orNull(l.Batch), Created: micros(l.Created),
	}).Error
}
