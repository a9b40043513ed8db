// Package accounts adds up what a shop sold and took in: the season from July on, and the books
// of some days for its accountant.
package accounts

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// A season begins with July: what is sold from then on is for the winter after it.
const seasonBegins = time.July

// Tx is one transaction on the books.
type Tx interface {
	orders.Tx
	Store
}

// A Service adds up what a shop sold and took in. It writes nothing.
type Service struct {
	store act.Store[Tx]
	now   func() time.Time
}

// New makes a Service over a store and a clock.
func New(store act.Store[Tx], clock func() time.Time) *Service {
	return &Service{store: store, now: act.Clock(clock)}
}

// Store reads the books over a time.
type Store interface {
	// SoldLoads are the loads that count and were delivered on these days, oldest first.
	SoldLoads(from, to act.Date) ([]SoldLoad, error)
	// PaymentsOn are the payments of these days, oldest first.
	PaymentsOn(from, to act.Date) ([]orders.Payment, error)
	// OrdersTaken are the orders taken from one instant until before another, oldest first.
	OrdersTaken(from, to time.Time) ([]orders.Order, error)
	// ReceiptsIssued are the receipts issued from one instant until before another, in
	// order, as OrderReceipts gives them.
	ReceiptsIssued(from, to time.Time) ([]orders.StoredReceipt, error)
}

// A SoldLoad is wood that was delivered, with what the books need of its order and receipt.
type SoldLoad struct {
	yard.Load
	OrderNumber int64
	Customer    string // name as it was ordered under
	Species     string
	Outcome     stack.Word // of the latest measurement of its order; empty where there is none
	FactBytes   []byte     // of its receipt
}

// A Season is the books of a shop from July on, with the season before beside them.
type Season struct {
	From  act.Date       `json:"from"`
	Today act.Date       `json:"today"`
	Sold  []SoldMonth    `json:"sold"`  // from July to June
	Woods []SoldSpecies  `json:"woods"` // of this season, the most first
	Loads MeasuredLoads  `json:"loads"`
	In    money.Money    `json:"in"`     // payments and deposits, less what was given back
	Due   money.Money    `json:"unpaid"` // by all orders, whenever they were taken
	Ages  []UnpaidAge    `json:"ages"`
	Taxes []TaxPeriod    `json:"taxes"`
	Again []LastYearsOne `json:"again"`
}

// A SoldMonth is what was delivered in a month, by basis, and in the same month a year
// before.
type SoldMonth struct {
	Month time.Month         `json:"month"`
	Now   []measure.Quantity `json:"now"`
	Last  []measure.Quantity `json:"last"`
}

// A SoldSpecies is what was delivered of one wood, as it was ordered.
type SoldSpecies struct {
	Species string             `json:"species"`
	Wood    []measure.Quantity `json:"wood"`
	Loads   int                `json:"loads"`
}

// MeasuredLoads are how many loads went out this season, and what came of those whose
// order was measured.
type MeasuredLoads struct {
	Loads      int `json:"loads"`
	Measured   int `json:"measured"`
	Short      int `json:"short"`
	Unresolved int `json:"unresolved"`
}

// An UnpaidAge is what is owed on orders whose last load came so many days ago.
type UnpaidAge struct {
	Days   int         `json:"days"` // at least
	Orders int         `json:"orders"`
	Due    money.Money `json:"due"`
}

// unpaidAges are the ages that what is owed is told by, in days.
func unpaidAges() []int { return []int{0, 14, 31, 61} }

// A TaxPeriod is what receipts of a quarter of a year asked for under one tax and rate;
// those without tax have no name.
type TaxPeriod struct {
	Year    int         `json:"year"`
	Quarter int         `json:"quarter"` // 1 to 4
	Name    string      `json:"name"`
	Rate    money.Rate  `json:"rate"` // millionths
	Net     money.Money `json:"net"`  // all before tax
	Taxable money.Money `json:"taxable"`
	Tax     money.Money `json:"tax"`
}

