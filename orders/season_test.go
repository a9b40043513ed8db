package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
)

// on does something on another day, at noon.
func (y *sellerYard) on(year int, month time.Month, day int, do func()) {
	was := y.now
	y.now = time.Date(year, month, day, 16, 0, 0, 0, time.UTC)
	do()
	y.now = was
}

func (y *sellerYard) season() accounts.Season {
	y.t.Helper()
	s, err := y.Season(y.ctx, owner)
	require.NoError(y.t, err)
	return s
}

// A small shop over two seasons, added up by hand.
func TestSeasonAddedUpByHand(t *testing.T) {
	y := newYard(t)
	sell := func(who string) orders.Order {
		o := y.takeOf(who, "1 "+who+" Lane", "")
		y.deliver(o.ID, orders.LoadRequest{})
		return o
	}
	y.on(2026, time.September, 30, func() { sell("Ada Quill") })
	y.on(2026, time.December, 2, func() { sell("Bo Lund") }) // about now a year ago
	y.on(2026, time.December, 20, func() { sell("Ira Fenn") })
	y.on(2027, time.June, 30, func() { sell("Cy Reed") }) // still last season
	var paid, owed orders.Order
	y.on(2027, time.July, 1, func() {
		paid = sell("Ada Quill")
		y.pay(paid.ID, orders.PaymentRequest{Amount: "100", Method: "cash"})
	})
	y.on(2027, time.October, 9, func() { owed = sell("Ira Fenn") })
	y.on(2027, time.October, 10, func() {
		void := sell("Dee Holt")
		y.void(y.history(void.ID).Receipts[0].Number, "The load came back")
	})
	y.now = time.Date(2027, 11, 28, 16, 0, 0, 0, time.UTC)
	one := paid.Quantity
	s := y.season()
	assert.Equal(t, "2027-07-01", s.From.String())
	want := map[time.Month][2]int{time.July: {1, 0}, time.September: {0, 1}, time.October: {1, 0}, time.December: {0, 2}, time.June: {0, 1}}
	require.Len(t, s.Sold, 12)
	assert.Equal(t, time.July, s.Sold[0].Month)
	for _, m := range s.Sold {
		for i, list := range [][]measure.Quantity{m.Now, m.Last} {
			var sum measure.Volume
			for _, q := range list {
				sum += q.Volume
			}
			assert.Equal(t, one.Volume*measure.Volume(want[m.Month][i]), sum, "%s", m.Month)
		}
	}
	assert.Equal(t, accounts.MeasuredLoads{Loads: 2}, s.Loads, "a void load doesn’t count")
	assert.Equal(t, "100.00", s.In.Amount())
	total := owed.Price.Total().Minor
	assert.Equal(t, 5*total+total-100_00, s.Due.Minor, "six loads, of one 100 was paid")
	var ages []int
	for _, a := range s.Ages {
		ages = append(ages, a.Orders)
	}
	assert.Equal(t, []int{0, 0, 1, 5}, ages, "October’s is 50 days old, the rest older than 60")
	require.Len(t, s.Again, 1, "Ira ordered since, Ada not about now")
	assert.Equal(t, "Bo Lund", s.Again[0].Order.Customer.Name)
	require.Len(t, s.Taxes, 2)
	assert.Equal(t, [3]any{2027, 3, ""}, [3]any{s.Taxes[0].Year, s.Taxes[0].Quarter, s.Taxes[0].Name})
	_, err := y.Season(y.ctx, driver)
	assert.Equal(t, act.Forbidden, act.KindOf(err))
}

func TestBooksHoldWhatTheirDaysHold(t *testing.T) {
	y := newYard(t)
	y.on(2026, time.January, 31, func() { y.deliver(y.takeOf("Ada Quill", "7 Ferry Lane", "").ID, orders.LoadRequest{}) })
	y.on(2026, time.February, 1, func() { y.deliver(y.takeOf("Bo Lund", "12 Mill Road", "").ID, orders.LoadRequest{}) })
	y.on(2026, time.February, 28, func() { y.void(2, "The load came back") })
	y.now = time.Date(2026, 3, 9, 16, 0, 0, 0, time.UTC)
	for days, want := range map[accounts.BooksRequest][3]int{
		{From: "2026-01-01", To: "2026-01-31"}: {1, 1, 1},
		{From: "2026-02-01", To: "2026-02-28"}: {1, 0, 2}, // the load doesn't count, both receipts are in the books
		{From: "2025-01-01", To: "2025-12-31"}: {0, 0, 0},
		{}:                                     {2, 1, 3},
	} {
		b, err := y.Books(y.ctx, owner, days)
		require.NoError(t, err)
		assert.Equal(t, want, [3]int{len(b.Orders), len(b.Loads), len(b.Receipts)}, "%+v", days)
	}
	for _, wrong := range []accounts.BooksRequest{{From: "last year"}, {From: "2026-02-01", To: "2026-01-31"}} {
		_, err := y.Books(y.ctx, owner, wrong)
		assert.Equal(t, act.Invalid, act.KindOf(err), "%+v", wrong)
	}
	_, err := y.Books(y.ctx, driver, accounts.BooksRequest{})
	assert.Equal(t, act.Forbidden, act.KindOf(err))
}
