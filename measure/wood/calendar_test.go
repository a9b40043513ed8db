package wood

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func day(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }

// Wood that is to be dry by October is stacked by January: common practice, no
// source, and a university's extension leaflet (Missouri, 2011), by which it takes
// about 9 months to 20 %.
func TestDryByOctoberIsStackedByJanuary(t *testing.T) {
	f, err := Dries(dry(t, 75), dry(t, 20), OutdoorEquilibrium())
	require.NoError(t, err)
	by := f.StackBy(day(2027, time.October, 1))
	assert.WithinRange(t, by.Likely, day(2026, time.December, 15), day(2027, time.January, 15))
	assert.True(t, by.Soonest.Before(by.Likely))
	assert.True(t, by.Latest.After(by.Likely))
}

// Wood stacked in fall hardly dries before spring (Forest Products Laboratory,
// Technical Note 233, 1960).
func TestWoodStackedInFallIsNotDryBeforeSpring(t *testing.T) {
	f, err := Dries(dry(t, 75), dry(t, 20), OutdoorEquilibrium())
	require.NoError(t, err)
	r := f.Ready(day(2026, time.October, 15))
	assert.True(t, r.Soonest.After(day(2027, time.April, 1)), r.Soonest)
	// Green wood takes 6 to 12 months: common practice, no source.
	spring := f.Ready(day(2027, time.April, 1))
	assert.WithinRange(t, spring.Soonest, day(2027, time.July, 1), day(2027, time.October, 1))
	assert.WithinRange(t, spring.Latest, day(2028, time.March, 1), day(2028, time.April, 15))
}

// A year is a year, whichever day it begins on, and the way back is the way there.
func TestCalendarGoesBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		start := day(2026, time.January, 1).AddDate(0, 0, rapid.IntRange(0, 800).Draw(t, "day"))
		length := Days(rapid.IntRange(0, 900).Draw(t, "length"))
		end := after(start, length)
		back := before(end, length)
		require.LessOrEqual(t, start.Sub(back).Abs(), 10*24*time.Hour, "%v %v", start, back)
		require.False(t, end.Before(start))
		year := after(start, 365)
		require.InDelta(t, 365, year.Sub(start).Hours()/24, 6)
	})
	assert.Equal(t, day(2026, time.May, 1), after(day(2026, time.May, 1), 0))
}
