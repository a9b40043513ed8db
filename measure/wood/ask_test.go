package wood

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

func TestAskIsAnswered(t *testing.T) {
	e, err := Ask{Species: "red oak", Moisture: "20 %", Basis: "dry"}.Estimate()
	require.NoError(t, err)
	assert.Equal(t, cord(), e.Quantity)
	assert.InDelta(t, 3529, e.Weight.Mid.In(Pound), 3)

	wet, err := Ask{Species: "red oak", Quantity: "128 cu ft", Moisture: "16.667 % wet"}.Estimate()
	require.NoError(t, err)
	assert.InEpsilon(t, e.Weight.Mid.In(Pound), wet.Weight.Mid.In(Pound), 1e-4)

	green, err := Ask{Species: "red oak", Moisture: "green"}.Estimate()
	require.NoError(t, err)
	assert.InDelta(t, 5120, green.Weight.Mid.In(Pound), 10)

	loose, err := Ask{Species: "red oak", Quantity: "180 cu ft loose", Moisture: "green"}.Estimate()
	require.NoError(t, err)
	assert.Less(t, loose.Weight.High, green.Weight.High)
}

func TestAskNamesEveryFault(t *testing.T) {
	for _, row := range []struct {
		ask  Ask
		want map[string]string
	}{
		{Ask{}, map[string]string{"species": "missing", "moisture": "not-a-moisture"}},
		{Ask{Species: "oak", Quantity: "lots", Moisture: "20", Basis: "damp"},
			map[string]string{"species": "ambiguous", "quantity": "not-a-number", "basis": "no-basis"}},
		{Ask{Species: "beech", Moisture: "20 %"}, map[string]string{"basis": "no-basis"}},
		{Ask{Species: "beech", Moisture: "20 % dry", Basis: "wet"}, map[string]string{"moisture": "other-basis"}},
		{Ask{Species: "beech", Moisture: "20", Basis: "dry", Quantity: "64 cu ft in a bin"}, nil},
	} {
		_, err := row.ask.Estimate()
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, "%+v", row.ask)
		got := map[string]string{}
		for _, f := range faults {
			got[f.Field] = f.Code
			assert.NotEmpty(t, f.Accepts.Key, f.Field)
		}
		if row.want != nil {
			assert.Equal(t, row.want, got)
		} else {
			assert.Contains(t, got, "quantity")
		}
	}
}
