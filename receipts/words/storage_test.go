package words_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

func TestPressureIsWordedInBothUnits(t *testing.T) {
	p := words.New("en", act.Imperial)
	r := storage.Range[storage.Pressure]{Low: 110 * storage.PoundPerSquareFoot, High: 160 * storage.PoundPerSquareFoot}
	assert.Equal(t, "110 to 160 psf (5.3 to 7.7 kPa)", p.Pressures(r))
}

func TestWeightsKeepNoFalseFigures(t *testing.T) {
	imperial, metric := words.New("en", act.Imperial), words.New("en", act.Metric)
	assert.Equal(t, "1,320 lb", imperial.Mass(1_321*wood.Pound))
	assert.Equal(t, "600 kg", metric.Mass(1_321*wood.Pound))
	assert.Equal(t, "85 to 5,120 lb", imperial.Masses(storage.Range[wood.Mass]{Low: 85 * wood.Pound, High: 5_120 * wood.Pound}))
}

func TestCordwoodIsARange(t *testing.T) {
	imperial, metric := words.New("en", act.Imperial), words.New("en", act.Metric)
	r := storage.Range[measure.Volume]{Low: 3 * measure.Cord / 4, High: 4 * measure.Cord / 3}
	assert.Equal(t, "0.8 to 1.3 cords", imperial.Cordwood(r))
	assert.Equal(t, "2.7 to 4.8 m³ stacked", metric.Cordwood(r))
	assert.Equal(t, "about 1 cord (128 ft³)", imperial.Cordwood(storage.Range[measure.Volume]{Low: measure.Cord, High: measure.Cord}))
}

// What is above the shoulder is hard to stack and to reach: common practice, no
// source.
func TestReachIsSaid(t *testing.T) {
	p := words.New("en", act.Imperial)
	r := storage.Request{Volume: measure.Cord / 2, PieceLength: 16 * measure.Inch,
		Place: storage.Place{Kind: storage.Alcove, Width: 8 * measure.Foot, Depth: 3 * measure.Foot, Height: 8 * measure.Foot, Braced: true}}
	a, err := storage.Find(r)
	require.NoError(t, err)
	require.NotEmpty(t, a.Layouts)
	assert.Contains(t, p.LayoutFacts(a.Layouts[0])[2], "above the shoulder, hard to stack and to reach")
	r.Volume = measure.Cord / 8
	a, err = storage.Find(r)
	require.NoError(t, err)
	assert.Contains(t, p.LayoutFacts(a.Layouts[0])[2], "at or below the shoulder")
	assert.Equal(t, "1/8 cord (16 ft³) finds room here.", p.Fits(a))
}

// A deck is never called safe, in whatever way the facts are worded.
func TestNoFactIsAVerdict(t *testing.T) {
	p := words.New("en", act.Metric)
	for _, k := range storage.PlaceKinds() {
		a, err := storage.Find(storage.Request{Volume: measure.Cord, PieceLength: 16 * measure.Inch,
			Place: storage.Place{Kind: k, Width: 30 * measure.Foot, Depth: 8 * measure.Foot, Height: 8 * measure.Foot}})
		require.NoError(t, err)
		said := append(p.Lines(a.Cautions), p.Grounds(a.Grounds)...)
		for _, l := range a.Layouts {
			facts := p.LayoutFacts(l)
			assert.Contains(t, facts[5], "that decks are commonly designed for")
			said = append(said, facts...)
		}
		for _, line := range said {
			assert.NotRegexp(t, `(?i)\bsafe|\ballowed\b|strong enough|\bOK\b|face cord|%!`, line)
		}
	}
}
