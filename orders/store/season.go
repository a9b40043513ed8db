package store

import (
	"time"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
)

// soldQuery reads loads that count with what the books need of them.
const soldQuery = `
SELECT l.*, o.number AS order_number, c.name AS customer, o.species, r.facts,
       coalesce((SELECT t.outcome FROM tallies t WHERE t.order_id = o.id ORDER BY t.look DESC LIMIT 1), '') AS outcome
FROM standing_loads l JOIN orders o ON o.id = l.order_id JOIN customers c ON c.id = o.customer_id JOIN receipts r ON r.number = l.receipt
WHERE l.delivered_on BETWEEN ? AND ?
ORDER BY l.delivered_on, l.receipt`

// soldView is a row of soldQuery.
type soldView struct {
	Row         loadRow `gorm:"embedded"`
	OrderNumber int64
	Customer    string
	Species     string
	Facts       []byte
	Outcome     string
}

// SoldLoads gives the loads that count of some days.
func (t tx) SoldLoads(from, to act.Date) ([]accounts.SoldLoad, error) {
	var views []soldView
	if err := t.db.Raw(soldQuery, from.String(), to.String()).Scan(&views).Error; err != nil {
		return nil, err
	}
	all := make([]accounts.SoldLoad, len(views))
	for i, v := range views {
		load, err := v.Row.load()
		if err != nil {
			return nil, err
		}
		all[i] = accounts.SoldLoad{Load: load, OrderNumber: v.OrderNumber, Customer: v.Customer, Species: v.Species,
			Outcome: stack.WordOf(v.Outcome), FactBytes: v.Facts}
	}
	return all, nil
}

// PaymentsOn gives the payments of some days.
func (t tx) PaymentsOn(from, to act.Date) ([]orders.Payment, error) {
	return t.paymentsOf(paymentQuery+" WHERE p.paid_on BETWEEN ? AND ? ORDER BY p.paid_on, p.created, p.id", from.String(), to.String())
}

// OrdersTaken gives the orders taken in a time.
func (t tx) OrdersTaken(from, to time.Time) ([]orders.Order, error) {
	return t.ordersOf(orderQuery+" WHERE o.created >= ? AND o.created < ? ORDER BY o.number", micros(from), micros(to))
}
