package orders_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
)

// stackedTally is a cord as read, ten of its heights being so many inches, and what is
// said of its having been stacked again.
func stackedTally(height, said string) []byte {
	doc := strings.ReplaceAll(string(cordTally()), `"48 in"`, `"`+height+` in"`)
	return []byte(strings.Replace(doc, `"format": 1,`, `"format": 2, `+said, 1))
}

func (y *sellerYard) readAgain(id, height, said string) {
	y.t.Helper()
	_, err := y.SaveTally(y.ctx, y.act(), id, orders.TallyRequest{Document: stackedTally(height, said), ReadBy: "Wren"})
	require.NoError(y.t, err, said)
}

func TestWoodStackedAgainIsKeptAsEvidence(t *testing.T) {
	y := newYard(t)
	e, err := y.Stowing(y.ctx, owner)
	require.NoError(t, err)
	assert.Empty(t, e.Pairs)
	assert.Nil(t, e.Share)

	plain := y.take(goodOrder())
	y.readAgain(plain.ID, "48", "")
	y.readAgain(plain.ID, "48", "")
	o := y.take(goodOrder())
	y.readAgain(o.ID, "48", "")
	y.readAgain(o.ID, "49", `"stacked":"again","stacked_by":"buyer",`)
	y.readAgain(o.ID, "49", `"stacked":"same",`)
	y.readAgain(o.ID, "48", `"stacked":"again","stacked_by":"before",`)
	y.readAgain(o.ID, "48", `"stacked":"again",`)
	y.readAgain(o.ID, "48", "")
	e, err = y.Stowing(y.ctx, auditor)
	require.NoError(t, err)
	type line struct {
		first, second int
		stacked       stack.Stacked
		left          audits.Left
	}
	var got []line
	for _, p := range e.Pairs {
		assert.Equal(t, o.Number, p.Order)
		got = append(got, line{p.First, p.Second, p.Stacked, p.Left})
	}
	assert.Equal(t, []line{
		{1, 2, stack.StackedAgain, ""}, {2, 3, stack.SameStack, audits.LeftSame},
		{3, 4, stack.StackedAgain, audits.LeftHands}, {4, 5, stack.StackedAgain, audits.LeftUnnamed},
	}, got)
	assert.InDelta(t, 10/12./48.4-2.3*(10/12.)/96/48.4, e.Pairs[0].Difference, 0.0003, "ten of twelve heights an inch higher, the ends lying loose")
	assert.Equal(t, 1, e.Counted)
	assert.Equal(t, 30, e.Enough)
	assert.Nil(t, e.Share, "one pair is too few")
	_, err = y.Stowing(y.ctx, act.Actor{Role: act.Buyer})
	require.Error(t, err)
}

func TestStowingIsWorkedOutFromThirtyPairs(t *testing.T) {
	y := newYard(t)
	for range 30 {
		o := y.take(goodOrder())
		y.readAgain(o.ID, "48", "")
		y.readAgain(o.ID, "51", `"stacked":"again","stacked_by":"other",`)
	}
	e, err := y.Stowing(y.ctx, owner)
	require.NoError(t, err)
	assert.Equal(t, 30, e.Counted)
	require.NotNil(t, e.Share)
	assert.InDelta(t, (2.5/49.25-2.3*2.5/96/49.25)/math.Sqrt2, *e.Share, 0.004, "2.5 in of 49.25 between two people, the ends lying loose; less what readings differ by")
}

func TestABuyersCaseTellsOfStackingToo(t *testing.T) {
	y := newYard(t)
	receipt := y.deliver(y.take(goodOrder()).ID, orders.LoadRequest{}).Receipt.Facts.Number
	key := cases.Key{Code: y.link(receipt)}
	for _, said := range []string{"", `"stacked":"again","stacked_by":"buyer",`} {
		_, err := y.SaveCaseTally(y.ctx, buyerAct(), key, orders.TallyRequest{Document: stackedTally("47", said), ReadBy: "Ada Quill"})
		require.NoError(t, err)
	}
	e, err := y.Stowing(y.ctx, owner)
	require.NoError(t, err)
	require.Len(t, e.Pairs, 1)
	assert.Equal(t, receipt, e.Pairs[0].Receipt)
	assert.Empty(t, e.Pairs[0].Left)
}

// What an audit measures is held against the order's last tally before it, where it is
// said whether the wood was stacked again meanwhile.
func TestAnAuditTellsOfStackingToo(t *testing.T) {
	for by, left := range map[string]audits.Left{"buyer": "", "": audits.LeftSame} {
		y := newYard(t)
		r := goodOrder()
		r.Quantity, r.Confirmed = "2/3 cord", "2/3 cord"
		o := y.take(r)
		y.readAgain(o.ID, "37", "")
		y.deliver(o.ID, orders.LoadRequest{})
		a, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"})
		require.NoError(t, err)
		y.prepared(a)
		hold := audits.HoldRequest{Since: "2026-03-09 08:00", HeldBy: "Ada Quill", Broken: "no", Apart: "none", StackedBy: "buyer"}
		_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, hold)
		assert.Equal(t, map[string]string{"stacked_by": "contradicts"}, faults(t, err), "wood that was kept as it was is not stacked again")
		if hold.StackedBy = by; by != "" {
			hold.Broken, hold.Note = "moved", "stacked along the fence"
		}
		_, err = y.HoldWood(y.ctx, y.auditing(), a.ID, hold)
		require.NoError(t, err)
		for _, name := range []string{"Una Reed", "Tobias Fenn"} {
			y.handIn(y.measurer(a, name), "37 1/4 in")
		}
		e, err := y.Stowing(y.ctx, auditor)
		require.NoError(t, err)
		assert.Empty(t, e.Pairs, "nothing is shown of an audit that is open")
		y.answered(a)
		_, err = y.CloseAudit(y.ctx, y.auditing(), a.ID, audits.CloseRequest{})
		require.NoError(t, err)
		e, err = y.Stowing(y.ctx, auditor)
		require.NoError(t, err)
		require.Len(t, e.Pairs, 1, by)
		assert.Equal(t, a.Number, e.Pairs[0].Audit)
		assert.Equal(t, left, e.Pairs[0].Left, by)
	}
}
