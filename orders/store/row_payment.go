package store

import (
	"fmt"
	"time"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

type paymentRow struct {
	ID        string `gorm:"primaryKey"`
	OrderID   string
	Amount    int64
	Currency  string
	Method    string
	Reference string
	PaidOn    string
	Reverses  *string
	Reason    string
	Person    string
	Created   int64
}

func (paymentRow) TableName() string { return "payments" }

type copyRow struct {
	PaymentID  string `gorm:"primaryKey"`
	ReceivedOn string
	Person     string
	Created    int64
}

func (copyRow) TableName() string { return "payment_copies" }

const paymentQuery = `
SELECT p.*, coalesce(c.received_on, '') AS received_on
FROM payments p LEFT JOIN payment_copies c ON c.payment_id = p.id`

// paymentView is a row of paymentQuery.
type paymentView struct {
	Row        paymentRow `gorm:"embedded"`
	ReceivedOn string
}

// Payment gives one payment.
func (t tx) Payment(id string) (orders.Payment, error) {
	var v paymentView
	if err := t.db.Raw(paymentQuery+" WHERE p.id = ?", id).Take(&v).Error; err != nil {
		return orders.Payment{}, missing(err, "that payment isn’t here")
	}
	return v.payment()
}

// Payments gives the payments of an order, as they were written down.
func (t tx) Payments(orderID string) ([]orders.Payment, error) {
	return t.paymentsOf(paymentQuery+" WHERE p.order_id = ? ORDER BY p.created, p.id", orderID)
}

// paymentsOf are the payments that a query gives.
func (t tx) paymentsOf(query string, args ...any) ([]orders.Payment, error) {
	var views []paymentView
	err := t.db.Raw(query, args...).Scan(&views).Error
	if err != nil {
		return nil, err
	}
	payments := make([]orders.Payment, len(views))
	for i, v := range views {
		if payments[i], err = v.payment(); err != nil {
			return nil, err
		}
	}
	return payments, nil
}

func (v paymentView) payment() (orders.Payment, error) {
	r := v.Row
	p := orders.Payment{
		ID: r.ID, OrderID: r.OrderID, Amount: money.Money{Minor: r.Amount, Currency: r.Currency},
		Method: orders.PaymentMethod(r.Method), Reference: r.Reference, Reason: r.Reason, By: r.Person, Created: instant(r.Created),
	}
	if r.Reverses != nil {
		p.Reverses = *r.Reverses
	}
	var err error
	if p.On, err = act.ParseDate(r.PaidOn); err != nil {
		return p, fmt.Errorf("payment %s: %w", r.ID, err)
	}
	if v.ReceivedOn != "" {
		p.CopyOn, err = act.ParseDate(v.ReceivedOn)
	}
	return p, err
}

// AddPayment adds a payment.
func (t tx) AddPayment(p orders.Payment) error {
	row := paymentRow{
		ID: p.ID, OrderID: p.OrderID, Amount: p.Amount.Minor, Currency: p.Amount.Currency, Method: string(p.Method),
		Reference: p.Reference, PaidOn: p.On.String(), Reason: p.Reason, Person: p.By, Created: micros(p.Created),
	}
	if p.Reverses != "" {
		row.Reverses = &p.Reverses
	}
	return t.db.Create(&row).Error
}

// ReceiveCopy adds the signed copy of a voucher.
func (t tx) ReceiveCopy(paymentID string, on act.Date, by string, at time.Time) error {
	return t.db.Create(&copyRow{PaymentID: paymentID, ReceivedOn: on.String(), Person: by, Created: micros(at)}).Error
}

// askingQuery reads the receipts that hold: one that was corrected or made void asks
// for nothing, nor does the one that voids it.
const askingQuery = `
SELECT r.order_id, r.number, r.facts FROM receipts r
LEFT JOIN receipts e ON e.of_receipt = r.number AND e.kind IN ('correction', 'void')
WHERE r.order_id IN ? AND r.kind <> 'void' AND e.number IS NULL
ORDER BY r.number`

// Ledgers gives what is asked for and paid on orders, in two queries.
func (t tx) Ledgers(orderIDs []string) (map[string]orders.Ledger, error) {
	all := map[string]orders.Ledger{}
	var receipts []struct {
		OrderID string
		Number  int64
		Facts   []byte
	}
	err := t.db.Raw(askingQuery, orderIDs).Scan(&receipts).Error
	if err != nil {
		return nil, err
	}
	for _, r := range receipts {
		a := all[r.OrderID]
		a.Receipts = append(a.Receipts, orders.StoredFacts{Number: r.Number, Bytes: r.Facts})
		all[r.OrderID] = a
	}
	var sums []struct {
		OrderID string
		Paid    int64
	}
	err = t.db.Raw(`SELECT order_id, sum(amount) AS paid FROM payments WHERE order_id IN ? GROUP BY order_id`, orderIDs).Scan(&sums).Error
	for _, sum := range sums {
		a := all[sum.OrderID]
		a.Paid = sum.Paid
		all[sum.OrderID] = a
	}
	return all, err
}
