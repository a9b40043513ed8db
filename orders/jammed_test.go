package orders_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A jammed printer paints no paper.
type jammed struct{ paperless }

var errJammed = errors.New("the font is gone")

func (jammed) Receipt(orders.Receipt, string) ([]byte, error) { return nil, errJammed }

func (jammed) Sheet(orders.Sheet) ([]byte, error) { return nil, errJammed }

// Where a paper can't be painted nothing of it is kept: no number is used up, and the
// same is issued once it can be.
func TestAPaperThatCannotBePaintedLeavesNothing(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	good := y.Service
	y.Service = y.openWith(jammed{})
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.ErrorIs(t, err, errJammed)
	y.Service = good
	require.Empty(t, y.history(o.ID).Receipts)
	require.EqualValues(t, 1, y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts.Number)

	y.Service = y.openWith(jammed{})
	_, err = y.SaveTally(y.ctx, y.act(), o.ID, orders.TallyRequest{Document: cordTally(), ReadBy: "Wren"})
	require.ErrorIs(t, err, errJammed)
	y.Service = good
	require.Empty(t, y.history(o.ID).Tallies)
	require.EqualValues(t, 1, y.measure(o.ID).Sheet.Number)
	y.noFaults()
}

// A receipt for wood that makes a shortage good delivers no load of its own: it can be
// neither corrected nor made void as one.
func TestAReceiptThatSettlesIsNotEnded(t *testing.T) {
	y := newYard(t)
	o := y.shortDelivery()
	y.settle(o.ID, inWood())
	issued, err := y.Bring(y.ctx, y.act(), o.ID, orders.BringRequest{Brought: "4 cu ft"})
	require.NoError(t, err)
	const says = "receipt 2 delivers no wood; only a receipt for a load can be corrected or made void"
	_, err = y.Void(y.ctx, y.act(), issued.Receipt.Facts.Number, orders.VoidRequest{Reason: "x"})
	requireKind(t, act.Conflict, err)
	require.ErrorContains(t, err, says)
	_, err = y.Correct(y.ctx, y.act(), issued.Receipt.Facts.Number, orders.CorrectionRequest{})
	requireKind(t, act.Conflict, err)
	require.ErrorContains(t, err, says)
	y.noFaults()
}

// Totals are by how wood stands, in the order in which they were first met; nothing adds
// no total of nothing.
func TestQuantitiesAddByHowWoodStands(t *testing.T) {
	ranked := measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}
	loose := measure.Quantity{Volume: 90 * measure.CubicFoot, Basis: measure.Loose}
	var totals []measure.Quantity
	for _, q := range []measure.Quantity{{Basis: measure.Container}, loose, ranked, loose, {Basis: measure.Ranked}} {
		totals = orders.AddQuantity(totals, q)
	}
	require.Equal(t, []measure.Quantity{{Volume: 180 * measure.CubicFoot, Basis: measure.Loose}, ranked}, totals)
}
