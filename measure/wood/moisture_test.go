package wood

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestBases(t *testing.T) {
	// By the definitions of the two bases, worked by hand.
	for _, row := range []struct{ dry, wet float64 }{{25, 20}, {20, 16.667}, {100, 50}, {0, 0}, {138.663, 58.1}} {
		d, err := DryBasis(row.dry)
		require.NoError(t, err)
		w, err := newMoisture(row.wet, Wet)
		require.NoError(t, err)
		assert.InDelta(t, row.wet, d.Wet().Percent(), 0.001)
		assert.InDelta(t, row.dry, w.Dry().Percent(), 0.006)
		assert.Equal(t, d, d.Dry())
		assert.Equal(t, w, w.Wet())
		assert.Equal(t, w, w.On(Wet))
	}
}

func TestBasesConvertBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		percent := rapid.Float64Range(0, MaxWetPercent).Draw(t, "wet")
		w, err := newMoisture(percent, Wet)
		if err != nil {
			t.Fatal(err)
		}
		if back := w.Dry().Wet(); math.Abs(back.Percent()-w.Percent()) > 0.0011 {
			t.Fatalf("%s comes back as %s", w, back)
		}
	})
}

func TestMoistureRefusesTheImpossible(t *testing.T) {
	for _, percent := range []float64{-0.1, MaxDryPercent + 1, math.NaN(), math.Inf(1)} {
		_, err := DryBasis(percent)
		assert.ErrorContains(t, err, "0 to 400 % on the dry basis", "%v", percent)
	}
	_, err := newMoisture(81, Wet)
	assert.ErrorContains(t, err, "0 to 80 % on the wet basis")
}

func TestParseMoisture(t *testing.T) {
	for _, row := range []struct {
		text  string
		basis Basis
		want  string
	}{
		{"20 %", Dry, "20 % dry basis"}, {"20", Wet, "20 % wet basis"}, {"18.5% dry", "", "18.5 % dry basis"},
		{" 16.7  % wet basis", "", "16.7 % wet basis"}, {"20% DB", Dry, "20 % dry basis"}, {"20 percent, wet", "", "20 % wet basis"},
	} {
		m, err := ParseMoisture(row.text, row.basis)
		if assert.NoError(t, err, row.text) {
			assert.Equal(t, row.want, m.String())
		}
	}
	for _, row := range []struct {
		text  string
		basis Basis
		want  string
	}{
		{"20 %", "", "what the water is measured against"}, {"20 % dry", Wet, "dry basis, and wet basis was chosen"},
		{"18,5", Dry, "this isn’t a moisture"}, {"", Dry, "this isn’t a moisture"}, {"-3", Dry, "this isn’t a moisture"},
		{"1e1", Dry, "this isn’t a moisture"}, {"NaN", Dry, "this isn’t a moisture"}, {"900", Dry, "does not hold that much"},
		{strings.Repeat("2", 5000), Dry, "this isn’t a moisture"},
	} {
		_, err := ParseMoisture(row.text, row.basis)
		assert.ErrorContains(t, err, row.want, row.text)
	}
}

func FuzzParseMoisture(f *testing.F) {
	for _, s := range []string{"20 %", "18.5 dry", "16.7 % wet basis", "٢٠", "20 %% mc", "\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := ParseMoisture(s, "")
		if err != nil {
			return
		}
		again, err := ParseMoisture(m.String(), "")
		if err != nil || again != m {
			t.Fatalf("%q: %s reads back as %s, %v", s, m, again, err)
		}
	})
}

func TestMoistureIsStoredAsItIs(t *testing.T) {
	m, err := newMoisture(16.667, Wet)
	require.NoError(t, err)
	b, err := json.Marshal(m)
	require.NoError(t, err)
	assert.JSONEq(t, `{"percent": 16.667, "basis": "wet"}`, string(b))
	var back Moisture
	require.NoError(t, json.Unmarshal(b, &back))
	assert.Equal(t, m, back)
	require.Error(t, json.Unmarshal([]byte(`{"percent": 20}`), &back), "a moisture without a basis")
	require.Error(t, json.Unmarshal([]byte(`{"percent": 500, "basis": "dry"}`), &back))
}

func TestParseTemperature(t *testing.T) {
	for text, want := range map[string]string{"50 F": "10 °C", "10 °C": "10 °C", "-5C": "-5 °C", "−4 f": "-20 °C", "70°F": "21.1 °C"} {
		got, err := ParseTemperature(text)
		if assert.NoError(t, err, text) {
			assert.Equal(t, want, got.String(), text)
		}
	}
	for _, text := range []string{"50", "", "warm", "900 C", "-300 F"} {
		_, err := ParseTemperature(text)
		assert.ErrorContains(t, err, "such as 50 F", text)
	}
}
