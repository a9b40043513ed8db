package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/audits"
)

// closed is an audit closed by two measurers who read one height, in inches.
func (y *sellerYard) closed(a audits.Audit, high string, r audits.CloseRequest) (audits.Issued, error) {
	y.t.Helper()
	a = y.prepared(a)
	for _, name := range []string{"Una Reed", "Tobias Fenn"} {
		y.handIn(y.measurer(a, name), high)
	}
	a, err := y.Audit(y.ctx, auditor, a.ID)
	require.NoError(y.t, err)
	a = y.answered(a)
	return y.CloseAudit(y.ctx, y.auditing(), a.ID, r)
}

// The closed audits of one seller are put together, whatever the case and blanks of
// his name; an open one is in no series.
func TestSellerSeries(t *testing.T) {
	y := newYard(t)
	a := y.audited()
	_, err := y.closed(a, "37 1/4 in", audits.CloseRequest{})
	require.NoError(t, err)
	one, err := y.SellerSeries(y.ctx, auditor, a.Subject.Vendor.Name)
	require.NoError(t, err)
	assert.Equal(t, 1, one.Series.Count)
	assert.Nil(t, one.Series.Low, "one audit has no interval")

	for range 2 {
		next, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"})
		require.NoError(t, err)
		if len(one.Audits) == 1 {
			_, err = y.closed(next, "37 3/4 in", audits.CloseRequest{})
			require.NoError(t, err)
		}
		one.Audits = nil
	}
	both, err := y.SellerSeries(y.ctx, auditor, "  "+a.Subject.Vendor.Name+" ")
	require.NoError(t, err)
	assert.Equal(t, 2, both.Series.Count)
	assert.Len(t, both.Audits, 2)
	assert.Nil(t, both.Series.High, "two are too few to say what is usual")
	assert.Equal(t, stack.Short, both.Audits[0].Word)
	assert.Less(t, both.Series.Mean, 0.0)
	none, err := y.SellerSeries(y.ctx, auditor, "nobody of that name")
	require.NoError(t, err)
	assert.Zero(t, none.Series.Count)
}

// A mix sold by shares is held against pieces counted, and the report keeps the rules
// it was held to, without the terms they bar.
func TestAuditHoldsSharesOfSpecies(t *testing.T) {
	y := newYard(t)
	r := goodOrder()
	r.Species = "60 % oak, 40 % maple"
	y.deliver(y.take(r).ID, orders.LoadRequest{})
	open := func() audits.Audit {
		a, err := y.OpenAudit(y.ctx, y.auditing(), audits.Request{Auditor: "Pim Holt", Capacity: "volunteer", Receipt: "1"})
		require.NoError(t, err)
		return a
	}
	issued, err := y.closed(open(), "37 1/4 in", audits.CloseRequest{Counted: "oak 20, maple 80"})
	require.NoError(t, err)
	require.NotNil(t, issued.Report.Shares)
	assert.Equal(t, wood.ShareOutside, issued.Report.Shares.Word)
	require.NotNil(t, issued.Report.Rules)
	assert.Equal(t, 10.0, issued.Report.Rules.Shares.Percent)
	assert.Empty(t, issued.Report.Rules.Barred)

	_, err = y.closed(open(), "37 1/4 in", audits.CloseRequest{Counted: "oak"})
	assert.Equal(t, map[string]string{"counted": "not-shares"}, faults(t, err))
}
