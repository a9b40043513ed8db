package storage_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
)

func day(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }

// wanted reads a month as typed, on 25 November 2026.
func wanted(text string) (time.Time, error) {
	w, err := storage.TypedWinter{Fuel: "wood", Amount: "3", Climate: "cold", Appliance: "new stove", Wanted: text}.Read(storage.Units{Today: day(2026, time.November, 25)})
	return w.Wanted, err
}

func TestMonthsAreRead(t *testing.T) {
	for text, want := range map[string]time.Time{
		"2027-10": day(2027, time.October, 1), "October 2027": day(2027, time.October, 1), " oct  2027 ": day(2027, time.October, 1), "2027-10-17": day(2027, time.October, 1),
		"october": day(2027, time.October, 1), "January 2000": day(2000, time.January, 1), "2199-12": day(2199, time.December, 1), "Dec": day(2026, time.December, 1), "November": day(2027, time.November, 1), "": {},
	} {
		got, err := wanted(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for _, bad := range []string{"soon", "2027-13", "13", "October 27", "October 1999", "2200-01", "2027-02-30", "10/2027"} {
		_, err := wanted(bad)
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, bad)
		assert.Equal(t, "wanted", faults[0].Field)
		assert.NotEmpty(t, faults[0].Accepts.Key)
	}
}

func FuzzMonth(f *testing.F) {
	for _, s := range []string{"2027-10", "October 2027", "oct", "\xff", "99999-01", "2027-10-31"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, err := wanted(s)
		if err == nil && !got.IsZero() && (got.Day() != 1 || got.Year() < 2000 || got.Year() > 2199) {
			t.Fatalf("%q: %v", s, got)
		}
	})
}

// Green oak stacked in November burns well in the summer or fall after: 6 to 12
// months for green wood is common practice, no source.
func TestGreenOakStackedInNovember(t *testing.T) {
	oak, err := wood.ParseMixes("oak")
	require.NoError(t, err)
	r := request(3*measure.Cord/2, storage.Wall, 40*measure.Foot, 6*measure.Foot, 0)
	r.Species, r.Stacked = oak, day(2026, time.November, 25)
	a := find(t, r)
	assert.WithinRange(t, a.Burns.Ready.Soonest, day(2027, time.June, 1), day(2027, time.August, 15))
	assert.WithinRange(t, a.Burns.Ready.Likely, day(2027, time.August, 1), day(2027, time.October, 31))
	assert.True(t, a.Burns.Ready.Latest.After(a.Burns.Ready.Likely))
	green, dry := r.Weights()
	red, err := wood.ParseMixes("red oak")
	require.NoError(t, err)
	r.Species = red
	redGreen, redDry := r.Weights()
	assert.LessOrEqual(t, green.Low, redGreen.Low, "the range of all oaks takes in that of one")
	assert.GreaterOrEqual(t, green.High, redGreen.High)
	assert.LessOrEqual(t, dry.Low, redDry.Low)
	assert.GreaterOrEqual(t, dry.High, redDry.High)

	r.Moisture, err = wood.DryBasis(18)
	require.NoError(t, err)
	assert.True(t, find(t, r).Burns.Already())
}

func TestDrierWoodBurnsWellSooner(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := request(measure.Cord, storage.Wall, 40*measure.Foot, 6*measure.Foot, 0)
		r.Stacked = day(2026, time.January, 1).AddDate(0, 0, rapid.IntRange(0, 730).Draw(t, "day"))
		wet := rapid.Float64Range(22, 150).Draw(t, "moisture")
		ready := func(percent float64) wood.Window {
			m, err := wood.DryBasis(percent)
			require.NoError(t, err)
			r.Moisture = m
			return find(t, r).Burns.Ready
		}
		w, d := ready(wet), ready(wet-1)
		require.False(t, w.Likely.Before(d.Likely))
		require.False(t, w.Soonest.Before(r.Stacked))
		require.False(t, w.Likely.Before(w.Soonest))
		require.False(t, w.Latest.Before(w.Likely))
	})
}

// Three cords that are to be dry by October are stacked by January, give or take a few
// weeks: common practice, no source.
func TestStackByJanuary(t *testing.T) {
	w := storage.Winter{Fuel: storage.WoodFuel, Amount: 3_000, Share: 1, Appliance: storage.NewStove, Wood: storage.HeavyHardwood, Wanted: day(2027, time.October, 1), Today: day(2026, time.November, 25)}
	n := need(t, w)
	assert.WithinRange(t, n.Burns.StackBy.Likely, day(2026, time.December, 15), day(2027, time.February, 10))
	assert.False(t, n.Burns.Tight || n.Burns.TooLate)
	w.Today = day(2027, time.February, 15)
	n = need(t, w)
	assert.True(t, n.Burns.Tight && !n.Burns.TooLate)
	w.Today = day(2027, time.July, 1)
	assert.True(t, need(t, w).Burns.TooLate)
}