// A LastYearsOne is somebody who ordered last year about now, and not since.
type LastYearsOne struct {
	Order orders.Order `json:"order"` // the one of then
}

// aboutNow is how far before and after this day a year ago somebody ordered about now;
// lately is how long somebody who ordered needs no reminder.
const (
	beforeNow = 21 * 24 * time.Hour
	afterNow  = 42 * 24 * time.Hour
	lately    = 200 * 24 * time.Hour
)

// Season gives the books from the last July on.
func (s *Service) Season(ctx context.Context, who act.Actor) (out Season, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return Season{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		out, err = s.season(tx)
		return err
	})
	return out, act.Fail(err)
}

func (s *Service) season(tx Tx) (Season, error) {
	shop, err := tx.Shop()
	if err != nil {
		return Season{}, err
	}
	now := s.now()
	out := Season{Today: act.DayIn(now, shop.Zone), In: money.Money{Currency: shop.Currency}, Due: money.Money{Currency: shop.Currency}}
	out.From = seasonOf(out.Today)
	loads, err := tx.SoldLoads(yearBefore(out.From), out.Today)
	if err != nil {
		return out, err
	}
	out.sell(loads)
	if err := out.tax(loads); err != nil {
		return out, err
	}
	if err := out.owe(tx); err != nil {
		return out, err
	}
	taken, err := tx.OrdersTaken(now.AddDate(-1, 0, 0).Add(-beforeNow), now.Add(time.Microsecond))
	if err != nil {
		return out, err
	}
	out.Again = lastYears(taken, now)
	return out, out.takeIn(tx, taken, shop.Zone)
}

// seasonOf is the first day of the season of a day.
func seasonOf(day act.Date) act.Date {
	from := act.Date{Year: day.Year, Month: seasonBegins, Day: 1}
	if from.After(day) {
		from.Year--
	}
	return from
}

func yearBefore(day act.Date) act.Date {
	return act.Date{Year: day.Year - 1, Month: day.Month, Day: day.Day}
}

// sell counts what was delivered.
func (out *Season) sell(loads []SoldLoad) {
	for i := range 12 {
		out.Sold = append(out.Sold, SoldMonth{Month: (seasonBegins-1+time.Month(i))%12 + 1, Now: []measure.Quantity{}, Last: []measure.Quantity{}})
	}
	woods := map[string]*SoldSpecies{}
	for _, l := range loads {
		month := &out.Sold[(l.On.Month-seasonBegins+12)%12]
		if out.From.After(l.On) {
			month.Last = orders.AddQuantity(month.Last, l.Delivered)
			continue
		}
		month.Now = orders.AddQuantity(month.Now, l.Delivered)
		out.Loads.count(l.Outcome)
		key := strings.ToLower(l.Species)
		if woods[key] == nil {
			woods[key] = &SoldSpecies{Species: l.Species}
		}
		woods[key].Wood = orders.AddQuantity(woods[key].Wood, l.Delivered)
		woods[key].Loads++
	}
	for _, w := range woods {
		out.Woods = append(out.Woods, *w)
	}
	slices.SortFunc(out.Woods, func(a, b SoldSpecies) int {
		return cmp.Or(cmp.Compare(b.Wood[0].Volume, a.Wood[0].Volume), strings.Compare(a.Species, b.Species))
	})
}

func (m *MeasuredLoads) count(found stack.Word) {
	m.Loads++
	switch found {
	case "":
		return
	case stack.Short:
		m.Short++
	case stack.Unresolved:
		m.Unresolved++
	}
	m.Measured++
}

