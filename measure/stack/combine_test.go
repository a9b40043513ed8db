package stack

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

func combinedOf(t *testing.T, tallies ...Tally) Combined {
	t.Helper()
	c, err := Combine(tallies)
	require.NoError(t, err)
	return c
}

// Only what was observed shrinks: the spread of pieces by √n, the top not at all.
func TestCombineShrinksOnlyWhatWasObserved(t *testing.T) {
	one := measured(t, nearestTally())
	c := combinedOf(t, nearestTally(), nearestTally(), nearestTally(), nearestTally())
	assert.InDelta(t, float64(one.Quantity.Volume), float64(c.Result.Quantity.Volume), 1)
	single := func(s Source) float64 {
		p, _ := contributionOf(one.Doubt, s, 0)
		return p.Standard.In(measure.CubicFoot)
	}
	together := func(s Source) float64 {
		p, ok := contributionOf(c.Result.Doubt, s, 0)
		require.True(t, ok, s)
		return p.Standard.In(measure.CubicFoot)
	}
	assert.InDelta(t, single(PieceSpread)/2, together(PieceSpread), 1e-9)
	// Three rows, by the root of the sum of squares.
	assert.InDelta(t, math.Sqrt(0.400533*0.400533+0.396361*0.396361+0.336125*0.336125)/2, together(StationSpread), 1e-6)
	for _, s := range []Source{TopOfWood, Stowage, TapeOnHeights, TapeOnLengths, TapeOnPieces} {
		assert.InDelta(t, single(s), together(s), 1e-9, s)
	}
	assert.Less(t, c.Result.Expanded, one.Expanded)
	assert.True(t, c.Agree)
	assert.Len(t, c.Pairs, 6)
	assert.Equal(t, Short, c.Result.Finding.Word)
	assert.Len(t, c.Each, 4)
	assert.Empty(t, c.Result.Next)
}

// However many hands, what they have in common stays.
func TestCombineManyHandsLeaveWhatIsCommon(t *testing.T) {
	hands := make([]Tally, MaxHands)
	for i := range hands {
		hands[i] = shortTally()
	}
	c := combinedOf(t, hands...)
	common := math.Sqrt(1.231608*1.231608 + 0.762460*0.762460 + 0.279948*0.279948) // stowage, top, tape on pieces
	assert.GreaterOrEqual(t, c.Result.Standard.In(measure.CubicFoot), common)
}

// A slip of one hand is seen, and nothing is found on the mean.
func TestCombineSeesASlip(t *testing.T) {
	slipped := shortTally()
	slipped.Stack.(Rows).Rows[1].Length += 12 * measure.Inch
	c := combinedOf(t, shortTally(), slipped, shortTally())
	assert.False(t, c.Agree)
	assert.Nil(t, c.Result.Finding)
	assert.Equal(t, []bool{false, true, false}, []bool{c.Pairs[0].Agree, c.Pairs[1].Agree, c.Pairs[2].Agree})
	assert.Contains(t, keys(c.Result.Notes), "The tallies don’t agree within their give or take: look for a slip before relying on their mean.")
}

// Tallies against other sales have no finding together.
func TestCombineOneSale(t *testing.T) {
	c := combinedOf(t, shortTally(), sellAs(shortTally(), measure.Cord/2))
	assert.True(t, c.Agree)
	assert.Nil(t, c.Result.Finding)
	unsold := shortTally()
	unsold.Sold = nil
	assert.Nil(t, combinedOf(t, unsold, unsold).Result.Finding)
	later := shortTally()
	later.Look = 3
	assert.Equal(t, 3, combinedOf(t, shortTally(), later).Result.Finding.Look, "the last look counts")
}

// Each hand's own result is kept, in the order of the hands, and is what that hand alone
// gets.
func TestCombineKeepsEachHandsResult(t *testing.T) {
	second := shortTally()
	second.By = Seller
	second.Stack.(Rows).Rows[0].Heights[0] += measure.Inch
	third := nearestTally()
	hands := []Tally{shortTally(), second, third}
	c := combinedOf(t, hands...)
	require.Len(t, c.Each, 3)
	for i, hand := range hands {
		assert.Equal(t, measured(t, hand), c.Each[i], "hand %d", i+1)
	}
	assert.NotEqual(t, c.Each[0].Quantity, c.Each[1].Quantity)
}

// Where a hand can't be measured the answer holds nothing of the others, and says why.
func TestCombineRefusesAHandThatCannotBeMeasured(t *testing.T) {
	bad := shortTally()
	bad.Sold = &measure.Said{Quantity: measure.Quantity{Basis: measure.Ranked}}
	c, err := Combine([]Tally{shortTally(), bad})
	require.Error(t, err)
	assert.Zero(t, c)
	bad = shortTally()
	bad.Stack.(Rows).Rows[0].Length = 0
	c, err = Combine([]Tally{shortTally(), bad})
	require.Error(t, err)
	assert.Zero(t, c)
}

func TestCombineRefuses(t *testing.T) {
	for name, tallies := range map[string][]Tally{
		"none":        nil,
		"one":         {shortTally()},
		"too many":    make([]Tally, MaxHands+1),
		"other kinds": {shortTally(), loadTally()},
		"other bases": {loadTally(), carefully(Load{Arrangement: measure.Ranked, Box: body()})},
		"no stack":    {shortTally(), {}},
	} {
		_, err := Combine(tallies)
		require.Error(t, err, name)
		mustBeInputError(t, err)
	}
}

// Two people who read one stack agree at least 95 times in a hundred, and the mean's
// ± U holds the wood as often.
func TestCombineCoverage(t *testing.T) {
	stacks := simulated(200)
	d := draw{rand.New(rand.NewPCG(4, 96))}
	first, second := careful("", func(*person) {}), careful("", func(p *person) { p.down = true })
	var agreed, held int
	for range stacks {
		p := first.pile(d)
		c := combinedOf(t, first.tally(d, &p), second.tally(d, &p))
		if c.Agree {
			agreed++
		}
		if math.Abs(float64(c.Result.Quantity.Volume)/float64(measure.CubicInch)-p.wood) <= float64(c.Result.Expanded)/float64(measure.CubicInch) {
			held++
		}
	}
	share := func(n int) float64 { return float64(n) / float64(stacks) }
	t.Logf("%d stacks read twice: %.2f %% of the pairs agree, ± U of the mean holds the true volume in %.2f %%", stacks, 100*share(agreed), 100*share(held))
	slack := 3 * math.Sqrt(0.05*0.95/float64(stacks))
	assert.GreaterOrEqual(t, share(agreed), 0.95-slack)
	assert.GreaterOrEqual(t, share(held), 0.95-slack)
}
