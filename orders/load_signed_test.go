package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/signed"
)

// What is paid and signed as the wood is delivered goes into one act: the receipt takes the
// money off, the books hold it once, and the name and the lines lie with the receipt.
func TestDeliveryPaidAndSignedAtTheDoor(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Deposit = "50"
	o := y.take(r)
	issued := y.deliver(o.ID, orders.LoadRequest{PaidBy: "cheque", Reference: "1042", SignedBy: "Ada Quill", Signature: "10,20 30,40;50,60 70,80"})
	f := issued.Receipt.Facts
	due := o.Price.Total().Minor - 5000
	require.Zero(t, f.Balance().Minor)
	require.Equal(t, due, f.Paid.Minor)
	require.Equal(t, orders.HandedFact{Method: orders.Cheque, Amount: f.Paid}, *f.Handed)
	require.Equal(t, signed.Signature{By: "Ada Quill", Strokes: "10,20 30,40;50,60 70,80", At: y.now.Truncate(time.Second)}, *issued.Receipt.Signature)
	h := y.history(o.ID)
	require.Len(t, h.Payments, 1)
	require.Equal(t, due, h.Payments[0].Amount.Minor)
	require.Equal(t, "1042", h.Payments[0].Reference)
	require.Equal(t, f.DeliveredOn, h.Payments[0].On)
	require.Zero(t, h.Balance.Due.Minor)
	require.NotContains(t, string(issued.FactBytes), "Quill", "a name is no fact under the seal")
	require.NotContains(t, string(issued.FactBytes), "10,20")
	y.noFaults()
}

// Of two loads the second pays what the first left open too; its receipt takes off its own
// part alone.
func TestPaymentAtTheDoorCoversEarlierLoads(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	first := y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	second := y.deliver(o.ID, orders.LoadRequest{PaidBy: "cash"})
	require.NotZero(t, first.Receipt.Facts.Balance().Minor)
	require.Zero(t, second.Receipt.Facts.Balance().Minor)
	require.Zero(t, second.Receipt.Facts.Owed.Minor)
	require.Equal(t, second.Receipt.Facts.Price.Total(), second.Receipt.Facts.Handed.Amount)
	h := y.history(o.ID)
	require.Equal(t, o.Price.Total().Minor, h.Payments[0].Amount.Minor)
	require.Zero(t, h.Balance.Due.Minor)
}

func TestWhatComesWithADeliveryIsReadByName(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	for field, r := range map[string]orders.LoadRequest{
		"paid_by":   {PaidBy: "barter"},
		"reference": {PaidBy: "cheque"},
		"signed_by": {Signature: "1,2 3,4"},
		"signature": {SignedBy: "Ada Quill", Signature: "M1 2L3 4"},
	} {
		_, err := y.Deliver(y.ctx, y.act(), o.ID, r)
		requireKind(t, act.Invalid, err)
		fieldOf(t, err, field)
	}
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{PaidBy: "not yet", Reference: "12"})
	fieldOf(t, err, "reference")
	r := goodOrder()
	r.Deposit = o.Price.Total().String()
	free := y.take(r)
	_, err = y.Deliver(y.ctx, y.act(), free.ID, orders.LoadRequest{PaidBy: "cash"})
	fieldOf(t, err, "paid_by")
}

// A correction says what was wrong; whoever signed the old one did not sign it.
func TestACorrectionIsNotSignedByWhoSignedBefore(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.deliver(o.ID, orders.LoadRequest{PaidBy: "cash", SignedBy: "Ada Quill", Signature: "1,2 3,4"})
	next := y.correct(1, func(r *orders.CorrectionRequest) { r.Delivered, r.Reason = "0.9 cord", "a row stayed on the truck" })
	require.Nil(t, next.Receipt.Signature)
	require.Nil(t, next.Receipt.Facts.Handed)
	require.Equal(t, next.Receipt.Facts.Price.Total(), next.Receipt.Facts.Paid, "what was paid is still taken off")
}

// Part of what is due may be paid at the door, by card too: the receipt takes that off, the
// books hold it, and the rest stays due. More than is due is refused.
func TestPartOfItIsPaidAtTheDoor(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	total := o.Price.Total().Minor
	issued := y.deliver(o.ID, orders.LoadRequest{PaidBy: "card", Paid: "100"})
	f := issued.Receipt.Facts
	require.EqualValues(t, 10000, f.Paid.Minor)
	require.Equal(t, orders.HandedFact{Method: orders.Card, Amount: f.Paid}, *f.Handed)
	require.Equal(t, total-10000, f.Balance().Minor)
	h := y.history(o.ID)
	require.Equal(t, []any{int64(10000), orders.Card}, []any{h.Payments[0].Amount.Minor, h.Payments[0].Method})
	require.Equal(t, total-10000, h.Balance.Due.Minor)
	y.noFaults()

	again := y.take(goodOrder())
	for amount, code := range map[string]string{"100000": "too-large", "0": "nothing", "some": "not-an-amount"} {
		_, err := y.Deliver(y.ctx, y.act(), again.ID, orders.LoadRequest{PaidBy: "cash", Paid: amount})
		require.Equal(t, map[string]string{"paid": code}, faults(t, err))
	}
	_, err := y.Deliver(y.ctx, y.act(), again.ID, orders.LoadRequest{Paid: "10"})
	require.Equal(t, map[string]string{"paid": "not-needed"}, faults(t, err))
}
