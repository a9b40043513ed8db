package store

import (
	"encoding/json"
	"fmt"
	"time"

	"gorm.io/gorm"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/day"
	"wellstowed/orders/money"
)

type orderRow struct {
	ID          string `gorm:"primaryKey"`
	Number      int64
	Version     int64
	CustomerID  string
	Words       string
	Quantity    int64
	Basis       string
	Species     string
	Origin      string
	Certificate string
	PieceLength int64
	Seasoning   string
	Split       string
	Stacking    string
	Currency    string
	PerCord     *int64
	PerUnit     *int64
	PriceUnit   string
	Wood        int64
	Fees        string
	Tax         string
	Distance    int64
	Deposit     int64
	Notes       string
	DayFrom     string
	DayTo       string
	DayPart     string
	DayAfter    string
	DayBefore   string
	SetAside    string
	Cancelled   *int64
	Created     int64
	Changed     int64
}

func (orderRow) TableName() string { return "orders" }

// feeRow is one of the fees in the column of that name.
type feeRow struct {
	Kind  string              `json:"kind"`
	Words string              `json:"words,omitempty"`
	Minor int64               `json:"minor"`
	Basis *orders.ChargeBasis `json:"basis,omitempty"`
}

// Order gives one order.
func (t tx) Order(id string) (orders.Order, error) {
	var v orderView
	err := t.db.Raw(orderQuery+" WHERE o.id = ?", id).Take(&v).Error
	if err != nil {
		return orders.Order{}, missing(err, "that order isn’t here")
	}
	return v.order()
}

// Orders gives a page of orders in one query, by key.
func (t tx) Orders(before int64, limit int) ([]orders.Order, error) {
	return t.ordersOf(orderQuery+" WHERE o.number < ? ORDER BY o.number DESC LIMIT ?", before, limit)
}

