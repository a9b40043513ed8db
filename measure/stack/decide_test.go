package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/student"
)

// sellAs gives the tally with so much sold, ranked.
func sellAs(tally Tally, v measure.Volume) Tally {
	tally.Sold = &measure.Said{Words: "as sold", Quantity: measure.Quantity{Volume: v, Basis: measure.Ranked}}
	return tally
}

func finding(t *testing.T, tally Tally) *Finding {
	t.Helper()
	f := measured(t, tally).Finding
	require.NotNil(t, f)
	return f
}

func TestNothingSoldNothingFound(t *testing.T) {
	tally := shortTally()
	tally.Sold = nil
	assert.Nil(t, measured(t, tally).Finding)
}

// The four findings, each up to the nanolitre where the next begins.
func TestFindingsAtTheirLimits(t *testing.T) {
	tally := shortTally()
	f := finding(t, tally)
	v := measured(t, tally).Quantity.Volume
	for _, c := range []struct {
		sold measure.Volume
		want Word
	}{
		{2 * f.ShortAbove, Short},
		{f.ShortAbove, Short},
		{f.ShortAbove - 1, Unresolved},
		{v + 1, Unresolved},
		{v, NoShortage},
		{f.FullBelow + 1, NoShortage},
		{f.FullBelow, Full},
		{1, Full},
	} {
		got := finding(t, sellAs(tally, c.sold))
		assert.Equal(t, c.want, got.Word, "sold %d", c.sold)
		assert.Equal(t, f.ShortAbove, got.ShortAbove)
		assert.Equal(t, f.FullBelow, got.FullBelow)
		assert.Equal(t, v-c.sold, got.Margin)
		assert.Equal(t, c.want == NoShortage, got.CannotRuleOut != nil)
	}
}

// P at the limits is α and 1 − α.
func TestProbabilityAtTheLimits(t *testing.T) {
	tally := nearestTally()
	f := finding(t, tally)
	assert.InDelta(t, 0.05, finding(t, sellAs(tally, f.ShortAbove)).Probability, 1e-9)
	v := measured(t, tally).Quantity.Volume
	assert.InDelta(t, 0.5, finding(t, sellAs(tally, v)).Probability, 1e-9)
	// Full is judged with the stowing that nobody looked at: s = 0.020 in place of 0.012.
	e, err := tally.Stack.estimate(&tally)
	require.NoError(t, err)
	full := e.against(0.020, true)
	assert.InDelta(t, 0.95, student.CDF(float64(v-f.FullBelow)/float64(measure.CubicInch)/full.u, full.degrees), 1e-9)
	assert.Greater(t, full.u, e.against(0.012, true).u)
}

// Where it is not said how readings were rounded, short is judged at the top of their
// division and full at the bottom.
func TestDivisionWidensTheLimits(t *testing.T) {
	said, not := finding(t, nearestTally()), finding(t, shortTally())
	assert.Greater(t, not.ShortAbove, said.ShortAbove)
	assert.Less(t, not.FullBelow, said.FullBelow)
	finer := shortTally()
	finer.Tape = measure.Inch / 16
	rows := finer.Stack.(Rows)
	rows.Rows[0].Heights[0] -= measure.Inch / 16 // so that no coarser division is in effect
	rows.Pieces.Sample[0] -= measure.Inch / 16
	assert.Less(t, finding(t, finer).ShortAbove, not.ShortAbove)
}

// At no shortage shown, what cannot be ruled out is S − V + t·u.
func TestShortageThatCannotBeRuledOut(t *testing.T) {
	r := measured(t, shortTally())
	reach := student.Quantile(0.95, float64(r.Degrees)) * float64(r.Standard)
	f := finding(t, sellAs(shortTally(), r.Quantity.Volume-measure.CubicFoot))
	require.Equal(t, NoShortage, f.Word)
	assert.InDelta(t, reach-float64(measure.CubicFoot), float64(*f.CannotRuleOut), 10)
}

