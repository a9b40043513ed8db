package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/minute"
)

// For a minute nothing is numbered and all can be taken back; then the receipt is made, with
// the time it was signed at, once.
func TestADeliveryIsNumberedAMinuteLater(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	put := y.now
	r := orders.LoadRequest{On: "2026-03-09", PaidBy: "cash", SignedBy: "Ada Quill", Signature: "1,2 3,4"}
	d, err := y.minute.Put(y.ctx, y.act(), o.ID, r)
	require.NoError(t, err)
	require.Equal(t, put.Add(minute.Long), d.Due)
	y.now = put.Add(minute.Long - time.Second)
	require.NoError(t, y.minute.NumberDue(y.ctx))
	require.Empty(t, y.history(o.ID).Loads, "its minute is not over")
	require.Empty(t, y.history(o.ID).Payments)
	y.now = put.Add(minute.Long)
	require.NoError(t, y.minute.NumberDue(y.ctx))
	require.NoError(t, y.minute.NumberDue(y.ctx))
	h := y.history(o.ID)
	require.Len(t, h.Loads, 1)
	require.Len(t, h.Payments, 1)
	issued, err := y.Receipt(y.ctx, owner, 1)
	require.NoError(t, err)
	require.Equal(t, put.Truncate(time.Second), issued.Receipt.Signature.At, "when it was signed, not numbered")
	_, err = y.minute.Waiting(y.ctx, owner, o.ID)
	requireKind(t, act.NotFound, err)
	requireKind(t, act.NotFound, y.minute.TakeBack(y.ctx, y.act(), o.ID))
	y.noFaults()
}

func TestADeliveryIsTakenBack(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	_, err := y.minute.Put(y.ctx, y.act(), o.ID, orders.LoadRequest{PaidBy: "cash"})
	require.NoError(t, err)
	_, err = y.minute.Put(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	requireKind(t, act.Conflict, err)
	require.NoError(t, y.minute.TakeBack(y.ctx, y.act(), o.ID))
	y.now = y.now.Add(2 * minute.Long)
	require.NoError(t, y.minute.NumberDue(y.ctx))
	require.Empty(t, y.history(o.ID).Loads)
	require.Empty(t, y.history(o.ID).Payments)
	require.EqualValues(t, 1, y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts.Number, "no number is spent")
}

// What was signed is what is printed: where that would say something else by now, nothing is
// numbered, and it waits to be taken back.
func TestADeliveryThatWouldSaySomethingElseIsNotNumbered(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	_, err := y.minute.Put(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	_, err = y.AddPayment(y.ctx, y.act(), o.ID, orders.PaymentRequest{Amount: "10", Method: "cash"})
	require.NoError(t, err)
	y.now = y.now.Add(minute.Long)
	require.ErrorContains(t, y.minute.NumberDue(y.ctx), "what the receipt would say has changed since it was delivered")
	require.Empty(t, y.history(o.ID).Loads)
	require.NoError(t, y.minute.TakeBack(y.ctx, y.act(), o.ID))
}

// What Deliver refuses is refused at once, not a minute later.
func TestADeliveryIsReadBeforeItWaits(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	_, err := y.minute.Put(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: "a heap"})
	requireKind(t, act.Invalid, err)
	_, err = y.minute.Put(y.ctx, act.Act{Actor: act.Actor{Person: "Pim", Role: act.Auditor}, Request: newRequest()}, o.ID, orders.LoadRequest{})
	requireKind(t, act.Forbidden, err)
	all, err := y.minute.All(y.ctx, owner)
	require.NoError(t, err)
	require.Empty(t, all)
}

// A program that stops between the receipt and the end of the wait makes no second one.
func TestANumberedDeliveryIsNumberedOnce(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	d, err := y.minute.Put(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	_, err = y.DeliverSigned(y.ctx, act.Act{Actor: d.By, Request: d.ID}, o.ID, d.Request, d.At, agreed)
	require.NoError(t, err)
	issued, err := y.minute.Number(y.ctx, o.ID)
	require.NoError(t, err)
	require.EqualValues(t, 1, issued.Receipt.Facts.Number)
	require.Len(t, y.history(o.ID).Loads, 1)
}

// agreed takes whatever a receipt says.
func agreed(orders.Receipt) error { return nil }

// Wood that came a moment before midnight came on that day, though it is numbered on the next.
func TestADeliveryBeforeMidnightIsOfItsDay(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	zone, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	y.now = time.Date(2026, time.March, 10, 23, 59, 30, 0, zone)
	_, err = y.minute.Put(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	y.now = y.now.Add(minute.Long)
	require.NoError(t, y.minute.NumberDue(y.ctx))
	h := y.history(o.ID)
	require.Len(t, h.Loads, 1)
	require.Equal(t, act.Date{Year: 2026, Month: time.March, Day: 10}, h.Loads[0].On)
}

// Wood of an order that is cancelled meanwhile isn't numbered: it waits to be taken back.
func TestADeliveryOfACancelledOrderIsNotNumbered(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	_, err := y.minute.Put(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	_, err = y.CancelOrder(y.ctx, y.act(), o.ID, o.Version)
	require.NoError(t, err)
	y.now = y.now.Add(minute.Long)
	require.ErrorContains(t, y.minute.NumberDue(y.ctx), "is cancelled")
	require.Empty(t, y.history(o.ID).Loads)
	require.NoError(t, y.minute.TakeBack(y.ctx, y.act(), o.ID))
	require.NoError(t, y.minute.NumberDue(y.ctx))
}
