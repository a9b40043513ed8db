package orders_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// thirdRowShort is a cord's three rows with the third two feet too short: a twelfth of a cord
// is missing.
func thirdRowShort() []byte {
	return []byte(`{"format": 1, "apart": "none", "tape": "1/4 in", "top": "straightedge", "stowed": "checked",
		"stack": {"kind": "rows", "pieces": ["16 in", "16 1/4 in", "15 3/4 in", "16 in", "16 in"], "rows": [
		{"length": "96 in", "heights": ["48 in", "48 in", "48 in", "48 in"]},
		{"length": "96 in", "heights": ["48 in", "48 in", "48 in", "48 in"]},
		{"length": "72 in", "heights": ["48 in", "48 in", "48 in", "48 in"]}]}}`)
}

// shortDelivery is a cord for 280 that a tally finds short.
func (y *sellerYard) shortDelivery() orders.Order {
	y.t.Helper()
	o := y.take(plainOrder("1 cord", "280"))
	y.deliver(o.ID, orders.LoadRequest{})
	_, err := y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: thirdRowShort(), ReadBy: "Wren"})
	require.NoError(y.t, err)
	return o
}

func (y *sellerYard) settle(id string, r orders.SettleRequest) orders.Settlement {
	y.t.Helper()
	s, err := y.Settle(y.ctx, y.act(), id, r)
	require.NoError(y.t, err)
	return s
}

func inWood() orders.SettleRequest {
	return orders.SettleRequest{Choice: "wood", AgreedHow: "word", AgreedOn: "2026-03-08"}
}

func inMoney() orders.SettleRequest {
	return orders.SettleRequest{Choice: "money", AgreedHow: "writing", Reason: "the third row is short"}
}

// A finding that is short says what is owed: its volume, about how many pieces, and
// what it is worth at the price agreed.
func TestWhatIsOwedFollowsFromTheFinding(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	h := y.history(o.ID)
	finding := h.Tallies[0].Result.Finding
	require.Equal(t, stack.Short, finding.Word)
	offer := h.Offer()
	require.Equal(t, -finding.Margin, offer.Owed.Volume)
	require.InDelta(t, 1.0/12, offer.Owed.Volume.In(measure.Cord), 0.005, "a quarter of one row of three, by the drawn lengths")
	require.Equal(t, o.Price.Wood.ForVolume(offer.Owed.Volume, measure.Cord), offer.Worth)
	// 10.67 ft³ of 16 in pieces are 8 ft² of face: 5.5 to 8.5 pieces each (common practice, no source).
	low, high := offer.Pieces.Of(offer.Owed.Volume)
	require.InDelta(t, 8*5.5, low, 2)
	require.InDelta(t, 8*8.5, high, 2)

	s := y.settle(o.ID, inWood())
	require.Equal(t, offer.Owed, s.Owed)
	require.Equal(t, offer.Worth, s.Worth)
	require.Equal(t, h.Tallies[0].Sheet, s.Sheet)
	require.Equal(t, h.Loads[0].Receipt, s.Receipt)
	require.Equal(t, "Odell", s.By)
	require.Equal(t, []orders.Settlement{s}, y.history(o.ID).Settlements)
}

