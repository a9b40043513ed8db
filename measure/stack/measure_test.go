package stack

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// everyText collects what a result says to people.
func everyText(r Result) []measure.Text {
	texts := r.Notes
	for _, a := range r.Next {
		texts = append(texts, a.Text)
	}
	if r.Finding != nil {
		texts = append(texts, r.Finding.Why...)
	}
	return texts
}

// resultsOfEveryWord gives a result for each finding, and two without defaults.
func resultsOfEveryWord(t *testing.T) []Result {
	tallies := []Tally{shortTally(), notSettledTally()}
	for _, sold := range []measure.Volume{measure.Cord * 95 / 100, measure.Cord / 2} {
		tallies = append(tallies, sellAs(shortTally(), sold), sellAs(notSettledTally(), sold))
	}
	for i := range tallies[:4] {
		tally := tallies[i]
		tally.By, tally.Look, tally.Apart = Seller, 3, Apart{Quantity: measure.Quantity{Volume: measure.Cord / 8, Basis: measure.Ranked}}
		tallies = append(tallies, tally)
	}
	for _, sold := range []measure.Volume{measure.Cord, 2 * measure.Cord, 9 * measure.Cord / 8} {
		tally := shortTally()
		tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: sold, Basis: measure.Loose}}
		tallies = append(tallies, tally)
	}
	var results []Result
	for _, tally := range tallies {
		results = append(results, measured(t, tally))
	}
	return results
}

// A result can be stored and read back as it was.
func TestResultSurvivesStoring(t *testing.T) {
	for _, want := range resultsOfEveryWord(t) {
		stored, err := json.Marshal(want)
		require.NoError(t, err)
		var got Result
		require.NoError(t, json.Unmarshal(stored, &got))
		if len(want.Next) == 0 {
			want.Next, got.Next = nil, nil
		}
		assert.Equal(t, want, got)
	}
}

// Every text has the arguments that its key asks for.
func TestTextsAreFilledIn(t *testing.T) {
	for _, r := range resultsOfEveryWord(t) {
		for _, text := range everyText(r) {
			assert.NotContains(t, text.String(), "%", text.Key)
		}
	}
}

// What was taken for granted is said.
func TestDefaultsAreNoted(t *testing.T) {
	careful := keys(measured(t, shortTally()).Notes)
	assert.Len(t, careful, 4, "stowage, the top, the tape with the ends and the face, and the division that the heights show")
	rough := keys(measured(t, notSettledTally()).Notes)
	assert.Len(t, rough, 10)
	for _, key := range []string{
		"A nominal piece length, not measured, is taken %s short, ± %s: common practice.",
		"A crib is counted as %.3g of its box, ± %.3g of the box: common practice. It is wood, but not ranked.",
		"The face of a void is taken as ± %.3g of itself: common practice.",
	} {
		assert.Contains(t, rough, key)
		assert.NotContains(t, careful, key)
	}
}

// Doubt that all rows share does not average out over many rows.
func TestSharedDoubtDoesNotAverageOut(t *testing.T) {
	one := measured(t, plain(1, 100*measure.Inch, 161*measure.Inch/4, 16*measure.Inch))
	ten := measured(t, plain(10, 100*measure.Inch, 161*measure.Inch/4, 16*measure.Inch))
	share := func(r Result) float64 { return r.Standard.In(r.Quantity.Volume) }
	assert.Less(t, share(ten), share(one))
	assert.Greater(t, share(ten), 0.01, "never below what stowage alone leaves")
}

// Measuring does not change the tally, and gives the same twice.
func TestMeasureIsPure(t *testing.T) {
	tally := notSettledTally()
	first := measured(t, tally)
	assert.Equal(t, notSettledTally(), tally)
	assert.Equal(t, first, measured(t, tally))
}

// The largest tally fits in a Volume.
func TestLargestTally(t *testing.T) {
	r := measured(t, plain(MaxRows, MaxRowLength, MaxHeight, measure.MaxPieceLength))
	assert.InEpsilon(t, MaxRows*300*20*8, r.Quantity.Volume.In(measure.CubicFoot), 1e-15)
	assert.False(t, math.IsNaN(r.Coverage))
}

// Measuring a stack takes the slices and sentences of its result and little else: what is
// asked about readings takes nothing while nothing is asked.
func TestMeasureAllocatesLittle(t *testing.T) {
	tally := shortTally()
	got := testing.AllocsPerRun(100, func() {
		if _, err := Measure(tally); err != nil {
			t.Fatal(err)
		}
	})
	assert.LessOrEqual(t, got, 30.0)
}
