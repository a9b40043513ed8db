package road

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// Flinders Peak to Buninyong is 54 972.271 m on the ellipsoid (Geocentric Datum of Australia
// Technical Manual, chapter 4, from memory); a sphere is within 0.6 % of that anywhere. A quarter
// of the meridian is 10 001.966 km on the ellipsoid (GRS 80, from memory).
func TestAsTheCrowFlies(t *testing.T) {
	flinders, known := placeOf("-37.951033,144.424868")
	require.True(t, known)
	buninyong, _ := placeOf("-37.652821,143.926496")
	assert.InEpsilon(t, 54_972.271, crow(flinders, buninyong).In(measure.Metre), 0.006)
	pole, _ := placeOf("90.000000,0.000000")
	equator, _ := placeOf("0.000000,12.000000")
	assert.InEpsilon(t, 10_001_966, crow(pole, equator).In(measure.Metre), 0.006)
	assert.Zero(t, crow(pole, pole))
	west, _ := placeOf("0.000000,-179.900000")
	east, _ := placeOf("0.000000,179.900000")
	assert.InEpsilon(t, 22_239, crow(west, east).In(measure.Metre), 0.006, "over the line where days begin")
	_, known = placeOf("")
	assert.False(t, known)
}

// grounds draws stops on a plane, some of which must come before others by their hours.
func grounds(t *rapid.T, least, most int, hours, unplaced bool) ground {
	n := rapid.IntRange(least, most).Draw(t, "stops")
	at := make([][2]float64, n+1)
	for i := range at {
		at[i] = [2]float64{rapid.Float64Range(-20, 20).Draw(t, "x"), rapid.Float64Range(-20, 20).Draw(t, "y")}
	}
	way := func(a, b int) measure.Length {
		return measure.Length(math.Round(math.Hypot(at[a][0]-at[b][0], at[a][1]-at[b][1]) * 1000 * float64(measure.Metre)))
	}
	g := ground{placed: make([]bool, n), between: make([][]measure.Length, n)}
	windows := make([]window, n)
	for i := range n {
		g.placed[i] = !unplaced || rapid.IntRange(0, 4).Draw(t, "placed") > 0
		windows[i] = window{0, 24 * 60}
		if hours {
			windows[i] = rapid.SampledFrom([]window{{0, 24 * 60}, {0, 12 * 60}, {12 * 60, 17 * 60}, {10 * 60, 10 * 60}, {9 * 60, 11 * 60}}).Draw(t, "hours")
		}
		g.between[i] = make([]measure.Length, n)
		for k := range n {
			g.between[i][k] = way(i, k)
		}
	}
	if rapid.Bool().Draw(t, "yard known") {
		g.yard = make([]measure.Length, n)
		for i := range n {
			g.yard[i] = way(i, n)
		}
	}
	g.before = func(first, second int) bool { return windows[first].before(windows[second]) }
	return g
}

// bruteRound is the shortest of all orders of stops that keep to the hours.
func bruteRound(g ground, stops []int) measure.Length {
	best := never
	permutations(stops, func(order []int) {
		for i, first := range order {
			for _, second := range order[i+1:] {
				if g.before(second, first) {
					return
				}
			}
		}
		best = min(best, g.length(order))
	})
	return best
}

func permutations(list []int, each func([]int)) {
	var go1 func(k int)
	list = slices.Clone(list)
	go1 = func(k int) {
		if k == len(list) {
			each(list)
			return
		}
		for i := k; i < len(list); i++ {
			list[k], list[i] = list[i], list[k]
			go1(k + 1)
			list[k], list[i] = list[i], list[k]
		}
	}
	go1(0)
}

func upTo(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

func TestTheRoundIsTheShortestOfAllOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := grounds(t, 1, 8, rapid.Bool().Draw(t, "with hours"), false)
		round, exact := g.roundOf(upTo(g.size()))
		require.True(t, exact)
		require.ElementsMatch(t, upTo(g.size()), round)
		require.Equal(t, bruteRound(g, upTo(g.size())), g.length(round))
		for i, first := range round {
			for _, second := range round[i+1:] {
				require.False(t, g.before(second, first), "the hours are kept")
			}
		}
	})
}

// Above the exact size no round is longer than twice a least tree that joins all, which no
// round is shorter than.
func TestALongRoundIsAtMostTwiceTheShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := grounds(t, mostExact+1, 24, false, false)
		round, exact := g.roundOf(upTo(g.size()))
		require.False(t, exact)
		require.ElementsMatch(t, upTo(g.size()), round)
		require.LessOrEqual(t, g.length(round), 2*leastTree(g))
	})
}

