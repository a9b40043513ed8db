package words_test

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

func dry(t *testing.T, percent float64) wood.Moisture {
	t.Helper()
	m, err := wood.DryBasis(percent)
	require.NoError(t, err)
	return m
}

func TestDrynessSaysWhetherItWasMeasured(t *testing.T) {
	p := words.New("en", act.Imperial)
	fact := &yard.MoistureFact{Mean: dry(t, 16.44), Pieces: 1, Method: wood.PinMeter, By: "Wren", On: act.Date{Year: 2026, Month: time.March, Day: 7}}
	assert.Equal(t, "not stated", p.Dryness("", nil))
	assert.Equal(t, "green (stated by seller, not measured)", p.Dryness(yard.Green, nil))
	assert.Equal(t, "not stated", p.Dryness("", fact))
	assert.Equal(t, "seasoned (stated by seller)", p.Dryness(yard.Seasoned, fact))
	assert.Equal(t, "measured: mean 16.4 % dry basis, pin meter, 1 piece, by Wren, 7 March 2026", p.Measured(*fact))
}

func TestWoodIsWordedInTheReadersUnits(t *testing.T) {
	mix, err := wood.ParseMix("red oak 60 %; sugar maple 40 %")
	require.NoError(t, err)
	e, err := wood.Weigh(mix, measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, dry(t, 25))
	require.NoError(t, err)
	said := func(units act.Units) map[string]string {
		facts := map[string]string{}
		for _, f := range words.New("en", units).Wood(e) {
			facts[f.Label] = f.Text
		}
		return facts
	}
	imperial, metric := said(act.Imperial), said(act.Metric)
	assert.Equal(t, "Northern red oak 60 %, Sugar maple 40 %", imperial["Wood"])
	assert.Equal(t, "25 % dry basis, which is 20 % wet basis", imperial["Moisture"])
	// 80 ft³ of wood of basic gravity 0.56 at 25 %, worked by hand: 3,583 lb,
	// 7/8 and 9/8 of it for the range; gross 24.7 million Btu.
	assert.Equal(t, "3,100 to 4,000 lb", imperial["Weight"])
	assert.Equal(t, "22 to 28 million Btu", imperial["Heat in the wood"])
	assert.Equal(t, "1,420 to 1,830 kg", metric["Weight"])
	assert.Contains(t, metric["Heat in the wood"], "23 to 29 GJ")
	assert.Contains(t, imperial["Time to dry"], "A plan: then measure.")
	assert.Contains(t, imperial["Density of the solid wood"], "lb/ft³")
	assert.Contains(t, metric["Density of the solid wood"], "kg/m³")
}

func TestSeasonIsWorded(t *testing.T) {
	p := words.New("en", act.Imperial)
	readings, err := wood.ParseReadings("14\n22\n19\n17\n22", wood.Reading{Method: wood.OvenDrying}, wood.Dry)
	require.NoError(t, err)
	s, err := wood.Judge(readings, wood.ReadyToBurn())
	require.NoError(t, err)
	assert.Equal(t, "These readings can’t tell whether the wood is at or below 20 % dry basis.", p.Season(s))
	assert.Contains(t, p.SeasonNotes(s)[0], "pieces more")
	facts := p.SeasonFacts(s)
	assert.Equal(t, words.Fact{Label: "Mean", Text: "18.8 % dry basis, 5 pieces"}, facts[0])
	assert.Equal(t, "3.4 points (standard deviation)", facts[2].Text)
	assert.Contains(t, facts[3].Text, "at most 22")
}
