package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/student"
)

// in makes lengths of inches.
func in(values ...float64) []measure.Length {
	ls := make([]measure.Length, len(values))
	for i, v := range values {
		ls[i] = measure.Length(math.Round(v * float64(measure.Inch)))
	}
	return ls
}

func upright() [2]End { return [2]End{{Kind: Upright}, {Kind: Upright}} }

// unsaid are ends of which nothing was said.
func unsaid() [2]End { return [2]End{{Kind: Upright, Unsaid: true}, {Kind: Upright, Unsaid: true}} }

func oneCord() *measure.Said {
	return &measure.Said{Words: "1 cord", Quantity: measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, Cord: measure.Cord}
}

// shortTally is worked example 1 of the model.
func shortTally() Tally {
	return Tally{
		Sold: oneCord(), By: Buyer, Apart: Apart{Answered: true}, Look: 1,
		Tape: measure.Inch / 4, Top: Straightedge, Stowed: StowingChecked,
		Stack: Rows{
			Pieces: Pieces{Sample: in(16, 15.5, 16.25, 15.75, 16.5, 15.25, 16, 15.75, 16.25, 15.5)},
			Rows: []Row{
				{Length: 96 * measure.Inch, Heights: in(48, 47, 48.5, 46.5, 47.5), Ends: upright()},
				{Length: 95 * measure.Inch, Heights: in(47, 48, 46, 47.5, 46.5), Ends: upright()},
				{Length: 965 * measure.Inch / 10, Heights: in(46.5, 45, 46, 44.5, 45), Ends: upright()},
			},
		},
	}
}

// nearestTally is the variant of it whose readings are rounded to the nearest mark.
func nearestTally() Tally {
	tally := shortTally()
	tally.Rounded = RoundNearest
	return tally
}

// notSettledTally is worked example 2 of the model.
func notSettledTally() Tally {
	return Tally{
		Sold: oneCord(), By: Buyer, Apart: Apart{Answered: true}, Look: 1,
		Tape: measure.Inch / 2, Top: ByEye, Raised: 4 * measure.Inch,
		Stack: Rows{
			Pieces: Pieces{Sample: in(17.5, 18, 18.5, 17.75, 18.25, 18)},
			Rows: []Row{
				{
					Length: 120 * measure.Inch, Heights: in(52, 54, 53, 50, 47), Positions: in(6, 30, 60, 90, 114),
					Ends:  [2]End{{Kind: Shouldered, Over: 10 * measure.Inch, Drop: 8 * measure.Inch}, {Kind: Tapered, Over: 20 * measure.Inch}},
					Voids: []Void{{Width: 12 * measure.Inch, Height: 6 * measure.Inch}},
				},
				{
					Length: 116 * measure.Inch, Heights: in(50, 51.5), Pieces: Pieces{Nominal: 18 * measure.Inch},
					Ends: [2]End{{Kind: Cribbed, Over: 18 * measure.Inch, Share: cribShare}, {Kind: Upright}},
				},
			},
		},
	}
}

func measured(t *testing.T, tally Tally) Result {
	t.Helper()
	r, err := Measure(tally)
	require.NoError(t, err)
	return r
}

// The expected figures were computed apart from any Go code, by the model's text.
func TestWorkedExampleShort(t *testing.T) {
	r := measured(t, shortTally())
	assert.Equal(t, ModelNumber, r.Model)
	assert.Equal(t, measure.Ranked, r.Quantity.Basis)
	assert.InDelta(t, 123.160786, r.Quantity.Volume.In(measure.CubicFoot), 5e-7)
	assert.InDelta(t, 0.9621936374240452, r.Quantity.Volume.In(measure.Cord), 1e-12)
	assert.InDelta(t, 2.874561, r.Standard.In(measure.CubicFoot), 5e-7)
	assert.InDelta(t, 569.030, float64(r.Degrees), 5e-4)
	assert.InDelta(t, 1.964142, r.Coverage, 5e-7)
	assert.InDelta(t, 5.646044, r.Expanded.In(measure.CubicFoot), 5e-7)
	assert.InDelta(t, 2.562073, r.AgainstShortage.In(measure.CubicFoot), 5e-7)
	require.NotNil(t, r.Finding)
	assert.Equal(t, Unresolved, r.Finding.Word)
	assert.Equal(t, []Hold{HeldByRounding}, r.Finding.HeldBack)
	assert.InDelta(t, 0.0298629, r.Finding.Probability, 5e-8)
	assert.Equal(t, measure.Cord, r.Finding.Due)
	assert.InDelta(t, -4.839214, r.Finding.Margin.In(measure.CubicFoot), 5e-7)
	assert.Nil(t, r.Finding.CannotRuleOut)
	e, err := shortTally().Stack.estimate(ptr(shortTally()))
	require.NoError(t, err)
	top := e.against(stowageCounted, false)
	assert.InDelta(t, 125.121644, e.seen(highest)/1728, 5e-7, "at the top of the division")
	assert.InDelta(t, 0.1061148, student.CDF((e.seen(highest)/1728-128)/(top.u/1728), top.degrees), 5e-8)
}