// tax adds up what this season's receipts asked for.
func (out *Season) tax(loads []SoldLoad) error {
	for _, l := range loads {
		if out.From.After(l.On) {
			continue
		}
		var facts struct {
			Price orders.Price `json:"price"`
		}
		if err := json.Unmarshal(l.FactBytes, &facts); err != nil {
			return fmt.Errorf("facts of receipt %d: %w", l.Receipt, err)
		}
		p := facts.Price
		row := TaxPeriod{Year: l.On.Year, Quarter: (int(l.On.Month)-1)/3 + 1, Net: p.Net(), Taxable: money.Money{Currency: p.Wood.Currency}, Tax: money.Money{Currency: p.Wood.Currency}}
		if p.Tax != nil && p.Tax.Exempt == "" {
			row.Name, row.Rate, row.Taxable, row.Tax = p.Tax.Name, p.Tax.Rate, p.Tax.Taxable, p.Tax.Amount
		}
		out.addTax(row)
	}
	slices.SortStableFunc(out.Taxes, func(a, b TaxPeriod) int {
		return cmp.Or(cmp.Compare(a.Year, b.Year), cmp.Compare(a.Quarter, b.Quarter), strings.Compare(b.Name, a.Name), cmp.Compare(a.Rate, b.Rate))
	})
	return nil
}

func (out *Season) addTax(row TaxPeriod) {
	i := slices.IndexFunc(out.Taxes, func(t TaxPeriod) bool {
		return t.Year == row.Year && t.Quarter == row.Quarter && t.Name == row.Name && t.Rate == row.Rate && t.Net.Currency == row.Net.Currency
	})
	if i < 0 {
		out.Taxes = append(out.Taxes, row)
		return
	}
	t := &out.Taxes[i]
	t.Net, t.Taxable, t.Tax = t.Net.Add(row.Net), t.Taxable.Add(row.Taxable), t.Tax.Add(row.Tax)
}

// owe adds up what is unpaid, by how long ago the last load came.
func (out *Season) owe(tx Tx) error {
	for _, days := range unpaidAges() {
		out.Ages = append(out.Ages, UnpaidAge{Days: days, Due: money.Money{Currency: out.Due.Currency}})
	}
	stops, err := orders.OpenStops(tx, out.Today)
	for _, stop := range stops {
		if stop.Balance.Due.Minor <= 0 || stop.Balance.Due.Currency != out.Due.Currency {
			continue
		}
		days := 0
		if last := stop.Last; last != (act.Date{}) {
			days = last.DaysTo(out.Today)
		}
		i := len(out.Ages) - 1
		for i > 0 && days < out.Ages[i].Days {
			i--
		}
		out.Ages[i].Orders++
		out.Ages[i].Due = out.Ages[i].Due.Add(stop.Balance.Due)
		out.Due = out.Due.Add(stop.Balance.Due)
	}
	return err
}

// takeIn adds up the money that came in: payments by their day, and deposits by the day
// their order was taken.
func (out *Season) takeIn(tx Tx, taken []orders.Order, zone string) error {
	payments, err := tx.PaymentsOn(out.From, out.Today)
	for _, p := range payments {
		if p.Amount.Currency == out.In.Currency {
			out.In = out.In.Add(p.Amount)
		}
	}
	for _, o := range taken {
		if !out.From.After(act.DayIn(o.Created, zone)) && o.Deposit.Currency == out.In.Currency {
			out.In = out.In.Add(o.Deposit)
		}
	}
	return err
}

// lastYears are those who ordered about now a year ago and not lately, of orders in the
// order they were taken.
func lastYears(taken []orders.Order, now time.Time) (again []LastYearsOne) {
	year := now.AddDate(-1, 0, 0)
	ordered := map[string]bool{}
	for _, o := range taken {
		if o.State != orders.Cancelled && now.Sub(o.Created) < lately {
			ordered[o.Customer.Record] = true
		}
	}
	for _, o := range slices.Backward(taken) {
		about := o.Created.After(year.Add(-beforeNow)) && o.Created.Before(year.Add(afterNow))
		if !about || o.State == orders.Cancelled || o.Customer.Record == "" || ordered[o.Customer.Record] {
			continue
		}
		ordered[o.Customer.Record] = true // once
		again = append(again, LastYearsOne{o})
	}
	slices.Reverse(again)
	return again
}
