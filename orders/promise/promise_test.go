package promise

import (
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

var today = act.Date{Year: 2026, Month: time.June, Day: 10}

func tenths(n int) measure.Quantity {
	return measure.Quantity{Volume: measure.Volume(n) * (measure.Cord / 10), Basis: measure.Ranked}
}

// barnyard is oak put up in June, dry by mid-October, and maple that is dry.
func barnyard() Yard {
	return Yard{Today: today, Woods: []Wood{
		{Batch: "oak", Name: "June oak", Species: "red oak", PieceLength: 16 * measure.Inch, Left: tenths(50), Dry: act.Date{Year: 2026, Month: time.October, Day: 14}, DryLatest: act.Date{Year: 2026, Month: time.December, Day: 2}},
		{Batch: "maple", Name: "upper shed", Species: "sugar maple", PieceLength: 16 * measure.Inch, Left: tenths(20), Dry: today.AddDays(-30)},
	}, Claims: []Claim{{Order: 7, Species: "red oak", Wood: tenths(6)}}}
}

func TestPromises(t *testing.T) {
	october, november := act.Date{Year: 2026, Month: time.October, Day: 14}, act.Date{Year: 2026, Month: time.November, Day: 1}
	for name, row := range map[string]struct {
		ask  Claim
		word Word
		from string
		want func(t *testing.T, a Answer)
	}{
		"from the oak, dry in time": {Claim{Species: "oak", Dry: true, Wood: tenths(20), By: november}, Yes, "June oak", func(t *testing.T, a Answer) {
			assert.Equal(t, tenths(24), a.Left)
			assert.Equal(t, october, a.Dry)
			assert.Equal(t, act.Date{Year: 2026, Month: time.December, Day: 2}, a.DryLatest)
		}},
		"not before October": {Claim{Species: "oak", Dry: true, Wood: tenths(20), By: today.AddDays(20)}, Later, "June oak", func(t *testing.T, a Answer) {
			assert.Equal(t, october, a.NotBefore)
			assert.Equal(t, tenths(20), a.Lacking)
		}},
		"short by any day": {Claim{Species: "oak", Wood: tenths(51)}, Short, "", func(t *testing.T, a Answer) { assert.Equal(t, tenths(7), a.Lacking) }},
		"the dry wood first": {Claim{Wood: tenths(10)}, Yes, "upper shed", func(t *testing.T, a Answer) {
			assert.Equal(t, tenths(54), a.Left)
			assert.Zero(t, a.Dry)
		}},
		"a day that is past is today": {Claim{Dry: true, Wood: tenths(20), By: today.AddDays(-40)}, Yes, "upper shed", func(t *testing.T, a Answer) { assert.Zero(t, a.Left.Volume) }},
		"of two batches":              {Claim{Species: "red oak and sugar maple", Wood: tenths(60)}, Yes, "June oak, upper shed", func(t *testing.T, a Answer) { assert.Equal(t, tenths(4), a.Left) }},
		"other pieces":                {Claim{Species: "red oak", PieceLength: 24 * measure.Inch, Wood: tenths(1)}, Short, "", func(t *testing.T, a Answer) { assert.Zero(t, a.Free.Volume) }},
		"another measure":             {Claim{Wood: measure.Quantity{Volume: 1, Basis: measure.Loose}}, Short, "", func(t *testing.T, a Answer) { assert.Zero(t, a.Free.Volume) }},
	} {
		t.Run(name, func(t *testing.T) {
			a := barnyard().Ask(row.ask)
			assert.Equal(t, row.word, a.Word)
			from := ""
			for _, s := range a.From {
				if from != "" {
					from += ", "
				}
				from += s.Name
			}
			assert.Equal(t, row.from, from)
			row.want(t, a)
		})
	}
}

// An order that may be served from either batch doesn't hold wood back that another needs.
func TestWhichWoodAnOrderGetsIsLeftOpen(t *testing.T) {
	y := barnyard()
	y.Claims = []Claim{{Order: 1, Wood: tenths(20)}}
	assert.Equal(t, Yes, y.Ask(Claim{Species: "sugar maple", Wood: tenths(20)}).Word, "any wood comes from the oak then")
	y.Claims[0].SetAside = "maple"
	a := y.Ask(Claim{Species: "sugar maple", Wood: tenths(20)})
	assert.Equal(t, Short, a.Word, "it is set aside")
	y.Claims[0].SetAside = "oak"
	y.Claims[0].Wood = tenths(61)
	assert.Equal(t, tenths(11), y.Ask(Claim{Wood: tenths(1)}).Oversold)
}

// Against every way of giving wood out, on small cases: the orders get as much as they can
// by their day, those due first before the others, then what is left later, and what is free
// is the most that then remains for what is asked about.
func TestPromisesAgainstEveryWay(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 5))
	species := []string{"", "oak", "red oak", "white oak", "sugar maple"}
	for range 150 {
		y := Yard{Today: today}
		for range 1 + random.IntN(3) {
			y.Woods = append(y.Woods, Wood{Batch: string(rune('a' + len(y.Woods))), Species: species[2+random.IntN(3)], Left: measure.Quantity{Volume: measure.Volume(random.IntN(5)), Basis: measure.Ranked},
				Dry: []act.Date{{}, today, today.AddDays(10), today.AddDays(20)}[random.IntN(4)]})
		}
		claim := func(order int64) Claim {
			c := Claim{Order: order, Species: species[random.IntN(5)], Dry: random.IntN(2) == 0, Wood: measure.Quantity{Volume: measure.Volume(1 + random.IntN(3)), Basis: measure.Ranked},
				By: []act.Date{{}, today.AddDays(-5), today.AddDays(10), today.AddDays(15)}[random.IntN(4)]}
			if random.IntN(5) == 0 {
				c.SetAside = "a"
			}
			return c
		}
		for i := range random.IntN(3) {
			y.Claims = append(y.Claims, claim(int64(i)))
		}
		ask := claim(0)
		a := y.Ask(ask)
		unserved, free := everyWay(y, ask, y.by(ask))
		require.Equal(t, free, a.Free.Volume, "%+v\n%+v", y, ask)
		require.Equal(t, unserved, a.Oversold.Volume, "%+v", y)
		sum := measure.Volume(0)
		for _, s := range a.From {
			sum += s.Wood.Volume
		}
		switch a.Word {
		case Yes:
			require.Equal(t, ask.Wood.Volume, sum)
			require.Equal(t, free, a.Left.Volume+ask.Wood.Volume)
		case Later:
			require.Equal(t, ask.Wood.Volume, sum)
			_, before := everyWay(y, ask, a.NotBefore.AddDays(-1))
			_, then := everyWay(y, ask, a.NotBefore)
			require.Less(t, before, ask.Wood.Volume)
			require.GreaterOrEqual(t, then, ask.Wood.Volume)
		case Short:
			_, ever := everyWay(y, ask, act.Date{})
			require.Less(t, ever, ask.Wood.Volume)
		}
	}
}

