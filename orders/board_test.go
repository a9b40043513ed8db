package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// groups are the orders' numbers on the board by their group.
func (y *sellerYard) groups() map[orders.BoardKey][]int64 {
	y.t.Helper()
	b, err := y.Board(y.ctx, owner)
	require.NoError(y.t, err)
	found := map[orders.BoardKey][]int64{}
	for _, g := range b.Groups {
		for _, s := range g.Stops {
			found[g.Key] = append(found[g.Key], s.Order.Number)
		}
	}
	return found
}

// wanted takes an order for a day.
func (y *sellerYard) wanted(day string) orders.Order {
	y.t.Helper()
	r := goodOrder()
	r.Day = day
	return y.take(r)
}

// The clock stands at Monday 9 March 2026, and the shop's zone behind it by some hours.
func TestTheBoardGroupsByDayInTheShopsZone(t *testing.T) {
	y := newYard(t)
	y.wanted("")
	y.wanted("today at 2 pm")
	y.wanted("tomorrow")
	y.wanted("this week")
	y.wanted("week of the 23rd")
	y.wanted("this morning")
	y.wanted("after the 20th")
	want := map[orders.BoardKey][]int64{
		orders.BoardToday: {6, 2}, orders.BoardTomorrow: {3}, orders.BoardWeek: {4}, orders.BoardLater: {7, 5}, orders.BoardUndated: {1},
	}
	assert.Equal(t, want, y.groups())
	y.now = y.now.AddDate(0, 0, 1)
	want[orders.BoardToday], want[orders.BoardTomorrow] = []int64{6, 2, 3}, nil
	delete(want, orders.BoardTomorrow)
	assert.Equal(t, want, y.groups(), "a day that is past stays until it is done")
	shop, err := y.Shop(y.ctx, owner)
	require.NoError(t, err)
	zone, err := time.LoadLocation(shop.Zone)
	require.NoError(t, err)
	y.now = time.Date(2026, 3, 10, 23, 30, 0, 0, zone)
	b, err := y.Board(y.ctx, owner)
	require.NoError(t, err)
	assert.Equal(t, "2026-03-10", b.Today.String(), "not the day it is in UTC")
}

// An order goes its way over the board: no day, its day, unpaid, and off it.
func TestTheNextStepLeadsAnOrderOffTheBoard(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	assert.Equal(t, orders.StepSetDay, y.history(o.ID).NextStep())
	set, err := y.SetDay(y.ctx, y.act(), o.ID, orders.DayRequest{Day: "today", Version: o.Version})
	require.NoError(t, err)
	assert.Equal(t, "9 March 2026", set.Day.String())
	assert.Equal(t, orders.StepDeliver, y.history(o.ID).NextStep())
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	assert.Equal(t, orders.StepDeliver, y.history(o.ID).NextStep(), "half of it is still to come")
	assert.Equal(t, measure.Cord/2, y.history(o.ID).Due().Volume)
	later, err := y.SetDay(y.ctx, y.act(), o.ID, orders.DayRequest{Day: "tomorrow", Version: set.Version})
	require.NoError(t, err, "the day may change once a receipt is out")
	assert.Equal(t, map[orders.BoardKey][]int64{orders.BoardTomorrow: {1}}, y.groups())
	y.deliver(o.ID, orders.LoadRequest{})
	assert.Equal(t, orders.StepTakePayment, y.history(o.ID).NextStep())
	assert.Equal(t, map[orders.BoardKey][]int64{orders.BoardUnpaid: {1}}, y.groups())
	y.pay(o.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
	assert.Empty(t, y.history(o.ID).NextStep())
	assert.Empty(t, y.groups())
	_, err = y.SetDay(y.ctx, y.act(), o.ID, orders.DayRequest{Day: "today", Version: later.Version - 1})
	assert.Equal(t, act.Conflict, act.KindOf(err))
}

// A shortage goes before money, and is off the board once it is made good and paid.
func TestAShortageIsOnTheBoardUntilItIsSettled(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	assert.Equal(t, orders.StepSettle, y.history(o.ID).NextStep())
	assert.Equal(t, map[orders.BoardKey][]int64{orders.BoardSettle: {o.Number}}, y.groups())
}

// What the board shows is what every order's own page would: no order with a step is
// left out, and none without is there.
func TestTheBoardHoldsEveryOrderWithAStep(t *testing.T) {
	y := newYard(t)
	y.wanted("today")
	y.wanted("")
	paid := y.wanted("today")
	y.deliver(paid.ID, orders.LoadRequest{})
	y.pay(paid.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
	tooMuch := y.wanted("today")
	y.deliver(tooMuch.ID, orders.LoadRequest{})
	y.pay(tooMuch.ID, orders.PaymentRequest{Amount: "350", Method: "cash"})
	gone := y.wanted("today")
	_, err := y.CancelOrder(y.ctx, y.act(), gone.ID, gone.Version)
	require.NoError(t, err)
	held := y.wanted("today")
	y.pay(held.ID, orders.PaymentRequest{Amount: "50", Method: "cash"})
	_, err = y.CancelOrder(y.ctx, y.act(), held.ID, y.history(held.ID).Order.Version)
	require.NoError(t, err)
	y.shortDelivery()
	list, err := y.Orders(y.ctx, owner, 0, 0)
	require.NoError(t, err)
	b, err := y.Board(y.ctx, owner)
	require.NoError(t, err)
	on := map[int64]orders.OrderStep{}
	for _, g := range b.Groups {
		for _, s := range g.Stops {
			on[s.Order.Number] = s.Step
		}
	}
	steps := 0
	for _, o := range list.Orders {
		step := y.history(o.ID).NextStep()
		assert.Equal(t, step, on[o.Number], "order %d", o.Number)
		if step != "" {
			steps++
		}
	}
	assert.Len(t, on, steps)
	assert.Equal(t, orders.StepGiveBack, on[tooMuch.Number])
	assert.Equal(t, orders.StepGiveBack, on[held.Number])
}

// A day is kept as it was said: changing something else of the order leaves it, also when
// it is past.
func TestADayStaysWhenAnOrderIsChanged(t *testing.T) {
	y := newYard(t)
	o := y.wanted("today")
	y.now = y.now.AddDate(0, 0, 3)
	r := goodOrder()
	r.Day, r.Version, r.CustomerPhone = o.Day.String(), o.Version, "555-0110"
	changed, err := y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	require.NoError(t, err)
	assert.Equal(t, o.Day, changed.Day)
	r.Day, r.Version = "8 March 2026", changed.Version
	_, err = y.ChangeOrder(y.ctx, y.act(), o.ID, r)
	assert.Equal(t, act.Invalid, act.KindOf(err))
	r.Day = "next Friday"
	_, err = y.TakeOrder(y.ctx, y.act(), r)
	assert.ErrorContains(t, err, "it may be Friday 13 March 2026 or Friday 20 March 2026")
}