// ordersOf are the orders that a query gives.
func (t tx) ordersOf(query string, args ...any) ([]orders.Order, error) {
	var views []orderView
	if err := t.db.Raw(query, args...).Scan(&views).Error; err != nil {
		return nil, err
	}
	list := make([]orders.Order, len(views))
	for i, v := range views {
		var err error
		if list[i], err = v.order(); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// openQuery reads the orders that may have something left to do. What a finished order's
// receipts ask for is its price, and a settlement may give some of it back, so that money
// is owed only where what was paid is not the price, or something was given.
func (d dialect) openQuery() string {
	return `
SELECT v.* FROM (` + orderQuery + `) v
WHERE v.erased IS NULL AND CASE WHEN v.cancelled IS NOT NULL
  THEN v.deposit + (SELECT coalesce(sum(p.amount), 0) FROM payments p WHERE p.order_id = v.id) <> 0
  ELSE v.delivered < v.quantity OR v.outcome IN ('short', 'unresolved')
    OR EXISTS (SELECT 1 FROM settlements s WHERE s.order_id = v.id)
    OR v.deposit + (SELECT coalesce(sum(p.amount), 0) FROM payments p WHERE p.order_id = v.id)
      <> v.wood + (SELECT coalesce(sum(` + whole64(d.member("e.j", "minor")) + `), 0) FROM ` + d.elements("v.fees") + `)
         + CASE WHEN v.tax = '' THEN 0 ELSE coalesce(` + whole64(d.member("v.tax", "amount", "minor")) + `, 0) END
  END
ORDER BY v.number`
}

// CustomerOrders gives the orders of a customer's record, newest first.
func (t tx) CustomerOrders(record string) ([]orders.Order, error) {
	return t.ordersOf(orderQuery+" WHERE c.record_id = ? ORDER BY o.number DESC", record)
}

// OpenOrders gives the orders that may have something left to do.
func (t tx) OpenOrders() ([]orders.Order, error) { return t.ordersOf(t.says.openQuery()) }

// AddOrder adds an order.
func (t tx) AddOrder(o orders.Order) error {
	row, err := orderRowOf(o)
	if err != nil {
		return err
	}
	return t.db.Create(&row).Error
}

// ChangeOrder saves over o.Version; number, customer, cancelled and created stay.
func (t tx) ChangeOrder(o orders.Order) error {
	row, err := orderRowOf(o)
	if err != nil {
		return err
	}
	row.Version++
	return changedOne(t.orderAt(o.ID, o.Version).
		Select("*").Omit("ID", "Number", "CustomerID", "Cancelled", "Created").Updates(row))
}

// CancelOrder marks an order cancelled.
func (t tx) CancelOrder(id string, version int64, at time.Time) error {
	now := micros(at)
	return changedOne(t.orderAt(id, version).
		Select("Version", "Cancelled", "Changed").Updates(orderRow{Version: version + 1, Cancelled: &now, Changed: now}))
}

func (t tx) orderAt(id string, version int64) *gorm.DB {
	return t.db.Model(&orderRow{}).Where("id = ? AND version = ?", id, version)
}

func orderRowOf(o orders.Order) (orderRow, error) {
	fees := make([]feeRow, len(o.Price.Fees))
	for i, f := range o.Price.Fees {
		fees[i] = feeRow{Kind: string(f.Kind), Words: f.Words, Minor: f.Amount.Minor, Basis: f.Basis}
	}
	encoded, err := json.Marshal(fees)
	if err != nil {
		return orderRow{}, err
	}
	tax, err := taxColumn(o.Price.Tax)
	if err != nil {
		return orderRow{}, err
	}
	row := orderRow{
		Tax: tax, Distance: int64(o.Distance),
		ID: o.ID, Number: o.Number, Version: o.Version, CustomerID: o.Customer.ID, Words: o.Words,
		Quantity: int64(o.Quantity.Volume), Basis: string(o.Quantity.Basis), Species: o.Species, Origin: o.Origin, Certificate: o.Certificate,
		PieceLength: int64(o.PieceLength), Seasoning: string(o.Seasoning), Split: string(o.Split), Stacking: string(o.Stacking),
		Currency: o.Price.Wood.Currency, Wood: o.Price.Wood.Minor, Fees: string(encoded),
		Deposit: o.Deposit.Minor, Notes: o.Notes, Created: micros(o.Created), Changed: micros(o.Changed),
		DayFrom: o.Day.From.String(), DayTo: o.Day.To.String(), DayPart: o.Day.Part, DayAfter: o.Day.After, DayBefore: o.Day.Before, SetAside: o.SetAside,
	}
	if o.Price.PerCord.Currency != "" {
		row.PerCord = &o.Price.PerCord.Minor
	}
	if o.Price.PerUnit.Currency != "" {
		row.PerUnit, row.PriceUnit = &o.Price.PerUnit.Minor, string(o.Price.Unit)
	}
	return row, nil
}

func (r orderRow) price() (orders.Price, error) {
	p := orders.Price{Wood: money.Money{Minor: r.Wood, Currency: r.Currency}}
	if r.PerCord != nil {
		p.PerCord = money.Money{Minor: *r.PerCord, Currency: r.Currency}
	}
	if r.PerUnit != nil {
		p.PerUnit, p.Unit = money.Money{Minor: *r.PerUnit, Currency: r.Currency}, rules.UnitCode(r.PriceUnit)
	}
	if r.Tax != "" {
		if err := json.Unmarshal([]byte(r.Tax), &p.Tax); err != nil {
			return orders.Price{}, fmt.Errorf("tax of order %d: %w", r.Number, err)
		}
	}
	var fees []feeRow
	if err := json.Unmarshal([]byte(r.Fees), &fees); err != nil {
		return orders.Price{}, fmt.Errorf("fees of order %d: %w", r.Number, err)
	}
	for _, f := range fees {
		p.Fees = append(p.Fees, orders.PriceLine{
			Kind: orders.LineKind(f.Kind), Words: f.Words, Amount: money.Money{Minor: f.Minor, Currency: r.Currency}, Basis: f.Basis,
		})
	}
	return p, nil
}

// taxColumn is a tax as stored, empty for none.
func taxColumn(t *orders.Tax) (string, error) {
	if t == nil {
		return "", nil
	}
	b, err := json.Marshal(t)
	return string(b), err
}

func (r orderRow) quantity() measure.Quantity {
	return measure.Quantity{Volume: measure.Volume(r.Quantity), Basis: measure.Basis(r.Basis)}
}

// day is when the order is to be delivered.
func (r orderRow) day() (s day.Span, err error) {
	s.Hours = day.Hours{Part: r.DayPart, After: r.DayAfter, Before: r.DayBefore}
	if err = s.From.UnmarshalText([]byte(r.DayFrom)); err == nil {
		err = s.To.UnmarshalText([]byte(r.DayTo))
	}
	if err != nil {
		err = fmt.Errorf("day of order %d: %w", r.Number, err)
	}
	return s, err
}
