package day

import (
	"errors"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

var saturday = act.Date{Year: 2026, Month: time.November, Day: 28}

// rows are what was said, and what was meant or why it was refused.
func rows(t testing.TB) [][2]string {
	content, err := os.ReadFile("testdata/days.csv")
	require.NoError(t, err)
	var all [][2]string
	for line := range strings.Lines(string(content)) {
		said, want, found := strings.Cut(strings.TrimSuffix(line, "\n"), "|")
		if found && !strings.HasPrefix(line, "#") {
			all = append(all, [2]string{said, want})
		}
	}
	return all
}

func TestDaysAsTheyAreSaid(t *testing.T) {
	for _, row := range rows(t) {
		s, err := Parse(row[0], saturday)
		got := s.String()
		if err != nil {
			var input *measure.InputError
			require.True(t, errors.As(err, &input), row[0])
			assert.NotEmpty(t, input.Accepts.Key, row[0])
			got = "!" + input.Code
		}
		assert.Equal(t, row[1], got, "%s: %v", row[0], err)
	}
}

// A weekday of this week that is still to come may be meant by "next", or that of the week
// after: it is asked, in words that answer it.
func TestNextIsAskedAboutInTheMiddleOfAWeek(t *testing.T) {
	tuesday := saturday.AddDays(-4)
	_, err := Parse("next Friday", tuesday)
	var input *measure.InputError
	require.True(t, errors.As(err, &input))
	assert.Equal(t, "ambiguous", input.Code)
	assert.Equal(t, "it may be Friday 27 November 2026 or Friday 4 December 2026", input.Reason.String())
	s, err := Parse("27 November 2026", tuesday)
	require.NoError(t, err)
	assert.Equal(t, time.Friday, s.From.Midnight().Weekday())
}

// Easter Sundays as published by the U.S. Census Bureau, Dates of Easter, 2000 to 2099.
func TestEaster(t *testing.T) {
	for _, d := range []string{"2000-04-23", "2008-03-23", "2011-04-24", "2019-04-21", "2024-03-31", "2025-04-20", "2026-04-05", "2027-03-28", "2038-04-25", "2049-04-18", "2076-04-19"} {
		want, err := act.ParseDate(d)
		require.NoError(t, err)
		assert.Equal(t, want, easter(want.Year))
	}
}

func TestStopsAreInTheOrderOfTheirHours(t *testing.T) {
	last := -1
	for _, text := range []string{"morning", "at 09:30", "after 10:00", "before 11:00", "afternoon", "14:00 to 16:00", "evening", ""} {
		s, err := Parse(strings.TrimSuffix("5 December, "+text, ", "), saturday)
		require.NoError(t, err)
		assert.Greater(t, s.Start(), last, text)
		last = s.Start()
	}
}

// Whatever is typed: a span is in order, begins no sooner than today, and is read back from
// how it is written as the same, also a day later.
func FuzzParse(f *testing.F) {
	for _, row := range rows(f) {
		f.Add(row[0], 0)
	}
	f.Fuzz(func(t *testing.T, text string, days int) {
		today := saturday.AddDays(days % 1000)
		s, err := Parse(text, today)
		if err != nil {
			var input *measure.InputError
			if !errors.As(err, &input) || !s.IsZero() {
				t.Fatalf("%q: %v", text, err)
			}
			return
		}
		if s.IsZero() {
			return
		}
		if today.After(s.From) || !s.Open() && s.From.After(s.To) {
			t.Fatalf("%q on %s: %+v", text, today, s)
		}
		again, err := Parse(s.String(), today)
		if err != nil || again != s {
			t.Fatalf("%q is written %q, which is read as %+v: %v", text, s, again, err)
		}
		if s.From.After(today) {
			if later, err := Parse(s.String(), s.From); err != nil || later != s {
				t.Fatalf("%q on %s: %+v, %v", s, s.From, later, err)
			}
		}
	})
}