// A second load is held against what is owed; what is left is said, and the receipt
// that brings the last of it closes the settlement. It costs nothing and is no load
// of the order's own.
func TestWoodSettlesAShortage(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	s := y.settle(o.ID, inWood())
	issued, err := y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Brought: "4 cu ft"})
	require.NoError(t, err)
	f := issued.Receipt.Facts
	require.Equal(t, orders.SettlementReceipt, f.Kind)
	require.Equal(t, s.Receipt, f.Of)
	require.Equal(t, s.Owed.Volume-4*measure.CubicFoot, f.Settles.Left)
	require.False(t, f.Settles.Closes)
	require.True(t, y.history(o.ID).Settlement().Open())
	require.True(t, y.history(o.ID).Receipts[1].InPart)

	issued, err = y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Brought: "8 cu ft"})
	require.NoError(t, err)
	f = issued.Receipt.Facts
	require.Equal(t, 4*measure.CubicFoot, f.Settles.Before)
	require.Zero(t, f.Settles.Left)
	require.True(t, f.Settles.Closes)
	require.False(t, y.history(o.ID).Receipts[2].InPart)
	require.Zero(t, f.Price.Total().Minor)

	h := y.history(o.ID)
	require.True(t, h.Settlement().Closed())
	require.Len(t, h.Loads, 1)
	require.Equal(t, "280.00", h.Balance.Asked.Amount())
	_, err = y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Brought: "1 cu ft"})
	requireKind(t, act.Conflict, err)
	y.noFaults()
}

func TestASecondLoadMayBeMeasuredOrEnough(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	s := y.settle(o.ID, inWood())
	row := `{"format": 1, "stack": {"kind": "rows", "nominal": "16 in", "rows": [{"length": "24 in", "heights": ["24 in", "24 in", "24 in"]}]}}`
	issued, err := y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Tally: row, Enough: "yes"})
	require.NoError(t, err)
	f := issued.Receipt.Facts
	require.True(t, f.Settles.Tallied)
	require.Greater(t, f.Settles.Left, measure.Volume(0))
	require.Equal(t, s.Owed.Volume, f.Settles.Left+f.Settles.Brought)
	require.True(t, f.Settles.Closes, "the buyer takes it as enough")
}

// Money is worth the wood at the price agreed; off the balance it lowers what is owed,
// given back it is a payment as well. Neither is counted twice.
func TestMoneySettlesAShortage(t *testing.T) {
	for _, row := range []struct {
		method   string
		paid     string
		due, aft string
	}{
		{"balance", "", "280.00", "256.67"},
		{"cash", "280", "0.00", "0.00"},
	} {
		y := newYard(t)
		o := y.shortDelivery()
		if row.paid != "" {
			y.pay(o.ID, orders.PaymentRequest{Amount: row.paid, Method: "cash"})
		}
		require.Equal(t, row.due, y.history(o.ID).Balance.Due.Amount())
		r := inMoney()
		r.Owed = "1/12 cord"
		s := y.settle(o.ID, r)
		require.Equal(t, "23.33", s.Worth.Amount(), "280/12 = 23.333")
		issued, err := y.Give(y.ctx, y.act(), o.ID, orders.GiveRequest{Method: row.method})
		require.NoError(t, err)
		f := issued.Receipt.Facts
		require.Equal(t, "23.33", f.Settles.Given.Amount())
		require.Equal(t, "the third row is short", f.Reason)
		h := y.history(o.ID)
		require.True(t, h.Settlement().Closed())
		require.Equal(t, row.aft, h.Balance.Due.Amount(), row.method)
		require.Zero(t, h.Balance.Back.Minor, row.method)
		y.noFaults()
	}
}

