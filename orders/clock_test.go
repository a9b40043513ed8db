package orders_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// sure is an act of somebody who said that the clock is right.
func (y *sellerYard) sure() act.Act {
	y.t.Helper()
	zone, err := time.LoadLocation(goodShop().Zone)
	require.NoError(y.t, err)
	doing := y.act()
	doing.Clock = y.now.In(zone).Format(time.DateOnly)
	return doing
}

func TestAClockInDoubtIsSaidAndAskedAboutBeforeIssuing(t *testing.T) {
	y := newYard(t)
	noDoubt := func() {
		t.Helper()
		doubt, err := y.ClockDoubt(y.ctx)
		require.NoError(t, err)
		require.Empty(t, doubt.Key)
	}
	noDoubt()
	first := y.take(goodOrder())
	issued := y.now
	y.deliver(first.ID, orders.LoadRequest{})
	for _, row := range []struct {
		now  time.Time
		says string
	}{
		{issued.AddDate(0, 0, -3), "This computer’s clock says it is 6 March 2026, but the last paper was issued on 9 March 2026."},
		{issued.Add(-2 * time.Hour), "This computer’s clock says it is 9 March 2026, but the last paper was issued on 9 March 2026."},
		{issued.AddDate(9, 0, 0), "This computer’s clock says it is 9 March 2035; the last paper was issued on 9 March 2026, more than a year before."},
	} {
		y.now = row.now
		doubt, err := y.ClockDoubt(y.ctx)
		require.NoError(t, err)
		require.Equal(t, row.says, doubt.String())
		o := y.take(goodOrder())
		asked := map[string]string{"clock": "read-back"}
		_, err = y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
		require.Equal(t, asked, faults(t, err))
		_, err = y.SaveTally(y.ctx, y.act(), first.ID, orders.TallyRequest{Document: cordTally(), ReadBy: "Wren"})
		require.Equal(t, asked, faults(t, err))
		_, err = y.Void(y.ctx, y.act(), 1, orders.VoidRequest{Reason: "typed twice"})
		require.Equal(t, asked, faults(t, err))
		yesterday := y.sure()
		yesterday.Clock = issued.Format(time.DateOnly)[:9] + "1"
		_, err = y.Deliver(y.ctx, yesterday, o.ID, orders.LoadRequest{})
		require.Equal(t, asked, faults(t, err), "it was said of another day")
	}
	y.now = issued.Add(-30 * time.Minute) // two computers' clocks differ
	noDoubt()
	y.now = issued.AddDate(1, 0, 0)
	noDoubt()

	y.now = issued.AddDate(9, 0, 0)
	o := y.take(goodOrder())
	_, err := y.Deliver(y.ctx, y.sure(), o.ID, orders.LoadRequest{})
	require.NoError(t, err)
	noDoubt()
}

func TestAClockFromBeforeTheProgramIsInDoubt(t *testing.T) {
	y := newYard(t)
	y.now = time.Date(2011, 5, 3, 12, 0, 0, 0, time.UTC)
	o := y.take(goodOrder())
	_, err := y.Deliver(y.ctx, y.act(), o.ID, orders.LoadRequest{})
	require.Equal(t, map[string]string{"clock": "read-back"}, faults(t, err))
}

// With a clock that lost its battery nothing is written that could not be read again.
func TestNothingIsIssuedBeforeTheYear2000(t *testing.T) {
	y := newYard(t)
	o := y.take(goodOrder())
	y.now = time.Date(1970, 1, 1, 0, 5, 0, 0, time.UTC)
	_, err := y.Deliver(y.ctx, y.sure(), o.ID, orders.LoadRequest{})
	requireKind(t, act.Conflict, err)
	require.Contains(t, err.Error(), "1 January 1970")
	y.now = time.Date(2026, 3, 10, 12, 0, 0, 0, time.UTC)
	h, err := y.History(y.ctx, owner, o.ID)
	require.NoError(t, err)
	require.Empty(t, h.Loads)
	require.Equal(t, int64(1), y.deliver(o.ID, orders.LoadRequest{}).Receipt.Facts.Number)
	report, err := y.Verify(y.ctx, owner, nil)
	require.NoError(t, err)
	require.Empty(t, report.Faults)
}