// The k-th check is held to 0.05/2^k, so that all of them together stay near 0.05; full
// to the level of the first.
func TestLaterLooksAreHeldStricter(t *testing.T) {
	first := finding(t, nearestTally())
	assert.InDelta(t, 0.05, first.Alpha, 0)
	for look := 2; look <= 5; look++ {
		tally := nearestTally()
		tally.Look = look
		later := finding(t, tally)
		assert.InDelta(t, 0.05/math.Pow(2, float64(look)), later.Alpha, 0)
		assert.Equal(t, look, later.Look)
		assert.Greater(t, later.ShortAbove, first.ShortAbove)
		assert.Equal(t, first.FullBelow, later.FullBelow)
		assert.Equal(t, Unresolved, finding(t, sellAs(tally, first.ShortAbove)).Word)
		assert.Contains(t, keys(later.Why), "This is check %d of the delivery; P is held against %.3g, not %.3g, because measuring until the answer pleases is not measuring.")
	}
}

// However often it is checked, a check accuses no sooner than the one before: its level
// falls to where no number of the usual way to it is left.
func TestTheLastOfManyChecksIsStillHeldStricter(t *testing.T) {
	few := nearestTally()
	rows := few.Stack.(Rows)
	rows.Rows = rows.Rows[:1] // so few degrees of freedom that the limit runs away
	few.Stack = rows
	for name, tally := range map[string]Tally{"three rows": nearestTally(), "one row": few} {
		sold := measured(t, tally).Quantity.Volume + measure.CubicFoot
		before := measure.Volume(0)
		for look := 1; look <= maxLook; look++ {
			tally.Look = look
			f := finding(t, sellAs(tally, sold))
			require.GreaterOrEqual(t, f.ShortAbove, before, "%s, check %d", name, look)
			require.Equal(t, Unresolved, f.Word, "%s, check %d", name, look)
			before = f.ShortAbove
		}
	}
}

// Wood that may be elsewhere keeps a shortage from being one; it does not keep
// a full quantity from being full.
func TestApartNotAnswered(t *testing.T) {
	tally := nearestTally()
	tally.Apart = Apart{}
	r := measured(t, tally)
	assert.Equal(t, Unresolved, r.Finding.Word)
	assert.LessOrEqual(t, r.Finding.Probability, r.Finding.Alpha)
	assert.Equal(t, []Hold{HeldByApart}, r.Finding.HeldBack)
	assert.Equal(t, "apart", r.Next[0].Code, "what held it back is the first thing to do")
	assert.Contains(t, keys(r.Finding.Why), "It can’t be called short while it isn’t said whether any of this delivery is not in this stack.")
	assert.Contains(t, keys(r.Notes), "It was not said whether any of this delivery is not in this stack: taken in, burned or left in a heap.")
	assert.Equal(t, Full, finding(t, sellAs(tally, measure.Cord/2)).Word)
}

// Use that is on record elsewhere counts as not said until an amount is given, even
// where it was said that nothing is elsewhere.
func TestUseOnRecordHoldsShortBack(t *testing.T) {
	for _, apart := range []Apart{{}, {Answered: true}} {
		tally := nearestTally()
		tally.Used, tally.Apart = true, apart
		f := finding(t, tally)
		assert.Equal(t, Unresolved, f.Word)
		assert.Equal(t, []Hold{HeldByUse}, f.HeldBack)
	}
	tally := nearestTally()
	tally.Used, tally.Apart = true, Apart{Answered: true, Quantity: measure.Quantity{Volume: measure.CubicFoot / 10, Basis: measure.Ranked}}
	assert.Equal(t, Short, finding(t, tally).Word, "an amount answers it")
}

