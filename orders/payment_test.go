package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

func (y *sellerYard) pay(id string, r orders.PaymentRequest) orders.Payment {
	y.t.Helper()
	p, err := y.AddPayment(y.ctx, y.act(), id, r)
	require.NoError(y.t, err)
	return p
}

// standing is a balance as amounts: asked, deposit, paid, due, ahead, back.
func (y *sellerYard) standing(id string) [6]string {
	y.t.Helper()
	b := y.history(id).Balance
	return [6]string{b.Asked.Amount(), b.Deposit.Amount(), b.Paid.Amount(), b.Due.Amount(), b.Ahead.Amount(), b.Back.Amount()}
}

// The deposit of an order is its first payment: it is counted once, before and
// after a receipt asks for the price.
func TestBalanceCountsTheDepositOnce(t *testing.T) {
	y := newYard(t)
	r := goodOrder() // 280 and 25 for delivery
	r.Deposit = "100"
	o := y.take(r)
	require.Equal(t, [6]string{"0.00", "100.00", "0.00", "0.00", "100.00", "0.00"}, y.standing(o.ID))
	y.deliver(o.ID, orders.LoadRequest{})
	require.Equal(t, [6]string{"305.00", "100.00", "0.00", "205.00", "0.00", "0.00"}, y.standing(o.ID))
	y.pay(o.ID, orders.PaymentRequest{Amount: "85", Method: "cash"})
	require.Equal(t, [6]string{"305.00", "100.00", "85.00", "120.00", "0.00", "0.00"}, y.standing(o.ID))
	y.pay(o.ID, orders.PaymentRequest{Amount: "140", Method: "cheque", Reference: "77"})
	require.Equal(t, [6]string{"305.00", "100.00", "225.00", "0.00", "0.00", "20.00"}, y.standing(o.ID))
	y.pay(o.ID, orders.PaymentRequest{Amount: "20", Method: "cash", Back: "yes"})
	require.Equal(t, [6]string{"305.00", "100.00", "205.00", "0.00", "0.00", "0.00"}, y.standing(o.ID))
}

// What was paid by then stands on the receipt. Money first pays what earlier
// receipts ask for; what is beyond a receipt's price is kept for the next.
func TestReceiptsPrintWhatWasPaidByThen(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.PricePerCord, r.DeliveryFee, r.Deposit = "300", "", "50"
	o := y.take(r)
	y.pay(o.ID, orders.PaymentRequest{Amount: "30", Method: "cash"})
	first := y.deliver(o.ID, orders.LoadRequest{Delivered: "1/3 cord"}).Receipt.Facts
	require.Equal(t, []string{"50.00", "30.00", "20.00", "0"}, []string{first.Deposit.Amount(), first.Paid.Amount(), first.Balance().Amount(), first.Owed.Amount()[:1]})
	second := y.deliver(o.ID, orders.LoadRequest{Delivered: "1/3 cord"}).Receipt.Facts
	require.Zero(t, second.Paid)
	require.Equal(t, "120.00", second.Owed.Amount(), "20 of the first are still owed")
	y.pay(o.ID, orders.PaymentRequest{Amount: "200", Method: "cash"})
	third := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	require.Equal(t, "80.00", third.Paid.Amount(), "120 of the 200 pay the first two")
	require.Equal(t, "20.00", third.Balance().Amount())
	require.Zero(t, third.Owed, "the first two are paid")
	require.Equal(t, [6]string{"300.00", "50.00", "230.00", "20.00", "0.00", "0.00"}, y.standing(o.ID))
	y.noFaults()
}

