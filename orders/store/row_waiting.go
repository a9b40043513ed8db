package store

import (
	"encoding/json"

	"gorm.io/gorm/clause"

	"wellstowed/orders/minute"
)

type waitingRow struct {
	OrderID string `gorm:"primaryKey"`
	Body    string
	Due     int64
}

func (waitingRow) TableName() string { return "deliveries_waiting" }

func (r waitingRow) delivery() (d minute.Delivery, err error) {
	return d, json.Unmarshal([]byte(r.Body), &d)
}

// Waiting gives the delivery of an order whose receipt is not numbered yet.
func (t tx) Waiting(orderID string) (minute.Delivery, error) {
	var r waitingRow
	if err := t.db.Where("order_id = ?", orderID).Take(&r).Error; err != nil {
		return minute.Delivery{}, missing(err, "no delivery of that order waits for its number")
	}
	return r.delivery()
}

// AllWaiting are those of all orders, first due first.
func (t tx) AllWaiting() ([]minute.Delivery, error) {
	var rows []waitingRow
	if err := t.db.Order("due, order_id").Find(&rows).Error; err != nil {
		return nil, err
	}
	all := make([]minute.Delivery, len(rows))
	for i, r := range rows {
		var err error
		if all[i], err = r.delivery(); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// KeepWaiting adds a delivery, or changes it.
func (t tx) KeepWaiting(d minute.Delivery) error {
	body, err := json.Marshal(d)
	if err != nil {
		return err
	}
	return t.db.Clauses(clause.OnConflict{UpdateAll: true}).Create(&waitingRow{OrderID: d.OrderID, Body: string(body), Due: micros(d.Due)}).Error
}

// DropWaiting takes the delivery of an order out.
func (t tx) DropWaiting(orderID string) error {
	return t.db.Delete(&waitingRow{OrderID: orderID}).Error
}