// What is given for wood counts on the next receipt as well.
func TestTheNextReceiptKnowsWhatWasGiven(t *testing.T) {
	y := newYard(t)
	o := y.take(plainOrder("1 cord", "280"))
	y.deliver(o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	y.pay(o.ID, orders.PaymentRequest{Amount: "140", Method: "cash"})
	r := inMoney()
	r.Owed = "1/8 cord"
	y.settle(o.ID, r)
	_, err := y.Give(y.ctx, y.act(), o.ID, orders.GiveRequest{Method: "balance"})
	require.NoError(t, err)
	f := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	require.Equal(t, "35.00", f.Paid.Amount())
	require.Equal(t, "105.00", f.Balance().Amount())
	require.Equal(t, "105.00", y.history(o.ID).Balance.Due.Amount())
}

// The worth of wood has its share of the tax, rounded once.
func TestWorthHasItsTax(t *testing.T) {
	y := charging(t, salesTax())
	o := y.shortDelivery()
	r := inMoney()
	r.Owed = "1/12 cord"
	require.Equal(t, "24.61", y.settle(o.ID, r).Worth.Amount(), "23.33 and 1.28315 of tax")
}

// A settlement is never changed: another view of it is a new one that names it, open
// or closed.
func TestASettlementIsReopenedOnlyByANewOneNamingIt(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	first := y.settle(o.ID, inWood())
	_, err := y.Settle(y.ctx, y.act(), o.ID, inMoney())
	requireKind(t, act.Conflict, err)
	_, err = y.Give(y.ctx, y.act(), o.ID, orders.GiveRequest{Method: "cash"})
	requireKind(t, act.Conflict, err) // wood was agreed
	r := inMoney()
	r.Replaces = first.ID
	second := y.settle(o.ID, r)
	require.Equal(t, first.Owed, second.Owed, "what was left of the first")
	_, err = y.Give(y.ctx, y.act(), o.ID, orders.GiveRequest{Method: "balance"})
	require.NoError(t, err)
	r.Replaces = second.ID
	_, err = y.Settle(y.ctx, y.act(), o.ID, r)
	require.Equal(t, map[string]string{"owed": "missing"}, faults(t, err), "nothing is left of a closed one")
	r.Owed = "5 cu ft"
	y.settle(o.ID, r)
	all := y.history(o.ID).Settlements
	require.Len(t, all, 3)
	require.True(t, all[0].Replaced)
	require.True(t, all[1].Replaced)
	require.Equal(t, second.ID, all[2].Replaces)
}

func TestSettlementFaults(t *testing.T) {
	y := newYard(t)
	o := y.take(plainOrder("1 cord", "280"))
	_, err := y.Settle(y.ctx, y.act(), o.ID, inWood())
	requireKind(t, act.Conflict, err) // nothing was delivered
	y.deliver(o.ID, orders.LoadRequest{})
	_, err = y.Settle(y.ctx, y.act(), o.ID, orders.SettleRequest{AgreedOn: "2026-03-20"})
	require.Equal(t, map[string]string{"owed": "missing", "choice": "unknown", "agreed_how": "unknown", "agreed_on": "future"}, faults(t, err))
	for owed, code := range map[string]string{"a face cord": "barred", "2 cords": "too-large", "5 cu ft loose": "other-basis"} {
		r := inWood()
		r.Owed = owed
		_, err = y.Settle(y.ctx, y.act(), o.ID, r)
		require.Equal(t, map[string]string{"owed": code}, faults(t, err), owed)
	}
	_, err = y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Brought: "1 cu ft"})
	requireKind(t, act.Conflict, err) // nothing is owed
	r := inMoney()
	r.Owed = "10 cu ft"
	y.settle(o.ID, r)
	_, err = y.Give(y.ctx, y.act(), o.ID, orders.GiveRequest{Method: "card", Reference: "4000 0000 0000 0002"})
	require.Equal(t, map[string]string{"reference": "card-number"}, faults(t, err))
	_, err = y.Give(y.ctx, y.act(), o.ID, orders.GiveRequest{Given: "0"})
	require.Equal(t, map[string]string{"given": "nothing", "given_by": "unknown"}, faults(t, err))
}

// The same request twice makes one receipt and one payment back.
func TestMoneyIsGivenOnce(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	y.settle(o.ID, inMoney())
	act := y.act()
	one, err := y.Give(y.ctx, act, o.ID, orders.GiveRequest{Method: "cash"})
	require.NoError(t, err)
	two, err := y.Give(y.ctx, act, o.ID, orders.GiveRequest{Method: "cash"})
	require.NoError(t, err)
	require.Equal(t, one.Seal, two.Seal)
	require.Len(t, y.history(o.ID).Payments, 1)
}

