package orders_test

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// measuredShort is a cord for 280 whose stack a tally finds a twelfth short before any of
// it is handed over.
func (y *sellerYard) measuredShort() orders.Order {
	y.t.Helper()
	o := y.take(plainOrder("1 cord", "280"))
	_, err := y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: thirdRowShort(), ReadBy: "Wren"})
	require.NoError(y.t, err)
	return o
}

// Wood that was measured short before is not handed over as a full cord: what was found
// is proposed, and its price follows.
func TestWoodMeasuredShortIsProposedAsMeasured(t *testing.T) {
	y := newYard(t)
	o := y.measuredShort()
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"differs": "measured-short"}, faults(t, err))
	require.Empty(t, y.history(o.ID).Loads, "no receipt for a cord")

	proposed := y.history(o.ID).Proposed(act.Imperial)
	require.InDelta(t, 11.0/12, proposed.Volume.In(measure.Cord), 0.001, "two rows of a third of a cord and three quarters of one")
	require.Contains(t, fieldOf(t, err, "differs").Accepts.String(), proposed.String())
	f := y.deliver(o.ID, orders.LoadRequest{Delivered: proposed.String()}).Receipt.Facts
	require.Equal(t, proposed, f.Delivered)
	require.Equal(t, 6, f.Format)
	require.NotNil(t, f.Measured, "both stand on the receipt")
	require.Equal(t, stack.Short, f.Measuring.Word)
	require.EqualValues(t, 1, f.Measuring.Sheet)
	require.InDelta(t, 1.0/12, f.Measuring.Missing.In(measure.Cord), 0.001)
	require.Empty(t, f.Measuring.Why)
	require.Equal(t, o.Price.Wood.ForVolume(proposed.Volume, measure.Cord), f.Price.Wood, "the price follows")
	require.InDelta(t, 28000*11.0/12, float64(f.Price.Wood.Minor), 30)
	require.Equal(t, orders.PartLoad, y.history(o.ID).Order.State, "the rest is still due")
	y.noFaults()
}

// The seller may say more than was measured, in words that the receipt keeps beside it.
func TestMoreThanWasMeasuredNeedsWords(t *testing.T) {
	y := newYard(t)
	o := y.measuredShort()
	f := y.deliver(o.ID, orders.LoadRequest{Delivered: "1 cord", Differs: "Two barrows more were thrown on after it was measured"}).Receipt.Facts
	require.Equal(t, cords(1, 1), f.Delivered)
	require.Less(t, f.Measured.Volume, measure.Cord)
	require.Equal(t, "Two barrows more were thrown on after it was measured", f.Measuring.Why)
	require.EqualValues(t, 28000, f.Price.Wood.Minor)

	p := y.take(plainOrder("1 cord", "280"))
	_, err := y.Deliver(y.ctx, y.act(), p.ID, orders.LoadRequest{Differs: "No reason"})
	require.Equal(t, map[string]string{"differs": "not-needed"}, faults(t, err), "words that explain nothing are not dropped")
	q := y.measuredShort()
	_, err = y.Deliver(y.ctx, y.act(), q.ID, orders.LoadRequest{Delivered: "1/2 cord", Differs: "No reason"})
	require.Equal(t, map[string]string{"differs": "not-needed"}, faults(t, err))
	half := y.deliver(q.ID, orders.LoadRequest{Delivered: "1/2 cord"}).Receipt.Facts
	require.Nil(t, half.Measured, "a part of what was measured was not measured by itself")

	// A correction to more asks for the words again; one to what was found needs none.
	_, err = y.Correct(y.ctx, y.act(), f.Number, y.correction(f.Number, func(r *orders.CorrectionRequest) { r.Reason = "Name"; r.PurchaserName = "Ada Quill-Moss" }))
	require.Equal(t, map[string]string{"differs": "measured-short"}, faults(t, err))
	now := y.correct(f.Number, func(r *orders.CorrectionRequest) { r.Reason, r.Delivered = "Measured again", "117 cu ft stacked" }).Receipt.Facts
	require.Equal(t, stack.Short, now.Measuring.Word)
	require.Empty(t, now.Measuring.Why)
	require.NotNil(t, now.Measured)
	y.noFaults()
}

