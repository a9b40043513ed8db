package wood

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// 70 °F and 65 % come to 12.0 % (Wood Handbook 2021, Table 4-2, from memory).
func TestAskAir(t *testing.T) {
	for _, a := range []AskAir{{"70 F", "65 %"}, {"70", "65"}, {" 70°F ", "65 percent"}, {"21.111 C", "65.0%"}} {
		m, err := a.Equilibrium(FahrenheitScale)
		require.NoError(t, err, a)
		assert.InDelta(t, 12.0, m.Percent(), 0.1, a)
		assert.InDelta(t, 10.7, m.Wet().Percent(), 0.1, "0.120/1.120")
	}
	m, err := AskAir{"21", "65"}.Equilibrium(CelsiusScale)
	require.NoError(t, err)
	assert.InDelta(t, 12.0, m.Percent(), 0.1)
	for _, row := range []struct {
		ask    AskAir
		fields []string
	}{
		{AskAir{}, []string{"air", "humidity"}},
		{AskAir{"70 F", "damp"}, []string{"humidity"}},
		{AskAir{"70", "65"}, []string{"air"}},
		{AskAir{"70 F", "101"}, []string{"humidity"}},
		{AskAir{"200 F", "50"}, []string{"air"}},
		{AskAir{"-5", "65 mm"}, []string{"air", "humidity"}},
	} {
		_, err := row.ask.Equilibrium("")
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, "%+v", row.ask)
		var got []string
		for _, f := range faults {
			got = append(got, f.Field)
			assert.NotEmpty(t, f.Accepts.Key)
		}
		assert.Equal(t, row.fields, got, "%+v", row.ask)
	}
}

func FuzzAskAir(f *testing.F) {
	for _, s := range []string{"70 F", "65 %", "−5", "1e3", "\xff", "999"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, air, humidity string) {
		m, err := AskAir{air, humidity}.Equilibrium(CelsiusScale)
		if err == nil && (m.Basis() != Dry || m.Percent() < 0 || m.Percent() > 40) {
			t.Fatalf("%q %q: %v", air, humidity, m)
		}
	})
}
