package store

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/money"
	"wellstowed/orders/spoken"
	"wellstowed/orders/yard"
)

// orderQuery reads orders with their customers and where they stand: what was
// delivered and found is looked up by index, one order at a time.
const orderQuery = `
SELECT o.id, o.number, o.version, o.customer_id, o.words, o.quantity, o.basis, o.species, o.origin, o.certificate, o.piece_length,
       o.seasoning, o.split, o.stacking, o.currency, o.per_cord, o.per_unit, o.price_unit, o.wood, o.fees, o.tax, o.distance, o.deposit, o.notes, o.day_from, o.day_to, o.day_part, o.day_after, o.day_before, o.set_aside, o.cancelled, o.created, o.changed,
       c.version AS customer_version, c.name AS customer_name, c.address AS customer_address,
       c.phone AS customer_phone, c.print_name, c.print_address, coalesce(c.record_id, '') AS record,
       coalesce((SELECT sum(l.quantity) FROM standing_loads l WHERE l.order_id = o.id), 0) AS delivered,
       coalesce((SELECT t.outcome FROM tallies t WHERE t.order_id = o.id ORDER BY t.look DESC LIMIT 1), '') AS outcome,
       EXISTS (SELECT 1 FROM tallies t WHERE t.order_id = o.id) AS tallied,
       (SELECT e.at FROM erased_records x JOIN erasures e ON e.id = x.erasure_id WHERE x.kind = 'order' AND x.id = o.id) AS erased
FROM orders o JOIN customers c ON c.id = o.customer_id`

// orderView is a row of orderQuery.
type orderView struct {
	Row             orderRow `gorm:"embedded"`
	CustomerVersion int64
	CustomerName    string
	CustomerAddress string
	CustomerPhone   string
	PrintName       string
	PrintAddress    string
	Record          string
	Delivered       int64
	Outcome         string
	Tallied         int64
	Erased          *int64
}

func (v orderView) order() (orders.Order, error) {
	price, err := v.Row.price()
	if err != nil {
		return orders.Order{}, err
	}
	when, err := v.Row.day()
	return orders.Order{
		ID: v.Row.ID, Number: v.Row.Number, Version: v.Row.Version, Customer: v.customer(), Words: v.Row.Words,
		Quantity: v.Row.quantity(), Species: v.Row.Species, Origin: v.Row.Origin, Certificate: v.Row.Certificate, PieceLength: measure.Length(v.Row.PieceLength),
		Seasoning: yard.Seasoning(v.Row.Seasoning), Split: spoken.SplitSize(v.Row.Split), Stacking: spoken.Stack(v.Row.Stacking), Price: price, Distance: measure.Length(v.Row.Distance),
		Deposit: money.Money{Minor: v.Row.Deposit, Currency: v.Row.Currency}, Notes: v.Row.Notes, Day: when, SetAside: v.Row.SetAside,
		State: v.state(), Outcome: stack.WordOf(v.Outcome), Created: instant(v.Row.Created), Changed: instant(v.Row.Changed),
		Erased: instantOrZero(v.Erased),
	}, err
}

func (v orderView) customer() orders.Customer {
	return orders.Customer{
		ID: v.Row.CustomerID, Version: v.CustomerVersion, Name: v.CustomerName, Address: v.CustomerAddress,
		Phone: v.CustomerPhone, PrintName: v.PrintName, PrintAddress: v.PrintAddress, Record: v.Record,
	}
}

// state is where the order stands by what has happened to it. An order measured
// before all of it left is still to be delivered.
func (v orderView) state() orders.State {
	switch {
	case v.Row.Cancelled != nil:
		return orders.Cancelled
	case v.Delivered == 0:
		return orders.Taken
	case v.Delivered < v.Row.Quantity:
		return orders.PartLoad
	case v.Tallied != 0:
		return orders.Measured
	}
	return orders.Delivered
}
