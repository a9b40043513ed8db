package measure

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sellAs gives the tally with so much sold, ranked.
func sellAs(tally Tally, v Volume) Tally {
	tally.Sold = &Said{Words: "as sold", Quantity: Quantity{Volume: v, Basis: Ranked}}
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
		sold Volume
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
	f := finding(t, shortTally())
	assert.InDelta(t, 0.05, finding(t, sellAs(shortTally(), f.ShortAbove)).Probability, 1e-9)
	assert.InDelta(t, 0.95, finding(t, sellAs(shortTally(), f.FullBelow)).Probability, 1e-9)
	v := measured(t, shortTally()).Quantity.Volume
	assert.InDelta(t, 0.5, finding(t, sellAs(shortTally(), v)).Probability, 1e-9)
}

// At no shortage shown, what cannot be ruled out is S − V + t·u.
func TestShortageThatCannotBeRuledOut(t *testing.T) {
	r := measured(t, shortTally())
	half := (r.Finding.ShortAbove - r.Finding.FullBelow) / 2 // t·u, no cribs here
	f := finding(t, sellAs(shortTally(), r.Quantity.Volume-CubicFoot))
	require.Equal(t, NoShortage, f.Word)
	assert.InDelta(t, float64(half-CubicFoot), float64(*f.CannotRuleOut), 2)
}

// Later looks are held to half the level.
func TestLaterLooksAreHeldStricter(t *testing.T) {
	first := finding(t, shortTally())
	assert.InDelta(t, 0.05, first.Alpha, 0)
	for look := 2; look <= 5; look++ {
		tally := shortTally()
		tally.Look = look
		later := finding(t, tally)
		assert.InDelta(t, 0.025, later.Alpha, 0)
		assert.Equal(t, look, later.Look)
		assert.Greater(t, later.ShortAbove, first.ShortAbove)
		assert.Less(t, later.FullBelow, first.FullBelow)
		assert.Equal(t, Unresolved, finding(t, sellAs(tally, first.ShortAbove)).Word)
		assert.Contains(t, keys(later.Why), "This is look %d at the delivery; P is held against %.3g, not %.3g, because measuring until the answer pleases is not measuring.")
	}
}

// Wood that may be elsewhere keeps a shortage from being one; it does not keep
// a full quantity from being full.
func TestApartNotAnswered(t *testing.T) {
	tally := shortTally()
	tally.Apart = Apart{}
	r := measured(t, tally)
	assert.Equal(t, Unresolved, r.Finding.Word)
	assert.LessOrEqual(t, r.Finding.Probability, r.Finding.Alpha)
	assert.Contains(t, keys(r.Finding.Why), "It is not called short, because it was not said whether any of this delivery is elsewhere.")
	assert.Contains(t, keys(r.Notes), "It was not said whether any of this delivery is elsewhere: taken in, burned or left in a heap.")
	assert.Equal(t, Full, finding(t, sellAs(tally, Cord/2)).Word)
}

// What is elsewhere is taken off what was sold.
func TestApartIsTakenOff(t *testing.T) {
	tally := shortTally()
	tally.Apart = Apart{Answered: true, Quantity: Quantity{Volume: Cord / 8, Basis: Ranked}}
	f := finding(t, tally)
	assert.Equal(t, Cord-Cord/8, f.Due)
	assert.Equal(t, Cord, f.Sold.Volume)
	assert.Equal(t, Full, f.Word)
	tally.Apart.Quantity.Volume = 2 * Cord
	assert.Equal(t, Full, finding(t, tally).Word, "more elsewhere than was sold leaves nothing due")
}

// A crib alone never decides: not short if it were solid, not full if it were air.
func TestCribsNeverDecide(t *testing.T) {
	tally := plain(1, 16*Foot, 4*Foot, 24*Inch)
	tally.Apart.Answered = true
	row := &tally.Stack.(Rows).Rows[0]
	row.Ends[0] = End{Kind: Cribbed, Over: 24 * Inch, Share: 0.5, Judged: true}
	v := measured(t, tally).Quantity.Volume
	box := 24 * 24 * 48 * CubicInch
	require.Equal(t, Cord+box/2, v)
	f := finding(t, sellAs(tally, v))
	reach := f.ShortAbove - (v + box/2)
	assert.InDelta(t, float64(v-box/2-reach), float64(f.FullBelow), 2)

	held := finding(t, sellAs(tally, v+reach+CubicInch))
	assert.Less(t, held.Probability, 0.05)
	assert.Equal(t, Unresolved, held.Word)
	assert.Contains(t, keys(held.Why), "It is not called short, because with every crib counted as ranked wood it would not be.")

	held = finding(t, sellAs(tally, v-reach-CubicInch))
	assert.Greater(t, held.Probability, 0.95)
	assert.Equal(t, NoShortage, held.Word)
	require.NotNil(t, held.CannotRuleOut)
	assert.Equal(t, held.Due-held.FullBelow, *held.CannotRuleOut, "with no crib counted")
	assert.Contains(t, keys(held.Why), "It is not called full, because with no crib counted it would not be.")
}

// The seller is told how much more wood makes it full; nobody else is.
func TestSellerIsToldWhatMakesItFull(t *testing.T) {
	const key = "About %s more ranked wood would make it full."
	tally := shortTally()
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
		sold, apart Quantity
		field       string
	}{
		{"a container is not ranked", Quantity{Cord, Container}, Quantity{}, "sold"},
		{"no basis", Quantity{Cord, ""}, Quantity{}, "sold"},
		{"nothing", Quantity{0, Ranked}, Quantity{}, "sold"},
		{"apart on another basis", Quantity{Cord, Ranked}, Quantity{Cord / 8, Loose}, "apart"},
		{"apart below nothing", Quantity{Cord, Ranked}, Quantity{-1, Ranked}, "apart"},
	} {
		tally := shortTally()
		tally.Sold = &Said{Quantity: c.sold}
		tally.Apart.Quantity = c.apart
		_, err := Measure(tally)
		var fault *InputError
		require.ErrorAs(t, err, &fault, c.name)
		assert.Equal(t, c.field, fault.Field, c.name)
		assert.NotEmpty(t, fault.Accepts.Key, c.name)
	}
}

func keys(texts []Text) []string {
	ks := make([]string, len(texts))
	for i, text := range texts {
		ks[i] = text.Key
	}
	return ks
}
