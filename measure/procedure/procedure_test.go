package procedure_test

import (
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
)

// One row by hand, HB 133 from memory (3/16 in up): heights 48 1/8 → 48 3/16,
// 47 1/4 → 47 1/4 (252/16 is 84 steps), 48 1/2 → 48 9/16 (777/16), 47 → 47 1/16
// (753/16); their mean 47 49/64. Length 96 1/4 → 96 3/8 (1542/16). stack.Pieces 16, 16,
// 16 1/8, 15 7/8, 16 → 16 1/8 (258/16) four times and 15 15/16 (255/16); their
// mean 16 7/80. A gap of 10 in × 5 in, rounded down to 9 15/16 × 4 7/8.
func handTally() stack.Tally {
	return stack.Tally{
		Sold: &measure.Said{Quantity: measure.Quantity{Volume: measure.Cord / 3, Basis: measure.Ranked}}, Apart: stack.Apart{Answered: true}, Look: 1,
		Tape: measure.Inch / 8, Top: stack.Straightedge, Stowed: stack.StowingChecked,
		Stack: stack.Rows{
			Pieces: stack.Pieces{Sample: in(16, 16, 16.125, 15.875, 16)},
			Rows: []stack.Row{{
				Length: 385 * measure.Inch / 4, Heights: in(48.125, 47.25, 48.5, 47), Ends: upright(),
				Voids: []stack.Void{{Width: 10 * measure.Inch, Height: 5 * measure.Inch}},
			}},
		},
	}
}

func TestProcedureWorkedByHand(t *testing.T) {
	p := procedure.Of(handTally(), procedure.Reckoning{})
	require.Nil(t, p.NoResult)
	const (
		high  = (48.1875 + 47.25 + 48.5625 + 47.0625) / 4
		long  = 96.375
		piece = (4*16.125 + 15.9375) / 5
		gap   = 9.9375 * 4.875
	)
	assert.InDelta(t, high*long*piece-gap*piece, float64(p.Volume)/float64(measure.CubicInch), 1e-6)
	assert.InDelta(t, (48.125+47.25+48.5+47)/4*96.25*16, float64(p.Exact)/float64(measure.CubicInch), 1e-6)
	assert.Equal(t, []string{"heights", "lengths", "pieces", "voids", "voids"}, changeCodes(p.Changes))
	assert.InDelta(t, float64(p.Volume-p.Exact)+10*5*piece*float64(measure.CubicInch), float64(p.InSellersFavour()), 4, "every rounding, and not the gap itself")
	assert.Equal(t, procedure.NoTolerance, p.Word)
	require.NotNil(t, p.Error)
	assert.Equal(t, p.Volume-measure.Cord/3, *p.Error)
}

func changeCodes(changes []procedure.Change) []string {
	var all []string
	for _, c := range changes {
		all = append(all, c.Code)
	}
	return all
}

// What is missing is named: no back heights, one length of four; pieces and front
// heights are there.
func TestProcedureNamesMissingCounts(t *testing.T) {
	p := procedure.Of(handTally(), procedure.Reckoning{})
	missing := map[string][2]int{}
	for _, c := range p.Counts {
		if c.Seen < c.Wanted {
			missing[c.What] = [2]int{c.Seen, c.Wanted}
		}
	}
	assert.Equal(t, map[string][2]int{"heights of the back": {0, 4}, "lengths": {1, 4}}, missing)
	assert.False(t, p.Complete())
}

func TestProcedureTolerance(t *testing.T) {
	tally := handTally()
	volume := procedure.Of(tally, procedure.Reckoning{}).Volume
	sell := func(short float64) { tally.Sold.Quantity.Volume = measure.Volume(float64(volume) / (1 - short)) }
	k := procedure.Reckoning{Tolerance: []procedure.ToleranceStep{{Share: 0.02}}, ToleranceFrom: measure.Say("a set of its own")}
	sell(0.019)
	assert.Equal(t, procedure.WithinTolerance, procedure.Of(tally, k).Word)
	sell(0.021)
	assert.Equal(t, procedure.OutsideTolerance, procedure.Of(tally, k).Word)
	sell(-0.5)
	assert.Equal(t, procedure.WithinTolerance, procedure.Of(tally, k).Word, "more than was sold is not outside")
	sell(0.3)
	tally.Apart.Answered = false
	assert.Equal(t, procedure.NotJudged, procedure.Of(tally, k).Word, "what is elsewhere was not said")
	tally.Sold.Quantity.Basis = measure.Loose
	assert.Equal(t, procedure.NotJudged, procedure.Of(tally, k).Word, "another basis")
	tally.Sold = nil
	assert.Empty(t, procedure.Of(tally, k).Word)
}