// A void receipt asks for nothing: what was paid is then paid ahead, or owed back on
// a cancelled order.
func TestVoidReceiptsAskForNothing(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	issued := y.deliver(o.ID, orders.LoadRequest{})
	y.pay(o.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
	y.void(issued.Receipt.Facts.Number, "the load came back")
	require.Equal(t, [6]string{"0.00", "0.00", "305.00", "0.00", "305.00", "0.00"}, y.standing(o.ID))
	corrected := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	require.Equal(t, "305.00", corrected.Paid.Amount())
	require.Equal(t, [6]string{"305.00", "0.00", "305.00", "0.00", "0.00", "0.00"}, y.standing(o.ID))
}

func TestMoneyOnACancelledOrderIsOwedBack(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Deposit = "40"
	o := y.take(r)
	_, err := y.CancelOrder(y.ctx, y.act(), o.ID, o.Version)
	require.NoError(t, err)
	require.Equal(t, "40.00", y.history(o.ID).Balance.Back.Amount())
	_, err = y.AddPayment(y.ctx, y.act(), o.ID, orders.PaymentRequest{Amount: "1", Method: "cash"})
	requireKind(t, act.Conflict, err)
	y.pay(o.ID, orders.PaymentRequest{Amount: "40", Method: "cash", Back: "yes"})
	require.Equal(t, "0.00", y.history(o.ID).Balance.Back.Amount())
}

// A payment is never changed: a counter-entry takes it back, once.
func TestAPaymentIsTakenBackByACounterEntry(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	p := y.pay(o.ID, orders.PaymentRequest{Amount: "305", Method: "cheque", Reference: "1042"})
	_, err := y.ReversePayment(y.ctx, y.act(), o.ID, p.ID, orders.ReversalRequest{})
	require.Equal(t, map[string]string{"reason": "missing"}, faults(t, err))
	doing := y.act()
	counter, err := y.ReversePayment(y.ctx, doing, o.ID, p.ID, orders.ReversalRequest{Reason: "typed twice"})
	require.NoError(t, err)
	again, err := y.ReversePayment(y.ctx, doing, o.ID, p.ID, orders.ReversalRequest{Reason: "typed twice"})
	require.NoError(t, err)
	require.Equal(t, counter, again, "the same request is answered, not repeated")
	h := y.history(o.ID)
	require.Equal(t, []orders.Payment{p, counter}, h.Payments)
	require.Equal(t, "-305.00 USD", counter.Amount.String())
	require.Equal(t, p.ID, counter.Reverses)
	require.Zero(t, h.Balance.Paid.Minor)
	for _, id := range []string{p.ID, counter.ID} {
		_, err = y.ReversePayment(y.ctx, y.act(), o.ID, id, orders.ReversalRequest{Reason: "again"})
		requireKind(t, act.Conflict, err)
	}
	_, err = y.ReversePayment(y.ctx, y.act(), y.take(goodOrder()).ID, p.ID, orders.ReversalRequest{Reason: "another order"})
	requireKind(t, act.NotFound, err)
}

func TestAVouchersSignedCopyIsDueUntilItCame(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	v := y.pay(o.ID, orders.PaymentRequest{Amount: "200", Method: "voucher", Reference: "HA-2207"})
	require.True(t, v.CopyDue())
	_, err := y.ReceiveCopy(y.ctx, y.act(), o.ID, v.ID, orders.CopyRequest{On: "2026-03-10"})
	require.Equal(t, map[string]string{"on": "future"}, faults(t, err))
	_, err = y.ReceiveCopy(y.ctx, y.act(), o.ID, v.ID, orders.CopyRequest{On: "2026-03-08"})
	require.NoError(t, err)
	got := y.history(o.ID).Payments[0]
	require.False(t, got.CopyDue())
	require.Equal(t, "2026-03-08", got.CopyOn.String())
	_, err = y.ReceiveCopy(y.ctx, y.act(), o.ID, v.ID, orders.CopyRequest{})
	requireKind(t, act.Conflict, err)
	cash := y.pay(o.ID, orders.PaymentRequest{Amount: "1", Method: "cash"})
	_, err = y.ReceiveCopy(y.ctx, y.act(), o.ID, cash.ID, orders.CopyRequest{})
	requireKind(t, act.Conflict, err)
}

func TestPaymentFaults(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	for _, row := range []struct {
		name string
		r    orders.PaymentRequest
		want map[string]string
	}{
		{"nothing", orders.PaymentRequest{}, map[string]string{"paid": "missing", "paid_by": "unknown"}},
		{"nothing paid", orders.PaymentRequest{Amount: "0", Method: "cash"}, map[string]string{"paid": "nothing"}},
		{"a cheque has a number", orders.PaymentRequest{Amount: "5", Method: "cheque"}, map[string]string{"reference": "missing"}},
		{"a voucher has a number", orders.PaymentRequest{Amount: "5", Method: "voucher"}, map[string]string{"reference": "missing"}},
		{"a day to come", orders.PaymentRequest{Amount: "5", Method: "cash", On: "2026-03-10"}, map[string]string{"on": "future"}},
		{"a card's number", orders.PaymentRequest{Amount: "5", Method: "card", Reference: "4000 0000-0000 0002"}, map[string]string{"reference": "card-number"}},
		{"a barred term", orders.PaymentRequest{Amount: "5", Method: "cheque", Reference: "for a face cord"}, map[string]string{"reference": "barred"}},
	} {
		_, err := y.AddPayment(y.ctx, y.act(), o.ID, row.r)
		require.Equal(t, row.want, faults(t, err), row.name)
		require.NotContains(t, err.Error(), "0002", row.name)
	}
	y.pay(o.ID, orders.PaymentRequest{Amount: "5", Method: "card", Reference: "last four 0002"})
}

func TestWhoMayTakePayments(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	cash := orders.PaymentRequest{Amount: "5", Method: "cash"}
	p, err := y.AddPayment(y.ctx, act.Act{Actor: driver, Request: newRequest()}, o.ID, cash)
	require.NoError(t, err)
	require.Equal(t, "Wren", p.By)
	_, err = y.AddPayment(y.ctx, act.Act{Actor: auditor, Request: newRequest()}, o.ID, cash)
	requireKind(t, act.Forbidden, err)
	_, err = y.ReversePayment(y.ctx, act.Act{Actor: driver, Request: newRequest()}, o.ID, p.ID, orders.ReversalRequest{Reason: "x"})
	requireKind(t, act.Forbidden, err)
}

// The list marks who owes, and can be narrowed to those orders.
func TestOwing(t *testing.T) {
	y := newYard(t)
	settled, owes := y.take(goodOrder()), y.take(goodOrder())
	y.take(goodOrder()) // nothing asked for yet
	y.deliver(settled.ID, orders.LoadRequest{})
	y.pay(settled.ID, orders.PaymentRequest{Amount: "305", Method: "cash"})
	y.deliver(owes.ID, orders.LoadRequest{})
	all, err := y.Orders(y.ctx, owner, 0, 0)
	require.NoError(t, err)
	require.Len(t, all.Balances, 3)
	some, err := y.Owing(y.ctx, owner, 0)
	require.NoError(t, err)
	require.Len(t, some.Orders, 1)
	require.Equal(t, owes.ID, some.Orders[0].ID)
	require.Equal(t, "305.00", some.Balances[owes.ID].Due.Amount())
}
