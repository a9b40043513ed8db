package road_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/road"
)

// Of an order that comes in two loads the first is delivered: its stop says so, nothing is due
// of it, and the day can still be changed by hand.
func TestADeliveredStopSaysSoAndBlocksNothing(t *testing.T) {
	l := newLot(t)
	red := l.vehicle("red truck", "4 ft", "24000 lb")
	a, b := l.order("Ada", "2 cords", "28 November 2026", 10), l.order("Bram", "1 cord", "28 November 2026", 20)
	cord := int64(measure.Cord)
	r := road.ChangeRequest{Stops: []road.StopRequest{
		{Order: a.ID, Nanolitres: cord, Trip: red.ID + " 1"}, {Order: a.ID, Nanolitres: cord, Trip: red.ID + " 2"}, {Order: b.ID, Trip: red.ID + " 3"}}}
	d, err := l.road.Change(t.Context(), l.by(owner), day, r)
	require.NoError(t, err)
	l.now = l.now.AddDate(0, 0, 1)
	_, err = l.shop.Deliver(t.Context(), l.by(owner), a.ID, orders.LoadRequest{Delivered: "1 cord", On: day.String()})
	require.NoError(t, err)

	d, err = l.road.Day(t.Context(), owner, day)
	require.NoError(t, err)
	assert.Equal(t, []bool{true, false, false}, []bool{d.Trips[0].Drops[0].Gone, d.Trips[1].Drops[0].Gone, d.Trips[2].Drops[0].Gone})
	assert.Zero(t, d.Trips[0].Drops[0].Collect.Minor)
	assert.Positive(t, d.Trips[1].Drops[0].Collect.Minor, "both loads are paid with the second")
	assert.Empty(t, d.Waiting)

	r.Version = d.Version
	r.Stops[2].Trip = red.ID + " 2"
	r.Stops[2].Place = "1"
	d, err = l.road.Change(t.Context(), l.by(owner), day, r)
	require.NoError(t, err, "what is delivered isn't in the way")
	assert.Equal(t, []string{"red truck: Ada", "red truck: Bram Ada"}, stops(d))
}

// Two people tick different stops of one trip at once, from the same page: both ticks stay.
// A trip that was put together again meanwhile is shown first.
func TestTicksOfDifferentStopsAreBothKept(t *testing.T) {
	l := newLot(t)
	red := l.vehicle("red truck", "4 ft", "24000 lb")
	a, b := l.order("Ada", "1/2 cord", "28 November 2026", 10), l.order("Bram", "1/2 cord", "28 November 2026", 20)
	r := road.ChangeRequest{Stops: []road.StopRequest{{Order: a.ID, Trip: red.ID + " 1", Place: "1"}, {Order: b.ID, Trip: red.ID + " 1", Place: "2"}}}
	d, err := l.road.Change(t.Context(), l.by(owner), day, r)
	require.NoError(t, err)
	shown := road.LoadedRequest{Trip: 1, Shown: d.Trips[0].Shown(), Version: d.Version}
	tick := func(stops ...int64) (road.Day, error) {
		r := shown
		r.Loaded = stops
		return l.road.Load(t.Context(), l.by(driver), day, r)
	}
	_, err = tick(1)
	require.NoError(t, err)
	d, err = tick(2)
	require.NoError(t, err, "shown before the other tick")
	assert.Equal(t, []bool{true, true}, []bool{d.Trips[0].Drops[0].Loaded, d.Trips[0].Drops[1].Loaded})
	shown.Shown = d.Trips[0].Shown()
	d, err = tick(1)
	require.NoError(t, err)
	assert.Equal(t, []bool{true, false}, []bool{d.Trips[0].Drops[0].Loaded, d.Trips[0].Drops[1].Loaded}, "taken off again")

	r.Version, r.Stops[0].Place, r.Stops[1].Place = d.Version, "2", "1"
	_, err = l.road.Change(t.Context(), l.by(owner), day, r)
	require.NoError(t, err)
	_, err = tick(1, 2)
	assert.Equal(t, act.Conflict, act.KindOf(err), "the stops are others now")
}
