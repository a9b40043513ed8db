package accounts

import (
	"context"
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
)

// Books are all that a shop wrote down over some days, for its accountant.
type Books struct {
	From, To  act.Date
	Zone      string
	Orders    []orders.Order // taken on these days
	Balances  map[string]orders.Balance
	Loads     []SoldLoad             // delivered on these days, of receipts that count
	Receipts  []orders.StoredReceipt // issued on these days, also those that no longer count; without papers
	Payments  []orders.Payment
	Of        map[string]orders.Order // the orders of the payments
	Customers []customers.Record
}

// A BooksRequest is the days of the books as typed: "2026-01-01"; both empty for this year
// so far.
type BooksRequest struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// Books gives the books of some days. It is Invalid where a day is not understood or the
// last comes before the first.
func (s *Service) Books(ctx context.Context, who act.Actor, r BooksRequest) (b Books, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return Books{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		shop, err := tx.Shop()
		if err != nil {
			return err
		}
		b.Zone = shop.Zone
		if b.From, b.To, err = r.days(act.DayIn(s.now(), shop.Zone)); err != nil {
			return err
		}
		return b.read(tx)
	})
	return b, act.Fail(err)
}

// days reads the days.
func (r BooksRequest) days(today act.Date) (from, to act.Date, err error) {
	var in act.Fields
	from, to = act.Date{Year: today.Year, Month: time.January, Day: 1}, today
	for _, f := range []struct {
		name, typed string
		day         *act.Date
	}{{"from", r.From, &from}, {"to", r.To, &to}} {
		if f.typed == "" {
			continue
		}
		read, err := act.ParseDate(f.typed)
		if in.Parsed(f.name, err) {
			*f.day = read
		}
	}
	if len(in.Faults) == 0 && from.After(to) {
		in.Add("to", "too-early", r.To, measure.Say("it comes before the first day"), measure.Say("%s or later", from.String()))
	}
	return from, to, in.Err()
}

func (b *Books) read(tx Tx) (err error) {
	from, to := startOf(b.From, b.Zone), startOf(b.To.AddDays(1), b.Zone)
	if b.Orders, err = tx.OrdersTaken(from, to); err != nil {
		return err
	}
	if b.Balances, err = orders.Balances(tx, b.Orders); err != nil {
		return err
	}
	if b.Loads, err = tx.SoldLoads(b.From, b.To); err != nil {
		return err
	}
	if b.Receipts, err = tx.ReceiptsIssued(from, to); err != nil {
		return err
	}
	if b.Payments, err = tx.PaymentsOn(b.From, b.To); err != nil {
		return err
	}
	b.Of = map[string]orders.Order{}
	for _, p := range b.Payments {
		if _, known := b.Of[p.OrderID]; known {
			continue
		}
		if b.Of[p.OrderID], err = tx.Order(p.OrderID); err != nil {
			return err
		}
	}
	b.Customers, err = tx.CustomerRecords()
	return err
}

// startOf is when a day begins in a zone.
func startOf(d act.Date, zone string) time.Time {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	return time.Date(d.Year, d.Month, d.Day, 0, 0, 0, 0, place).UTC()
}
