package stack

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

func codes(actions []Action) []string {
	cs := make([]string, len(actions))
	for i, a := range actions {
		cs[i] = a.Code
	}
	return cs
}

func actionOf(t *testing.T, r Result, code string) Action {
	t.Helper()
	for _, a := range r.Next {
		if a.Code == code {
			return a
		}
	}
	require.Failf(t, "no such action", "%s is not among %v", code, codes(r.Next))
	return Action{}
}

func TestNextListsWhatIsLeftToDo(t *testing.T) {
	assert.Equal(t, []string{"rounding", "pieces", "gaps", "back", "stations"}, codes(measured(t, shortTally()).Next))
	assert.Equal(t, []string{"pieces", "gaps", "back", "stations"}, codes(measured(t, nearestTally()).Next))
	// What holds short back comes first, then what takes most off U for each minute.
	assert.Equal(t, []string{"pieces", "stations", "straightedge", "rounding", "stowing", "cribs"},
		codes(measured(t, notSettledTally()).Next))
}

// Every action takes at least a hundredth off U, the most for each minute first.
func TestNextLowersTheDoubt(t *testing.T) {
	for _, tally := range []Tally{shortTally(), notSettledTally()} {
		r := measured(t, tally)
		require.NotEmpty(t, r.Next)
		for _, a := range r.Next {
			assert.LessOrEqual(t, float64(a.After), 0.99*float64(r.Expanded), a.Code)
			assert.NotEmpty(t, a.Text.Key)
		}
	}
}

// Where doing it changes no reading, U afterwards is U of the tally with it done.
func TestNextKeepsItsPromise(t *testing.T) {
	before := measured(t, notSettledTally())

	tally := notSettledTally()
	tally.Top = Straightedge
	assert.Equal(t, measured(t, tally).Expanded, actionOf(t, before, "straightedge").After)

	tally = plain(2, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	tally.Stowed = ""
	promise := actionOf(t, measured(t, tally), "stowing").After
	tally.Stowed = StowingChecked
	assert.Equal(t, measured(t, tally).Expanded, promise)
}

// Eight readings in place of four with the same mean and steps, read to the inch.
func TestNextMoreReadingsOfTheSameSpread(t *testing.T) {
	tally := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	tally.Tape = measure.Inch
	row := &tally.Stack.(Rows).Rows[0]
	row.Heights = in(38, 42, 38, 42)
	promise := actionOf(t, measured(t, tally), "stations").After
	row.Heights = in(38, 42, 38, 42, 38, 42, 38, 42)
	assert.InEpsilon(t, float64(measured(t, tally).Expanded), float64(promise), 0.001)
}

// With the stowing checked there is no stowing to check, cribs or not.
func TestNextCribsWithCheckedStowing(t *testing.T) {
	tally := notSettledTally()
	tally.Stowed = StowingChecked
	assert.NotContains(t, codes(measured(t, tally).Next), "stowing")
	assert.Contains(t, codes(measured(t, tally).Next), "cribs")
}

// Checked stowing takes in restacked cribs.
func TestNextStowingTakesInCribs(t *testing.T) {
	r := measured(t, notSettledTally())
	assert.Less(t, actionOf(t, r, "stowing").After, actionOf(t, r, "cribs").After)
}

// A careful tally of an even stack, both faces read and the gaps counted, leaves nothing
// worth doing.
func TestNextNothingWorthDoing(t *testing.T) {
	tally := plain(1, 100*measure.Inch, 40*measure.Inch, 10*measure.Inch)
	tally.Rounded, tally.Stowed, tally.Gaps = RoundNearest, StowingCounted, Gaps{2, 50}
	row := &tally.Stack.(Rows).Rows[0]
	row.Back = row.Heights
	assert.Empty(t, measured(t, tally).Next)
}