func loadRows(feet string) string {
	return `{"format": 1, "apart": "none", "tape": "1/4 in", "top": "straightedge", "stowed": "checked",
		"stack": {"kind": "rows", "pieces": ["16 in", "16 1/4 in", "15 3/4 in", "16 in", "16 in"], "rows": [
		{"length": "` + feet + ` ft", "heights": ["24 in", "24 in", "24 in", "24 in"]}]}}`
}

// A tally of the second load is held against what is still owed. One that is short
// leaves the rest owed; one that shows no shortage closes it. The readings and what
// they came to stay with the receipt.
func TestASecondLoadIsMeasuredAgainstWhatIsOwed(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	r := inWood()
	r.Owed = "16 cu ft" // 24 in high and 16 in long: 6 ft of row
	y.settle(o.ID, r)

	_, result, err := y.TryBrought(y.ctx, y.act().Actor, o.ID, []byte(loadRows("3")))
	require.NoError(t, err)
	require.Equal(t, stack.Short, result.Finding.Word)
	require.InDelta(t, 16, result.Finding.Sold.Volume.In(measure.CubicFoot), 0.01)
	would := y.history(o.ID).Settlement().Measured(result)
	require.InDelta(t, 8, would.Left.Volume.In(measure.CubicFoot), 0.2)
	require.Empty(t, y.history(o.ID).Settlement().Steps, "nothing is saved")

	issued, err := y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Tally: loadRows("3")})
	require.NoError(t, err)
	f := issued.Receipt.Facts.Settles
	require.False(t, f.Closes)
	require.Equal(t, would.Left.Volume, f.Left)
	require.Equal(t, would.Brought.Volume, f.Brought)

	issued, err = y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Tally: loadRows("3.01")})
	require.NoError(t, err)
	f = issued.Receipt.Facts.Settles
	require.NotEqual(t, stack.Short, f.Tally.Result.Finding.Word)
	require.True(t, y.history(o.ID).Settlement().Open() != f.Closes)

	again, err := y.Receipt(y.ctx, y.act().Actor, issued.Receipt.Facts.Number)
	require.NoError(t, err)
	require.Equal(t, f.Tally.Result.Quantity, again.Receipt.Facts.Settles.Tally.Result.Quantity)
	require.JSONEq(t, string(f.Tally.Document), string(again.Receipt.Facts.Settles.Tally.Document))
	y.noFaults()
}

// What is only within the doubt less than is owed closes it; what the readings can't
// tell does not.
func TestAMeasuredLoadIsJudgedByItsFinding(t *testing.T) {
	owed := measure.Quantity{Volume: 10 * measure.CubicFoot, Basis: measure.Ranked}
	s := orders.Settlement{Owed: owed}
	for word, left := range map[stack.Word]measure.Volume{
		stack.Short: measure.CubicFoot / 2, stack.Unresolved: measure.CubicFoot / 2, stack.NoShortage: 0, stack.Full: 0,
	} {
		r := stack.Result{Quantity: measure.Quantity{Volume: owed.Volume - measure.CubicFoot/2, Basis: measure.Ranked},
			Finding: &stack.Finding{Word: word, Sold: owed, Due: owed.Volume}}
		require.Equal(t, left, s.Measured(r).Left.Volume, word)
	}
	loose := s.Measured(stack.Result{Quantity: measure.Quantity{Volume: owed.Volume, Basis: measure.Loose}})
	require.True(t, loose.OtherBasis)
	require.Equal(t, owed, loose.Left)
}

func TestALoadOfAnotherBasisSettlesNothing(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	y.settle(o.ID, inWood())
	heap := `{"format": 1, "stack": {"kind": "heap", "shape": "cone", "circumference": "20 ft", "slope": "5 ft"}}`
	_, err := y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Tally: heap})
	requireKind(t, act.Invalid, err)
	require.True(t, y.history(o.ID).Settlement().Open())
	require.Empty(t, y.history(o.ID).Settlement().Steps)
}
