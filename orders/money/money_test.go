package money_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/orders/money"
)

func TestParseReads(t *testing.T) {
	for _, row := range []struct {
		text, currency string
		minor          int64
	}{
		{"280", "USD", 28000},
		{"280.00", "USD", 28000},
		{"280.5", "USD", 28050},
		{"280,50", "USD", 28050},
		{"$280", "USD", 28000},
		{"$ 280.05", "USD", 28005},
		{"280.00 USD", "USD", 28000},
		{"280 €", "EUR", 28000},
		{"£0", "GBP", 0},
		{"0.01", "USD", 1},
		{" 12 ", "USD", 1200},
		{"3000", "JPY", 3000},
		{"1.234", "TND", 1234}, // three decimals, ISO 4217
		{"10000000", "USD", 1_000_000_000},
	} {
		m, err := money.Parse(row.text, row.currency)
		require.NoError(t, err, row.text)
		require.Equal(t, money.Money{Minor: row.minor, Currency: row.currency}, m, row.text)
	}
}

func TestParseRefuses(t *testing.T) {
	for _, row := range []struct{ text, currency, code string }{
		{"", "USD", "not-an-amount"},
		{"-5", "USD", "negative"},
		{"−5", "USD", "negative"},
		{"$-5", "USD", "negative"},
		{"+5", "USD", "not-an-amount"},
		{"1e3", "USD", "not-an-amount"},
		{"0x10", "USD", "not-an-amount"},
		{"NaN", "USD", "not-an-amount"},
		{"Inf", "USD", "not-an-amount"},
		{"5.005", "USD", "too-many-decimals"},
		{"5.5", "JPY", "too-many-decimals"},
		{"1,234", "USD", "ambiguous"},
		{"1,234", "JPY", "ambiguous"},
		{"1,234.50", "USD", "not-an-amount"}, // thousands are not separated
		{"1 234", "USD", "not-an-amount"},
		{".50", "USD", "not-an-amount"},
		{"5.", "USD", "not-an-amount"},
		{"٣", "USD", "not-an-amount"}, // digits of another script
		{"€5", "USD", "not-an-amount"},
		{"5 EUR", "USD", "not-an-amount"},
		{"10000000.01", "USD", "too-large"},
		{"99999999999999999999", "USD", "too-large"},
	} {
		_, err := money.Parse(row.text, row.currency)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, row.text)
		require.Equal(t, row.code, fault.Code, row.text)
		require.Equal(t, row.text, fault.Got)
		require.NotEmpty(t, fault.Reason.Key)
		require.NotEmpty(t, fault.Accepts.Key)
	}
}

func TestMoneyIsWrittenExactly(t *testing.T) {
	for _, row := range []struct {
		minor          int64
		currency, want string
	}{
		{28000, "USD", "280.00 USD"},
		{5, "USD", "0.05 USD"},
		{-5, "USD", "-0.05 USD"},
		{-9223372036854775808, "USD", "-92233720368547758.08 USD"},
		{3000, "JPY", "3000 JPY"},
		{1234, "TND", "1.234 TND"},
	} {
		require.Equal(t, row.want, money.Money{Minor: row.minor, Currency: row.currency}.String())
	}
}

func TestMoneyReadsWhatItWrites(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := money.Money{Minor: rapid.Int64Range(0, 1_000_000_000).Draw(t, "minor"), Currency: rapid.SampledFrom([]string{"USD", "EUR", "GBP"}).Draw(t, "currency")}
		for _, text := range []string{m.String(), m.Amount()} {
			back, err := money.Parse(text, m.Currency)
			if err != nil || back != m {
				t.Fatalf("%q reads as %v, %v", text, back, err)
			}
		}
	})
}

func TestForVolumeRoundsHalfAwayFromZero(t *testing.T) {
	for _, row := range []struct {
		minor   int64
		v, per  measure.Volume
		want    int64
		because string
	}{
		{28000, measure.Cord, measure.Cord, 28000, "whole"},
		{28000, measure.Cord * 2 / 3, measure.Cord, 18667, "18666.67 rounds up"},
		{28000, measure.Cord / 3, measure.Cord, 9333, "9333.33 rounds down"},
		{1, 1, 2, 1, "exactly half rounds away from zero"},
		{3, 1, 2, 2, "exactly half rounds away from zero, not to even"},
		{-1, 1, 2, -1, "exactly half below zero rounds away from zero"},
		{-3, 1, 2, -2, "exactly half below zero rounds away from zero"},
		{1, 1, 3, 0, "a third rounds down"},
		{-1, 2, 3, -1, "two thirds below zero round away"},
		{0, measure.Cord, measure.Cord, 0, "nothing"},
		{28000, 0, measure.Cord, 0, "no wood"},
		{28001, measure.Cord / 2, measure.Cord, 14001, "14000.5 rounds up"},
		{1_000_000_000, measure.MaxQuantity, measure.Cord, 10_000_000_000_000, "the largest price and quantity fit"},
		{1_000_000_000, measure.MaxQuantity - 1, measure.Cord, 10_000_000_000_000, "and are exact beyond 64 bits"},
	} {
		got := money.Money{Minor: row.minor, Currency: "USD"}.ForVolume(row.v, row.per)
		require.Equal(t, money.Money{Minor: row.want, Currency: "USD"}, got, row.because)
	}
}

func TestAddKeepsOneCurrency(t *testing.T) {
	usd := money.Money{Minor: 5, Currency: "USD"}
	require.Equal(t, usd, money.Money{}.Add(usd))
	require.Equal(t, usd, usd.Add(money.Money{}))
	require.Equal(t, int64(10), usd.Add(usd).Minor)
	require.Panics(t, func() { usd.Add(money.Money{Minor: 1, Currency: "EUR"}) })
}

func FuzzParse(f *testing.F) {
	for _, text := range []string{"280", "$280.50", "280,50", "1,234", "-1", "1e9", "\xff", "280 USD"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := money.Parse(text, "USD")
		if err != nil {
			var fault *measure.InputError
			require.ErrorAs(t, err, &fault)
			return
		}
		require.GreaterOrEqual(t, m.Minor, int64(0))
		require.LessOrEqual(t, m.Minor, int64(money.Max)*100)
		back, err := money.Parse(m.String(), "USD")
		require.NoError(t, err)
		require.Equal(t, m, back)
	})
}
