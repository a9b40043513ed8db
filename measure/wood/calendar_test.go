package wood

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestDryByCountsDaysOfTheDryingSeason(t *testing.T) {
	day := func(text string) time.Time {
		d, err := time.Parse(time.DateOnly, text)
		require.NoError(t, err)
		return d
	}
	for _, row := range []struct {
		start string
		days  Days
		want  string
	}{
		{"2026-05-01", 0, "2026-05-01"},
		{"2026-05-01", 30, "2026-05-31"},
		{"2026-09-30", 1, "2027-04-01"},   // nothing dries in fall and winter
		{"2026-11-02", 183, "2027-09-30"}, // one season: 30+31+30+31+31+30 days
		{"2026-03-31", 366, "2027-09-30"}, // two
		{"2027-09-01", 30, "2028-04-01"},
	} {
		require.Equal(t, row.want, row.days.DryBy(day(row.start)).Format(time.DateOnly), row.start)
	}
}
