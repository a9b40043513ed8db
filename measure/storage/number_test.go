package storage_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
)

func TestParseMass(t *testing.T) {
	for text, want := range map[string]wood.Mass{
		"1500 lb": 1500 * wood.Pound, "1.5 tons": 3000 * wood.Pound, "680kg": 680 * wood.Kilogram, " .5 t ": 500 * wood.Kilogram, "180 LBS": 180 * wood.Pound,
	} {
		got, err := storage.ParseMass(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	_, err := storage.ParseMass("1500")
	assert.ErrorContains(t, err, "no unit")
}

// The most that is read is read, and what is more, or has too many digits, is refused.
func TestWeightsAtTheirLimits(t *testing.T) {
	for text, want := range map[string]wood.Mass{"1000 t": storage.MaxMass, "000001000 t": storage.MaxMass, "0.001 kg": wood.Kilogram / 1000, "1.125 kg": 1125 * wood.Kilogram / 1000} {
		got, err := storage.ParseMass(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, got, text)
	}
	for text, code := range map[string]string{
		"1000.001 t": "too-large", "1234567890 lb": "too-large", "1.2345 kg": "too-large", "0 lb": "not-positive", "1500": "no-unit", "3 stone": "unknown-unit",
		"1,500 lb": "ambiguous", "1.2.3 kg": "not-a-number", "lb": "not-a-number", "1e5 lb": "exponent",
	} {
		_, err := storage.ParseMass(text)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, text)
		assert.Equal(t, code, fault.Code, text)
	}
}

func TestParseArea(t *testing.T) {
	got, err := storage.ParseArea("1800 sq ft")
	require.NoError(t, err)
	assert.Equal(t, 1800*storage.SquareFoot, got)
	assert.InDelta(t, 167.23, got.In(storage.SquareMetre), 0.01)
	metres, err := storage.ParseArea("170 m²")
	require.NoError(t, err)
	assert.Equal(t, 170*storage.SquareMetre, metres)
	for _, bad := range []string{"", "1800", "1800 ft", "0 m²", "9999999999 sq ft", "1 800 sq ft"} {
		_, err := storage.ParseArea(bad)
		var in *measure.InputError
		require.ErrorAs(t, err, &in, bad)
		assert.NotEmpty(t, in.Accepts.Key, bad)
	}
}

// Whatever is typed is read within bounds, or refused with what would be accepted.
func TestNothingTypedGetsThrough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringMatching(`[-+]?[0-9.,]{0,12} ?(lb|kg|t|tons|e5|sq ft|m²)?`)).Draw(t, "text")
		m, err := storage.ParseMass(text)
		if err == nil {
			require.Positive(t, m)
			require.LessOrEqual(t, m, storage.MaxMass)
			return
		}
		var in *measure.InputError
		require.ErrorAs(t, err, &in)
		require.NotEmpty(t, in.Code)
		require.NotEmpty(t, in.Accepts.Key)
	})
}

func FuzzParseAmounts(f *testing.F) {
	for _, seed := range []string{"1500 lb", "1.5 tons", "1,500 lb", "-4 kg", "1e5 lb", "1800 sq ft", "170 m²", "NaN t", "", "999999999.999 t", "1.2.3 kg"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, massErr := storage.ParseMass(text)
		a, areaErr := storage.ParseArea(text)
		if massErr == nil && (m <= 0 || m > storage.MaxMass) {
			t.Fatalf("%q was read as %d", text, m)
		}
		if areaErr == nil && a <= 0 {
			t.Fatalf("%q was read as %d", text, a)
		}
		for _, err := range []error{massErr, areaErr} {
			var in *measure.InputError
			if err != nil && (!errors.As(err, &in) || in.Code == "" || in.Accepts.Key == "") {
				t.Fatalf("%#v isn't an error a person can act on", err)
			}
		}
	})
}
