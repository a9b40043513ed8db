package stack

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
)

// quarters draws a length of whole quarter inches.
func quarters(t *rapid.T, low, high int, name string) measure.Length {
	return measure.Length(rapid.IntRange(4*low, 4*high).Draw(t, name)) * (measure.Inch / 4)
}

func someLengths(t *rapid.T, low, high, most int, name string) []measure.Length {
	ls := make([]measure.Length, rapid.IntRange(1, most).Draw(t, name+" count"))
	for i := range ls {
		ls[i] = quarters(t, low, high, name)
	}
	return ls
}

func someEnd(t *rapid.T) End {
	e := End{Kind: rapid.SampledFrom([]EndKind{Upright, Shouldered, Tapered, Cribbed}).Draw(t, "end")}
	if e.Kind != Upright {
		e.Over = quarters(t, 1, 20, "over")
	}
	switch e.Kind {
	case Shouldered:
		e.Drop = quarters(t, 1, 10, "drop")
	case Cribbed:
		if e.Judged = rapid.Bool().Draw(t, "judged"); e.Judged {
			e.Share = rapid.Float64Range(0, 1).Draw(t, "share")
		}
	}
	return e
}

func someRow(t *rapid.T) Row {
	r := Row{
		Length:  quarters(t, 60, 400, "length"),
		Heights: someLengths(t, 30, 90, 8, "height"),
		Ends:    [2]End{someEnd(t), someEnd(t)},
	}
	if rapid.Bool().Draw(t, "void") {
		r.Voids = []Void{{quarters(t, 1, 20, "void width"), quarters(t, 1, 20, "void height")}}
	}
	if rapid.Bool().Draw(t, "own pieces") {
		r.Pieces.Sample = someLengths(t, 12, 24, 6, "own piece")
	}
	return r
}

func someTally(t *rapid.T) Tally {
	s := Rows{Pieces: Pieces{Sample: someLengths(t, 12, 24, 12, "piece")}}
	for range rapid.IntRange(1, 5).Draw(t, "rows") {
		s.Rows = append(s.Rows, someRow(t))
	}
	return Tally{
		Apart: Apart{Answered: rapid.Bool().Draw(t, "apart answered")},
		Look:  rapid.IntRange(1, 3).Draw(t, "look"), Tape: measure.Inch / 4,
		Top:    rapid.SampledFrom([]Top{ByEye, Straightedge}).Draw(t, "top"),
		Stowed: rapid.SampledFrom([]Stowing{"", StowingChecked}).Draw(t, "stowed"), Raised: quarters(t, 0, 6, "raised"),
		Stack: s,
	}
}

func mustMeasure(t *rapid.T, tally Tally) Result {
	r, err := Measure(tally)
	require.NoError(t, err)
	return r
}

// A row cut across, the stations going with their halves, sums to the whole within
// a nanolitre a part.
func TestCutStackSumsToWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := someTally(t)
		s := whole.Stack.(Rows)
		half := quarters(t, 60, 200, "half")
		first := someLengths(t, 30, 90, 6, "first half")
		second := make([]measure.Length, len(first))
		for i := range second {
			second[i] = quarters(t, 30, 90, "second half")
		}
		ends, voids, own := s.Rows[0].Ends, s.Rows[0].Voids, s.Rows[0].Pieces
		s.Rows[0] = Row{Length: 2 * half, Heights: slices.Concat(first, second), Ends: ends, Voids: voids, Pieces: own}
		left, right := whole, whole
		left.Stack = Rows{Pieces: s.Pieces, Rows: []Row{
			{Length: half, Heights: first, Ends: [2]End{ends[0], {Kind: Upright}}, Voids: voids, Pieces: own}}}
		right.Stack = Rows{Pieces: s.Pieces, Rows: append([]Row{
			{Length: half, Heights: second, Ends: [2]End{{Kind: Upright}, ends[1]}, Pieces: own}}, s.Rows[1:]...)}
		sum := mustMeasure(t, left).Quantity.Volume + mustMeasure(t, right).Quantity.Volume
		assert.InDelta(t, float64(mustMeasure(t, whole).Quantity.Volume), float64(sum), 2)
	})
}

