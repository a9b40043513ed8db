package money_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/orders/money"
)

func TestParseRate(t *testing.T) {
	for _, row := range []struct {
		text string
		want money.Rate
	}{
		{"5.5 %", 55_000}, {"5,5%", 55_000}, {"8.875", 88_750}, {"0", 0}, {"100 %", 1_000_000}, {"0.0001 %", 1}, {" 7 ", 70_000},
	} {
		got, err := money.ParseRate(row.text)
		require.NoError(t, err, row.text)
		require.Equal(t, row.want, got, row.text)
	}
	for text, code := range map[string]string{
		"": "not-a-rate", "-5": "not-a-rate", "1e1": "not-a-rate", "5.5.5": "not-a-rate", "NaN": "not-a-rate", "5 per cent": "not-a-rate",
		"100.0001": "too-large", "500": "too-large", "5.00001": "too-many-decimals",
	} {
		_, err := money.ParseRate(text)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, text)
		require.Equal(t, code, fault.Code, text)
	}
	rapid.Check(t, func(t *rapid.T) {
		r := money.Rate(rapid.Int64Range(0, 1_000_000).Draw(t, "rate"))
		if back, err := money.ParseRate(r.String()); err != nil || back != r {
			t.Fatalf("%s reads as %v, %v", r, back, err)
		}
	})
}

func FuzzParseRate(f *testing.F) {
	f.Add("5.5 %")
	f.Fuzz(func(t *testing.T, text string) {
		r, err := money.ParseRate(text)
		if err == nil && (r < 0 || r > 1_000_000) {
			t.Fatalf("%q reads as %d", text, r)
		}
	})
}
