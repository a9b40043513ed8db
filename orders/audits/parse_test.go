package audits

import (
	"errors"
	"testing"
	"time"
	_ "time/tzdata"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

func TestParseMoment(t *testing.T) {
	zone, err := time.LoadLocation("America/New_York")
	require.NoError(t, err)
	for text, want := range map[string]time.Time{
		"2026-03-09T14:30":    time.Date(2026, 3, 9, 18, 30, 0, 0, time.UTC),
		"2026-03-09 14:30":    time.Date(2026, 3, 9, 18, 30, 0, 0, time.UTC),
		"2026-01-09T14:30:10": time.Date(2026, 1, 9, 19, 30, 10, 0, time.UTC),
	} {
		got, err := parseMoment(text, zone)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, why := range map[string]string{
		"2026-03-09":       "no time of day",
		"14:30":            "no day",
		"2026-02-30 14:30": "no such day",
		"1999-03-09 14:30": "before the years that are taken",
		"2026-03-09 25:00": "no such hour",
		"yesterday":        "no figures",
	} {
		_, err := parseMoment(text, zone)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, "%s: %s", text, why)
		assert.NotEmpty(t, fault.Accepts.Key, why)
	}
}

// A minute written as the form writes it is read as that minute.
func TestMomentsComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		minutes := rapid.Int64Range(time.Date(2000, 1, 2, 0, 0, 0, 0, time.UTC).Unix()/60, time.Date(2199, 1, 1, 0, 0, 0, 0, time.UTC).Unix()/60).Draw(t, "minutes")
		when := time.Unix(minutes*60, 0).UTC()
		got, err := parseMoment(when.Format("2006-01-02T15:04"), time.UTC)
		if err != nil || !got.Equal(when) {
			t.Fatalf("%s became %s, %v", when, got, err)
		}
	})
}

func FuzzParseMoment(f *testing.F) {
	for _, seed := range []string{"2026-03-09T14:30", "2026-03-09 14:30", "", "9999-99-99T99:99", "2026-03-09T14:30:61"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		when, err := parseMoment(text, time.UTC)
		var fault *measure.InputError
		switch {
		case err == nil && (when.Year() < act.FirstYear || when.Year() > act.LastYear):
			t.Fatalf("%q became %s", text, when)
		case err != nil && !errors.As(err, &fault):
			t.Fatalf("%q: %v is no fault of the input", text, err)
		}
	})
}
