package act_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

func TestParseDate(t *testing.T) {
	d, err := act.ParseDate("2028-02-29")
	require.NoError(t, err)
	require.Equal(t, act.Date{Year: 2028, Month: time.February, Day: 29}, d)
	require.Equal(t, "2028-02-29", d.String())
	require.Equal(t, "2028-03-01", d.AddDays(1).String())
	for _, row := range []struct{ text, code string }{
		{"", "not-a-date"},
		{"2027-02-29", "not-a-date"}, // no leap year
		{"2026-13-01", "not-a-date"},
		{"2026-3-9", "not-a-date"},
		{"03/09/2026", "not-a-date"},
		{"2026-03-09T00:00:00Z", "not-a-date"},
		{"1999-12-31", "out-of-range"},
		{"0026-03-09", "out-of-range"}, // a year of two digits
	} {
		_, err := act.ParseDate(row.text)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, row.text)
		require.Equal(t, row.code, fault.Code, row.text)
	}
}

func TestDateInJSON(t *testing.T) {
	for _, d := range []act.Date{{}, {Year: 2026, Month: time.March, Day: 9}} {
		text, err := json.Marshal(d)
		require.NoError(t, err)
		var back act.Date
		require.NoError(t, json.Unmarshal(text, &back))
		require.Equal(t, d, back)
	}
}

func FuzzParseDate(f *testing.F) {
	for _, text := range []string{"2026-03-09", "2028-02-29", "0000-00-00", "", "9999-99-99", "\xff"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, err := act.ParseDate(text)
		if err == nil {
			require.Equal(t, text, d.String())
		}
	})
}