// Readings that can't carry an accusation make none, however low they are.
func TestFitHoldsShortBack(t *testing.T) {
	for name, c := range map[string]struct {
		change func(s *Rows)
		held   []Hold
	}{
		"four pieces":       {func(s *Rows) { s.Pieces.Sample = s.Pieces.Sample[:4] }, []Hold{HeldByPieces}},
		"a nominal length":  {func(s *Rows) { s.Pieces = Pieces{Nominal: 16 * measure.Inch} }, []Hold{HeldByPieces}},
		"one row's own":     {func(s *Rows) { s.Rows[1].Pieces.Sample = in(16) }, []Hold{HeldByPieces}},
		"two heights":       {func(s *Rows) { s.Rows[2].Heights = in(46, 45) }, []Hold{HeldByHeights}},
		"heights in 3 in":   {func(s *Rows) { s.Rows[0].Heights, s.Rows[0].Positions = in(48, 48, 48, 48), in(1, 2, 3, 4) }, []Hold{HeldByHeights}},
		"both":              {func(s *Rows) { s.Pieces.Sample, s.Rows[0].Heights = in(16), in(48) }, []Hold{HeldByPieces, HeldByHeights}},
		"0.4 of the length": {func(s *Rows) { s.Rows[0].Heights, s.Rows[0].Positions = in(48, 48, 48), in(19.2, 38.4, 76.8) }, nil},
	} {
		tally := sellAs(nearestTally(), 2*measure.Cord)
		s := tally.Stack.(Rows)
		c.change(&s)
		tally.Stack = s
		f := finding(t, tally)
		assert.Equal(t, c.held, f.HeldBack, name)
		assert.Equal(t, c.held == nil, f.Word == Short, name)
		full := finding(t, sellAs(tally, measure.Cord/4))
		assert.Equal(t, c.held == nil, full.Word == Full, name)
		assert.Equal(t, c.held, full.HeldFromFull, name)
	}
}

// Full asks for the stowing to be looked at, and for every end to be said.
func TestFullAsksForStowingAndEnds(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*Tally)
		held   []Hold
	}{
		"stowing not looked at": {func(t *Tally) { t.Stowed = "" }, []Hold{HeldByStowing}},
		"many gaps counted":     {func(t *Tally) { t.Stowed, t.Gaps = StowingCounted, Gaps{9, 100} }, []Hold{HeldByStowing}},
		"few gaps counted":      {func(t *Tally) { t.Stowed, t.Gaps = StowingCounted, Gaps{8, 100} }, nil},
		"an end not said":       {func(t *Tally) { t.Stack.(Rows).Rows[1].Ends[0].Unsaid = true }, []Hold{HeldByEnds}},
	} {
		tally := sellAs(nearestTally(), measure.Cord/2)
		c.change(&tally)
		f := finding(t, tally)
		assert.Equal(t, c.held, f.HeldFromFull, name)
		assert.Equal(t, c.held == nil, f.Word == Full, name)
		assert.Nil(t, f.CannotRuleOut, "no shortage is left to rule out")
		assert.Equal(t, Short, finding(t, sellAs(tally, measure.Cord)).Word, "%s: short doesn’t ask for it", name)
	}
}

// Heights read by eye may be an inch low, which holds a shortage back.
func TestEyeHoldsShortBack(t *testing.T) {
	tally := nearestTally()
	tally.Top = ByEye
	f := finding(t, tally)
	due := f.ShortAbove - measure.CubicFoot
	held := finding(t, sellAs(tally, due))
	assert.LessOrEqual(t, held.Probability, held.Alpha)
	assert.Equal(t, []Hold{HeldByHeights}, held.HeldBack)
	assert.Equal(t, "straightedge", measured(t, sellAs(tally, due)).Next[0].Code)
	assert.Equal(t, Short, finding(t, sellAs(tally, f.ShortAbove)).Word)
}

// What is elsewhere is taken off what was sold.
func TestApartIsTakenOff(t *testing.T) {
	tally := shortTally()
	tally.Apart = Apart{Answered: true, Quantity: measure.Quantity{Volume: measure.Cord / 8, Basis: measure.Ranked}}
	f := finding(t, tally)
	assert.Equal(t, measure.Cord-measure.Cord/8, f.Due)
	assert.Equal(t, measure.Cord, f.Sold.Volume)
	assert.Equal(t, Full, f.Word)
	tally.Apart.Quantity.Volume = 2 * measure.Cord
	assert.Equal(t, Full, finding(t, tally).Word, "more elsewhere than was sold leaves nothing due")
}