func ptr(t Tally) *Tally { return &t }

// The same readings, with what model 2 asks besides. The variant read down is as the
// model's text has it: its s is the spread of the pieces about their own mean, which
// raising them all by as much doesn't change. Computed apart from any Go code.
func TestWorkedExampleVariants(t *testing.T) {
	for _, c := range []struct {
		name          string
		change        func(*Tally)
		v, u, against float64
		degrees, k, U float64
		p             float64
		word          Word
	}{
		{"nearest", func(t *Tally) { t.Rounded = RoundNearest }, 123.160786, 2.646746, 2.303559, 408.977, 1.965781, 5.202924, 0.0183649, Short},
		{"nearest, steel, second check", func(t *Tally) { t.Rounded, t.TapeMade, t.Look = RoundNearest, SteelTape, 2 },
			123.160786, 2.614310, 2.266216, 389.294, 1.966076, 5.139933, 0.0169184, Unresolved},
		{"down", func(t *Tally) { t.Rounded = RoundDown }, 125.121644, 2.683183, 2.333680, 417.683, 1.965660, 5.274224, 0.1093194, Unresolved},
	} {
		tally := shortTally()
		c.change(&tally)
		r := measured(t, tally)
		assert.InDelta(t, c.v, r.Quantity.Volume.In(measure.CubicFoot), 5e-7, c.name)
		assert.InDelta(t, c.u, r.Standard.In(measure.CubicFoot), 5e-7, c.name)
		assert.InDelta(t, c.against, r.AgainstShortage.In(measure.CubicFoot), 5e-7, c.name)
		assert.InDelta(t, c.degrees, float64(r.Degrees), 5e-4, c.name)
		assert.InDelta(t, c.k, r.Coverage, 5e-7, c.name)
		assert.InDelta(t, c.U, r.Expanded.In(measure.CubicFoot), 5e-7, c.name)
		assert.InDelta(t, c.p, r.Finding.Probability, 5e-8, c.name)
		assert.Equal(t, c.word, r.Finding.Word, c.name)
		assert.Empty(t, r.Finding.HeldBack, c.name)
	}
	assert.InDelta(t, 0.0125, alphaAt(2), 0)
	assert.InDelta(t, 0.00625, alphaAt(3), 0)
}

func TestWorkedExampleShortBudget(t *testing.T) {
	inf := math.Inf(1)
	want := []struct {
		source    Source
		row       int
		cubicFeet float64
		degrees   float64
	}{
		{Stowage, 0, 2.053857, inf},
		{RoundingNotSaid, 0, 1.126637, inf},
		{PieceSpread, 0, 0.969770, 9},
		{TopOfWood, 0, 0.762460, inf},
		{OneFace, 0, 0.711069, inf},
		{TapeScale, 0, 0.426641, inf},
		{StationSpread, 1, 0.400533, 32. / 11},
		{StationSpread, 2, 0.396361, 32. / 11},
		{StationSpread, 3, 0.336125, 32. / 11},
		{TapeOnPieces, 0, 0.279948, inf},
		{RowEnds, 1, 0.125972, inf},
		{RowEnds, 2, 0.124646, inf},
		{RowEnds, 3, 0.120402, inf},
		{TapeOnHeights, 0, 0.095308, inf},
		{TapeOnLengths, 0, 0.046377, inf},
	}
	r := measured(t, shortTally())
	require.Len(t, r.Doubt, len(want))
	var shares float64
	for i, w := range want {
		got := r.Doubt[i]
		assert.Equal(t, w.source, got.Source)
		assert.Equal(t, w.row, got.Row, w.source)
		assert.InDelta(t, w.cubicFeet, got.Standard.In(measure.CubicFoot), 6e-7, w.source)
		assert.Equal(t, Degrees(w.degrees), got.Degrees, w.source)
		shares += got.Share
	}
	assert.InDelta(t, 1, shares, 1e-12)
}

func TestWorkedExampleNotSettled(t *testing.T) {
	r := measured(t, notSettledTally())
	assert.InDelta(t, 124.316262, r.Quantity.Volume.In(measure.CubicFoot), 5e-7)
	assert.InDelta(t, 0.9712208, r.Quantity.Volume.In(measure.Cord), 5e-8)
	assert.InDelta(t, 5.130118, r.Standard.In(measure.CubicFoot), 5e-7)
	assert.InDelta(t, 2198.51, float64(r.Degrees), 5e-3)
	assert.InDelta(t, 1.961044, r.Coverage, 5e-7)
	assert.InDelta(t, 10.060385, r.Expanded.In(measure.CubicFoot), 6e-7)
	assert.InDelta(t, 4.728821, r.AgainstShortage.In(measure.CubicFoot), 5e-7)
	require.NotNil(t, r.Finding)
	assert.Equal(t, Unresolved, r.Finding.Word)
	assert.Equal(t, []Hold{HeldByPieces, HeldByHeights}, r.Finding.HeldBack)
	assert.InDelta(t, 0.2180487, r.Finding.Probability, 5e-8)
}