// A crib that could make up what is missing keeps the procedure from judging.
func TestProcedureLeavesCribsOut(t *testing.T) {
	tally := handTally()
	rows := tally.Stack.(stack.Rows)
	plain := procedure.Of(tally, procedure.Reckoning{}).Volume
	rows.Rows[0].Ends[1] = stack.End{Kind: stack.Cribbed, Over: 16 * measure.Inch, Share: cribShare}
	p := procedure.Of(tally, procedure.Reckoning{Tolerance: []procedure.ToleranceStep{{Share: 0.02}}})
	assert.Equal(t, plain, p.Volume)
	require.Len(t, p.LeftOut, 1)
	assert.Negative(t, p.LeftOut[0].Size)
	tally.Sold.Quantity.Volume = plain * 105 / 100
	assert.Equal(t, procedure.NotJudged, procedure.Of(tally, procedure.Reckoning{Tolerance: []procedure.ToleranceStep{{Share: 0.02}}}).Word)
	tally.Sold.Quantity.Volume = plain * 2
	assert.Equal(t, procedure.OutsideTolerance, procedure.Of(tally, procedure.Reckoning{Tolerance: []procedure.ToleranceStep{{Share: 0.02}}}).Word)
}

func TestProcedureGivesNoResult(t *testing.T) {
	nominal := handTally()
	rows := nominal.Stack.(stack.Rows)
	rows.Pieces = stack.Pieces{Nominal: 16 * measure.Inch}
	nominal.Stack = rows
	for name, tally := range map[string]stack.Tally{"load": loadTally(), "nominal": nominal} {
		p := procedure.Of(tally, procedure.Reckoning{})
		require.NotNil(t, p.NoResult, name)
		assert.Zero(t, p.Volume, name)
		assert.Empty(t, p.Rows, name)
		assert.False(t, p.Complete(), name)
	}
	assert.NotZero(t, procedure.Of(boxedTally(), procedure.Reckoning{}).Volume)
}

// Rounded up it is never under the product of the averages less what is taken off,
// rounded down never over; and the changes lead from the one to the other.
func TestProcedureRoundsOneWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tally := someTally(t)
		step := rapid.SampledFrom([]measure.Length{3 * measure.Inch / 16, 5 * measure.Millimetre, measure.Inch}).Draw(t, "step")
		up := procedure.Of(tally, procedure.Reckoning{Increment: step, Rounding: stack.RoundUp})
		down := procedure.Of(tally, procedure.Reckoning{Increment: step, Rounding: stack.RoundDown})
		near := procedure.Of(tally, procedure.Reckoning{Increment: step, Rounding: stack.RoundNearest})
		require.LessOrEqual(t, down.Volume, near.Volume+2)
		require.LessOrEqual(t, near.Volume, up.Volume+2)
		for _, p := range []procedure.Result{up, down, near} {
			sum, rows := p.Exact, measure.Volume(0)
			for _, c := range p.Changes {
				sum += c.Size
			}
			for _, r := range p.Rows {
				rows += r.Volume
			}
			require.InDelta(t, float64(p.Volume), float64(sum), 20, "nanolitres")
			require.Equal(t, p.Volume, rows)
		}
		for _, c := range up.Changes {
			require.NotEqual(t, stack.Buyer, c.Favours)
		}
		for _, c := range down.Changes {
			require.NotEqual(t, stack.Seller, c.Favours)
		}
	})
}

// A procedure's result is stored as it is.
func TestProcedureStored(t *testing.T) {
	p := procedure.Of(handTally(), procedure.Reckoning{})
	b, err := json.Marshal(p)
	require.NoError(t, err)
	var back procedure.Result
	require.NoError(t, json.Unmarshal(b, &back))
	assert.Equal(t, p, back)
}

// A tally with both faces and the length read at four heights meets every count, and
// its length is the mean of all four.
func TestProcedureComplete(t *testing.T) {
	tally, err := stack.ParseTally([]byte(`{"format": 1, "apart": "none", "stack": {"kind": "rows", "pieces": ["16 in","16 in","16 in","16 in","16 in"],
	 "rows": [{"length": "96 in", "lengths": ["97 in","95 in","98 in"], "heights": ["48 in","48 in","48 in","48 in"], "back": ["48 in","48 in","48 in","48 in"]}]}}`))
	require.NoError(t, err)
	row := tally.Stack.(stack.Rows).Rows[0]
	assert.Equal(t, measure.Inch*193/2, row.Length)
	assert.Len(t, row.Lengths, 4)
	p := procedure.Of(tally, procedure.Reckoning{})
	assert.True(t, p.Complete())
	assert.Equal(t, 48*16*measure.CubicInch*193/2, p.Exact)
	_, err = stack.ParseTally([]byte(`{"format": 1, "stack": {"kind": "rows", "nominal": "16 in", "rows": [{"length": "96 in", "lengths": ["97"], "heights": ["48 in"]}]}}`))
	assert.ErrorContains(t, err, "stack.rows[0].lengths[0]")
}