// The order of the rows matters to nothing but their numbers.
func TestRowOrderDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tally := sellAs(someTally(t), measure.Cord)
		turned := tally
		s := tally.Stack.(Rows)
		turned.Stack = Rows{Pieces: s.Pieces, Rows: slices.Clone(s.Rows)}
		slices.Reverse(turned.Stack.(Rows).Rows)
		a, b := mustMeasure(t, tally), mustMeasure(t, turned)
		assert.InDelta(t, float64(a.Quantity.Volume), float64(b.Quantity.Volume), 1)
		assert.InDelta(t, float64(a.Expanded), float64(b.Expanded), 1)
		assert.Equal(t, a.Finding.Word, b.Finding.Word)
		assert.Equal(t, codes(a.Next), codes(b.Next))
	})
}

// More wood never lowers the volume.
func TestMoreWoodNeverLowersVolume(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tally := someTally(t)
		before := mustMeasure(t, tally).Quantity.Volume
		s := tally.Stack.(Rows)
		i := rapid.IntRange(0, len(s.Rows)-1).Draw(t, "row")
		more := quarters(t, 1, 10, "more")
		switch rapid.IntRange(0, 3).Draw(t, "how") {
		case 0:
			s.Rows[i].Heights[rapid.IntRange(0, len(s.Rows[i].Heights)-1).Draw(t, "station")] += more
		case 1:
			s.Rows[i].Length += more
		case 2:
			s.Rows[i].Voids = nil
		case 3:
			tally.Stack = Rows{Pieces: s.Pieces, Rows: append(s.Rows, someRow(t))}
		}
		assert.GreaterOrEqual(t, mustMeasure(t, tally).Quantity.Volume, before)
	})
}

// Cribs counted as nothing, as judged and whole come in that order.
func TestCribBoundsInOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tally := someTally(t)
		e, err := tally.Stack.estimate(&tally)
		require.NoError(t, err)
		const rounding = 1e-9
		assert.LessOrEqual(t, e.seen(view{cribs: noCribs}), e.value*(1+rounding))
		assert.LessOrEqual(t, e.value, e.seen(view{cribs: wholeCribs})*(1+rounding))
		assert.LessOrEqual(t, e.seen(lowest), e.value*(1+rounding))
		assert.LessOrEqual(t, e.value, e.seen(highest)*(1+rounding))
	})
}

// The word can be read off the limits and what holds it back, and readings that can’t
// carry a word never get it.
func TestFindingFollowsItsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tally := someTally(t)
		v := mustMeasure(t, tally).Quantity.Volume
		sold := measure.Volume(rapid.Int64Range(int64(v)*7/10, int64(v)*14/10).Draw(t, "sold"))
		r := mustMeasure(t, sellAs(tally, sold))
		f := r.Finding
		want := NoShortage
		switch {
		case f.Due >= f.ShortAbove && len(f.HeldBack) == 0:
			want = Short
		case f.Due <= f.FullBelow && len(f.HeldFromFull) == 0:
			want = Full
		case f.Due > r.Quantity.Volume:
			want = Unresolved
		}
		assert.Equal(t, want, f.Word)
		assert.Less(t, f.FullBelow, r.Quantity.Volume)
		assert.Greater(t, f.ShortAbove, r.Quantity.Volume)
		switch f.Word {
		case Short:
			assert.LessOrEqual(t, f.Probability, f.Alpha+1e-9)
			assert.True(t, f.Apart.Answered)
		case Full:
			assert.Greater(t, f.Probability, 0.95-1e-9)
			assert.Equal(t, StowingChecked, tally.Stowed)
		}
		if f.Word == Short || f.Word == Full {
			s := tally.Stack.(Rows)
			for i := range s.Rows {
				assert.GreaterOrEqual(t, len(s.Rows[i].Heights), 3)
				assert.GreaterOrEqual(t, len(s.PiecesOf(i).Sample), 5)
			}
		}
	})
}

// The budget accounts for the whole of the doubt, largest first.
func TestBudgetAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := mustMeasure(t, someTally(t))
		var shares float64
		for i, c := range r.Doubt {
			shares += c.Share
			assert.GreaterOrEqual(t, c.Standard, measure.Volume(0))
			assert.True(t, i == 0 || c.Standard <= r.Doubt[i-1].Standard)
		}
		assert.InDelta(t, 1, shares, 1e-9)
		assert.Positive(t, r.Expanded)
		assert.GreaterOrEqual(t, r.Coverage, 1.9599)
	})
}
