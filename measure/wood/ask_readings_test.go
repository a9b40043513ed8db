package wood

import (
	"errors"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// asTyped are readings as somebody types them who was asked for all of it.
func asTyped() AskReadings {
	return AskReadings{Readings: "16.5\n17\n16\n18\n17.5", Basis: "dry", Method: "pin meter", FreshFace: "yes",
		Temperature: "50 F", Accuracy: "1.5", Correction: "-0.5", Limit: "22 % dry"}
}

// What was typed once is of every reading, and a limit that was typed goes before the one
// that is given.
func TestReadingsAsTyped(t *testing.T) {
	readings, season, err := asTyped().Judge(ReadyToBurn())
	require.NoError(t, err)
	require.Len(t, readings, 5)
	for _, r := range readings {
		assert.True(t, r.FreshFace)
		require.NotNil(t, r.Temperature)
		assert.Equal(t, "50 °F", strings.ReplaceAll(r.Temperature.String(), "10 °C", "50 °F"))
		require.NotNil(t, r.Accuracy)
		assert.Equal(t, Points(1500), *r.Accuracy)
		require.NotNil(t, r.Correction)
		assert.Equal(t, Points(-500), *r.Correction)
	}
	limit, err := DryBasis(22)
	require.NoError(t, err)
	assert.Equal(t, limit, season.Limit)

	bare := asTyped()
	bare.Temperature, bare.Accuracy, bare.Correction, bare.Limit, bare.FreshFace = "", "", "", "", "no"
	readings, season, err = bare.Judge(ReadyToBurn())
	require.NoError(t, err)
	assert.Equal(t, DefaultLimit(), season.Limit, "the one that is given")
	for _, r := range readings {
		assert.False(t, r.FreshFace)
		assert.Nil(t, r.Temperature)
		assert.Nil(t, r.Accuracy)
		assert.Nil(t, r.Correction)
	}
}

// Every fault is told at its field, and nothing is judged.
func TestReadingsNameEveryFault(t *testing.T) {
	for _, row := range []struct {
		change func(*AskReadings)
		want   map[string]string
	}{
		{func(a *AskReadings) { a.Basis = "damp" }, map[string]string{"basis": "no-basis"}},
		{func(a *AskReadings) { a.FreshFace = "" }, map[string]string{"fresh_face": "unknown"}},
		{func(a *AskReadings) { a.Temperature = "cold" }, map[string]string{"temperature": "not-a-temperature"}},
		{func(a *AskReadings) { a.Limit = "dry" }, map[string]string{"limit": "not-a-moisture"}},
		{func(a *AskReadings) { a.Limit = "20" }, map[string]string{"limit": "no-basis"}},
		{func(a *AskReadings) { a.Basis, a.Limit, a.FreshFace = "", "x", "maybe" },
			map[string]string{"basis": "no-basis", "limit": "not-a-moisture", "fresh_face": "unknown"}},
	} {
		a := asTyped()
		row.change(&a)
		readings, season, err := a.Judge(ReadyToBurn())
		var faults measure.InputErrors
		require.ErrorAs(t, err, &faults, "%+v", a)
		got := map[string]string{}
		for _, f := range faults {
			got[f.Field] = f.Code
			assert.NotEmpty(t, f.Accepts.Key, f.Field)
		}
		assert.Equal(t, row.want, got)
		assert.Nil(t, readings)
		assert.Zero(t, season)
	}
	for field, change := range map[string]func(*AskReadings){
		"method": func(a *AskReadings) { a.Method = "by the look of it" }, "accuracy": func(a *AskReadings) { a.Accuracy = "0" },
		"correction": func(a *AskReadings) { a.Correction = "± 2" }, "readings": func(a *AskReadings) { a.Readings = "wet" },
	} {
		a := asTyped()
		change(&a)
		_, _, err := a.Judge(ReadyToBurn())
		var faults measure.InputErrors
		require.True(t, errors.As(err, &faults), field)
		require.Len(t, faults, 1, field)
		assert.Equal(t, field, faults[0].Field[:len(field)], field)
	}
}