// everyWay tries all ways to give the batches out, unit by unit: to the orders by their day,
// in the order they are due, then to what they still lack on any day.
func everyWay(y Yard, ask Claim, by act.Date) (unserved, free measure.Volume) {
	claims := slices.Clone(y.Claims)
	slices.SortStableFunc(claims, func(a, b Claim) int { return y.last(a).Midnight().Compare(y.last(b).Midnight()) })
	left := make([]measure.Volume, len(y.Woods))
	for i, w := range y.Woods {
		left[i] = w.Left.Volume
	}
	got := make([]measure.Volume, 2*len(claims)) // by the day, then later
	var best []measure.Volume                    // what they got, and what was free
	var give func(turn, from int)
	give = func(turn, from int) {
		if turn == len(got) {
			rest := measure.Volume(0)
			for i, w := range y.Woods {
				if w.serves(ask, by) {
					rest += left[i]
				}
			}
			if way := append(slices.Clone(got), rest); best == nil || slices.Compare(way, best) > 0 {
				best = way
			}
			return
		}
		if from == len(y.Woods) {
			give(turn+1, 0)
			return
		}
		c := claims[turn%len(claims)]
		day, still := y.by(c), c.Wood.Volume-got[turn]
		if turn >= len(claims) {
			day, still = act.Date{}, still-got[turn-len(claims)]
		}
		for v := measure.Volume(0); v <= min(still, left[from]); v++ {
			if v > 0 && !y.Woods[from].serves(c, day) {
				break
			}
			left[from] -= v
			got[turn] += v
			give(turn, from+1)
			got[turn] -= v
			left[from] += v
		}
	}
	give(0, 0)
	for i, c := range claims {
		unserved += c.Wood.Volume - best[i] - best[i+len(claims)]
	}
	return unserved, best[len(best)-1]
}

// What is there by month is what there is now, less what is due by then, in its three parts.
func TestWoodByMonth(t *testing.T) {
	y := barnyard()
	y.Claims = []Claim{
		{Order: 1, Species: "red oak", Dry: true, Wood: tenths(10), By: act.Date{Year: 2026, Month: time.November, Day: 20}},
		{Order: 2, Species: "sugar maple", Wood: tenths(5), By: today.AddDays(-3)}, {Order: 3, Wood: tenths(1)},
	}
	months := y.Months(7, measure.Ranked)
	want := func(i int, due, promised, dry, green int) {
		assert.Equal(t, Month{Year: 2026, Month: time.June + time.Month(i), Due: tenths(due).Volume, Promised: tenths(promised).Volume, Dry: tenths(dry).Volume, Green: tenths(green).Volume}, months[i])
	}
	want(0, 5, 11, 15, 39) // the order for any wood takes oak, so that all dry maple is free
	want(4, 5, 11, 54, 0)
	want(5, 15, 1, 54, 0)
	want(6, 15, 1, 54, 0)
}
