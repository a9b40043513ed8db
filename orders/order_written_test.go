package orders_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
)

// A day in words that a phone kept until it had signal is meant from when it was typed, in a
// line and in its own field; a phone's clock that is ahead of this one counts for nothing.
func TestADayIsMeantFromWhenItWasWritten(t *testing.T) {
	y := newYard(t) // it is Monday, 9 March 2026
	require.Equal(t, "Monday", y.now.Weekday().String())
	for written, want := range map[string]string{
		"":                     "14 March 2026",
		"2026-03-06T15:00:00Z": "7 March 2026",  // the Friday before: its Saturday is over by now
		"2026-03-20T15:00:00Z": "14 March 2026", // is yet to come
	} {
		line := goodOrder()
		line.Quantity, line.Written = "1 cord, Saturday", written
		assert.Equal(t, want, y.take(line).Day.String(), "in the line, written %q", written)
		field := goodOrder()
		field.Day, field.Written = "Saturday", written
		assert.Equal(t, want, y.take(field).Day.String(), "in its field, written %q", written)
		o := y.take(goodOrder())
		o, err := y.SetDay(y.ctx, y.act(), o.ID, orders.DayRequest{Day: "Saturday", Written: written, Version: o.Version})
		require.NoError(t, err)
		assert.Equal(t, want, o.Day.String(), "set later, written %q", written)
	}
	wrong := goodOrder()
	wrong.Quantity, wrong.Day, wrong.Written = "1 cord", "Saturday", "last week"
	_, err := y.TakeOrder(y.ctx, y.act(), wrong)
	assert.Equal(t, map[string]string{"written": "not-a-time"}, faults(t, err))
}