// What speaks against a receipt is asked about, never refused, and the answer is kept.
func TestOddLoadsAreAskedAbout(t *testing.T) {
	for _, row := range []struct {
		name string
		r    orders.LoadRequest
		says string
	}{
		{"six times what was ordered", orders.LoadRequest{Delivered: "2 cords"}, "2 cords is delivered in all, and 1/3 cord was ordered"},
		{"a year before the order", orders.LoadRequest{On: "2025-03-09"}, "9 March 2025 is before the day the order was taken, 9 March 2026"},
	} {
		y := newYard(t)
		o := y.take(plainOrder("1/3 cord", "110"))
		_, err := y.Deliver(y.ctx, y.act(), o.ID, row.r)
		require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), row.name)
		require.ErrorContains(t, err, row.says)
		require.Empty(t, y.history(o.ID).Loads)
		asked := fieldOf(t, err, "confirmed")
		other := row.r
		other.Confirmed = "yes"
		_, err = y.Deliver(y.ctx, y.act(), o.ID, other)
		require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err), "a yes is one to what was asked")
		row.r.Confirmed = asked.Accepts.String()
		f := y.deliver(o.ID, row.r).Receipt.Facts
		require.Len(t, f.Answered, 1, row.name)
		require.True(t, strings.HasPrefix(f.Answered[0].String(), row.says), f.Answered[0].String())
		y.noFaults()
	}
}

// A load of what was ordered, today, is asked nothing.
func TestAPlainLoadIsAskedNothing(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.measure(o.ID)
	f := y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts
	require.Empty(t, f.Answered)
	require.Equal(t, y.history(o.ID).Tallies[0].Result.Finding.Word, f.Measuring.Word)
}

// A quantity and a truck filled to its line are one thing said twice: they agree, or the
// load is refused. So are a measured second load and a quantity.
func TestAQuantityBesideALineMustAgree(t *testing.T) {
	y := newYard(t)
	body, err := y.AddBody(y.ctx, y.act(), yard.BodyRequest{Name: "red truck", Line: "the second board", Arrangement: "ranked", Length: "8", Width: "6", Height: "36", TapedBy: "Wren"})
	require.NoError(t, err)
	o := y.take(plainOrder("2 cords", "560"))
	for _, typed := range []string{"10 cu ft stacked", "NaN garbage", "1/2 cord"} {
		_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{Delivered: typed, Body: body.ID})
		require.Contains(t, faults(t, err), "delivered", typed)
	}
	require.Empty(t, y.history(o.ID).Loads)
	f := y.deliverAnyway(o.ID, orders.LoadRequest{Delivered: body.Quantity.String(), Body: body.ID}).Receipt.Facts
	require.Equal(t, body.Quantity, f.Delivered)
	require.NotNil(t, f.Body)
}

// An address that the order lacks is typed where the wood is handed over, and kept.
func TestTheAddressIsTakenAtHandOver(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.CustomerAddress = ""
	o := y.take(r)
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"customer_address": "missing"}, faults(t, err))
	issued := y.deliver(o.ID, orders.LoadRequest{CustomerAddress: "7 Ferry Lane\nAlder Bend"})
	require.Equal(t, "7 Ferry Lane\nAlder Bend", issued.Receipt.Purchaser.Address)
	require.Equal(t, "7 Ferry Lane\nAlder Bend", y.history(o.ID).Order.Customer.Address)
	p := y.take(goodOrder())
	_, err = y.Deliver(y.ctx, y.act(), p.ID, orders.LoadRequest{CustomerAddress: "9 Elsewhere Road"})
	require.Equal(t, map[string]string{"customer_address": "contradicts"}, faults(t, err))
}

// Trying a load writes nothing, and gives the receipt it would make.
func TestTryDeliverWritesNothing(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	receipt, err := y.TryDeliver(y.ctx, owner, o.ID, orders.LoadRequest{Delivered: "1/2 cord"})
	require.NoError(t, err)
	require.EqualValues(t, 14000+2500, receipt.Facts.Price.Total().Minor)
	require.Empty(t, y.history(o.ID).Loads)
	receipt, err = y.TryDeliver(y.ctx, owner, o.ID, orders.LoadRequest{Delivered: "5 cords"})
	require.Equal(t, map[string]string{"confirmed": "read-back"}, faults(t, err))
	require.Equal(t, cords(5, 1), receipt.Facts.Delivered, "what it would say is there beside the question")
	_, err = y.TryDeliver(y.ctx, auditor, o.ID, orders.LoadRequest{})
	requireKind(t, act.Forbidden, err)
}

// Facts of an earlier format read as they were written.
func TestFactsOfFormat3Read(t *testing.T) {
	var f orders.Facts
	require.NoError(t, json.Unmarshal([]byte(`{"format": 3, "number": 7, "measured": {"nanolitres": 3000000000000, "basis": "ranked"},
		"delivered": {"nanolitres": 3624556363776, "basis": "ranked"}, "price": {"per_cord": {"minor": 28000, "currency": "USD"}, "wood": {"minor": 28000, "currency": "USD"},
		"fees": [{"kind": "distance", "amount": {"minor": 6000, "currency": "USD"}}]}, "deposit": {"minor": 0, "currency": "USD"}, "previous": ""}`), &f))
	require.NotNil(t, f.Measured)
	require.Nil(t, f.Measuring)
	require.Empty(t, f.Answered)
	require.EqualValues(t, 34000, f.Balance().Minor)
}