// A crib alone never decides: not short if it were solid, not full if it were air.
func TestCribsNeverDecide(t *testing.T) {
	tally := plain(1, 16*measure.Foot, 4*measure.Foot, 24*measure.Inch)
	tally.Apart.Answered, tally.Rounded = true, RoundNearest
	row := &tally.Stack.(Rows).Rows[0]
	row.Ends[0] = End{Kind: Cribbed, Over: 24 * measure.Inch, Share: 0.5, Judged: true}
	v := measured(t, tally).Quantity.Volume
	box := 24 * 24 * 48 * measure.CubicInch
	require.Equal(t, measure.Cord+box/2, v)
	f := finding(t, sellAs(tally, v))
	reach, down := f.ShortAbove-(v+box/2), v-box/2-f.FullBelow
	assert.Greater(t, down, reach, "full is judged with more doubt about the stowing")

	held := finding(t, sellAs(tally, v+reach+measure.CubicInch))
	assert.Less(t, held.Probability, 0.05)
	assert.Equal(t, Unresolved, held.Word)
	assert.Contains(t, keys(held.Why), "It can’t be called short, because with every crib counted as ranked wood it would not be.")

	held = finding(t, sellAs(tally, v-down-measure.CubicInch))
	assert.Greater(t, held.Probability, 0.95)
	assert.Equal(t, NoShortage, held.Word)
	require.NotNil(t, held.CannotRuleOut)
	assert.Equal(t, held.Due-held.FullBelow, *held.CannotRuleOut, "with no crib counted")
	assert.Contains(t, keys(held.Why), "It is not called full, because with no crib counted it would not be.")
}

// The seller is told how much more wood makes it full; nobody else is.
func TestSellerIsToldWhatMakesItFull(t *testing.T) {
	const key = "About %s more ranked wood would make it full."
	tally := nearestTally()
	assert.NotContains(t, keys(finding(t, tally).Why), key)
	tally.By = Seller
	f := finding(t, tally)
	assert.Equal(t, Short, f.Word, "the scale is the same for all")
	last := f.Why[len(f.Why)-1]
	assert.Equal(t, key, last.Key)
	assert.Equal(t, []any{f.Due - f.FullBelow}, last.Args)
}

func TestBasesThatNothingCrosses(t *testing.T) {
	for _, c := range []struct {
		name        string
		sold, apart measure.Quantity
		field, code string
	}{
		{"no basis", measure.Quantity{Volume: measure.Cord, Basis: ""}, measure.Quantity{}, "sold", "basis"},
		{"nothing", measure.Quantity{Volume: 0, Basis: measure.Ranked}, measure.Quantity{}, "sold", "too-small"},
		{"less than nothing", measure.Quantity{Volume: -measure.Cord, Basis: measure.Ranked}, measure.Quantity{}, "sold", "too-small"},
		{"apart on another basis", measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, measure.Quantity{Volume: measure.Cord / 8, Basis: measure.Loose}, "apart", "basis"},
		{"apart on no basis", measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, measure.Quantity{Volume: 1}, "apart", "basis"},
		{"apart below nothing", measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, measure.Quantity{Volume: -1, Basis: measure.Ranked}, "apart", "negative"},
	} {
		tally := shortTally()
		tally.Sold = &measure.Said{Quantity: c.sold}
		tally.Apart.Quantity = c.apart
		_, err := Measure(tally)
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, c.name)
		assert.Equal(t, []string{c.field, c.code}, []string{fault.Field, fault.Code}, c.name)
		assert.NotEmpty(t, fault.Accepts.Key, c.name)
	}
	tally := shortTally()
	tally.Apart.Quantity = measure.Quantity{Basis: measure.Loose}
	assert.Equal(t, finding(t, shortTally()).Word, finding(t, tally).Word, "nothing stands in no way at all")
	for _, basis := range []measure.Basis{measure.Ranked, measure.Loose, measure.Container} {
		tally := shortTally()
		tally.Sold = &measure.Said{Quantity: measure.Quantity{Volume: 1, Basis: basis}}
		assert.Equal(t, basis, finding(t, tally).Sold.Basis, "the least of what can be sold is taken")
	}
}

func keys(texts []measure.Text) []string {
	ks := make([]string, len(texts))
	for i, text := range texts {
		ks[i] = text.Key
	}
	return ks
}