// leastTree is the length of the least tree, by Kruskal's way, and not by the one tested.
func leastTree(g ground) (sum measure.Length) {
	type edge struct {
		a, b int
		way  measure.Length
	}
	var edges []edge
	n := g.size()
	for a := range n {
		for b := range a {
			edges = append(edges, edge{a, b, g.between[a][b]})
		}
		if g.yard != nil {
			edges = append(edges, edge{a, n, g.yard[a]})
		}
	}
	slices.SortFunc(edges, func(x, y edge) int { return cmp.Compare(x.way, y.way) })
	piece := upTo(n + 1)
	for _, e := range edges {
		if a, b := piece[e.a], piece[e.b]; a != b {
			sum += e.way
			for i := range piece {
				if piece[i] == b {
					piece[i] = a
				}
			}
		}
	}
	return sum
}

func TestStopsWithoutAPlaceComeWhereTheirHoursAsk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := grounds(t, 1, 7, true, true)
		round, _ := g.roundOf(upTo(g.size()))
		require.ElementsMatch(t, upTo(g.size()), round)
		placed := slices.DeleteFunc(upTo(g.size()), func(i int) bool { return !g.placed[i] })
		require.Equal(t, g.length(round), bruteRound(g, placed))
	})
}

// bruteTrips is the best of all ways to put parcels in slots: how often the busiest vehicle
// goes, how many trips there are, and how long they are.
func bruteTrips(parcels []parcel, carriers []carrier, g ground) (rounds int, best cost) {
	rounds = len(parcels) + 1
	at := make([]slot, len(parcels))
	var put func(p int)
	put = func(p int) {
		if p == len(parcels) {
			most, c, ok := weigh(at, parcels, carriers, g)
			if ok && (most < rounds || most == rounds && c.less(best)) {
				rounds, best = most, c
			}
			return
		}
		for v := range carriers {
			for trip := range len(parcels) {
				at[p] = slot{v, trip}
				put(p + 1)
			}
		}
	}
	put(0)
	return rounds, best
}

// weigh holds a way of packing against the vehicles.
func weigh(at []slot, parcels []parcel, carriers []carrier, g ground) (rounds int, c cost, ok bool) {
	loads := map[slot][]int{}
	for p, s := range at {
		loads[s] = append(loads[s], p)
	}
	trips := map[int]int{}
	for s, stops := range loads {
		share, weight := 0.0, wood.Mass(0)
		for _, p := range stops {
			share += parcels[p].shares[s.vehicle]
			weight += parcels[p].weight
		}
		if share > 1+1e-9 || weight > carriers[s.vehicle].carries {
			return 0, cost{}, false
		}
		c = c.plus(bruteRound(g, slices.DeleteFunc(stops, func(i int) bool { return !g.placed[i] })))
		trips[s.vehicle]++
		rounds = max(rounds, trips[s.vehicle])
	}
	return rounds, c, true
}

// drawn draws vehicles and parcels of which each fits one of them.
func drawn(t *rapid.T, g ground) (parcels []parcel, carriers []carrier) {
	vehicles := rapid.IntRange(1, 2).Draw(t, "vehicles")
	for range vehicles {
		carriers = append(carriers, carrier{wood.Mass(rapid.IntRange(10, 20).Draw(t, "carries")) * wood.Tonne / 10})
	}
	for range g.size() {
		p := parcel{weight: wood.Mass(rapid.IntRange(1, 10).Draw(t, "weight")) * wood.Tonne / 10}
		for range vehicles {
			p.shares = append(p.shares, float64(rapid.IntRange(1, 10).Draw(t, "tenths"))/10)
		}
		parcels = append(parcels, p)
	}
	return parcels, carriers
}

func TestPackingIsTheBestOfAllWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := grounds(t, 1, 4, rapid.Bool().Draw(t, "with hours"), true)
		parcels, carriers := drawn(t, g)
		got := pack(parcels, carriers, g)
		require.True(t, got.exact)
		rounds, c, ok := weigh(got.slots, parcels, carriers, g)
		require.True(t, ok, "no vehicle carries more than it may")
		wantRounds, want := bruteTrips(parcels, carriers, g)
		require.Equal(t, wantRounds, rounds)
		require.Equal(t, want, c)
	})
}

func TestManyParcelsAllGoAndNoneIsTooMuch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := grounds(t, mostExact+1, 20, false, true)
		g.placed = make([]bool, g.size()) // only how they fit is looked at
		parcels, carriers := drawn(t, g)
		got := pack(parcels, carriers, g)
		require.False(t, got.exact)
		_, c, ok := weigh(got.slots, parcels, carriers, g)
		require.True(t, ok)
		require.LessOrEqual(t, c.trips, len(parcels))
	})
}
