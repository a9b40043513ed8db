package road

import (
	"math/bits"
	"slices"

	"wellstowed/measure"
)

// mostExact is up to how many stops the shortest round, and the fewest trips, are found for
// certain.
const mostExact = 12

// never is longer than any way.
const never = measure.Length(1 << 60)

// A ground is the stops of a day, numbered from 0, and the ways between them.
type ground struct {
	placed  []bool // whether it is known where the stop is; of others no way counts
	between [][]measure.Length
	// yard is the way from the yard to each stop and back; nil where the yard's place isn't
	// known: then a round begins at its first stop and ends at its last.
	yard []measure.Length
	// before tells that the first must come before the second where both are on one round.
	before func(first, second int) bool
}

func (g ground) size() int { return len(g.placed) }

func (g ground) fromYard(stop int) measure.Length {
	if g.yard == nil {
		return 0
	}
	return g.yard[stop]
}

// length is the way of a round; stops whose place isn't known are passed over.
func (g ground) length(round []int) (way measure.Length) {
	round = slices.DeleteFunc(slices.Clone(round), func(stop int) bool { return !g.placed[stop] })
	for i, stop := range round {
		if i == 0 {
			way = g.fromYard(stop)
		} else {
			way += g.between[round[i-1]][stop]
		}
	}
	if len(round) > 0 {
		way += g.fromYard(round[len(round)-1])
	}
	return way
}

// A tours table has the shortest way through each set of stops, for up to mostExact of
// them: Held and Karp's method (Journal of the SIAM 10, 1962, from memory). A set is bits.
type tours struct {
	ground
	ways  [][]measure.Length // by set and last stop, from the yard
	whole []measure.Length   // by set: the shortest round
}

func newTours(g ground) tours {
	n := g.size()
	t := tours{ground: g, ways: make([][]measure.Length, 1<<n), whole: make([]measure.Length, 1<<n)}
	for set := 1; set < 1<<n; set++ {
		t.ways[set], t.whole[set] = make([]measure.Length, n), never
		for last := range n {
			way := t.way(set, last)
			t.ways[set][last] = way
			if way < never {
				t.whole[set] = min(t.whole[set], way+t.fromYard(last))
			}
		}
	}
	return t
}

// shortest is the way of the shortest round through those of a set whose place is known.
func (t tours) shortest(set int) measure.Length {
	for stop, placed := range t.placed {
		if !placed {
			set &^= 1 << stop
		}
	}
	return t.whole[set]
}

// way is the shortest through a set that ends at last; never where the hours forbid it.
func (t tours) way(set, last int) measure.Length {
	rest := set &^ (1 << last)
	if set == rest || t.mustFollow(last, rest) {
		return never
	}
	if rest == 0 {
		return t.fromYard(last)
	}
	best := never
	for from := range t.size() {
		if way := t.ways[rest][from]; way < never {
			best = min(best, way+t.between[from][last])
		}
	}
	return best
}

// mustFollow tells whether one of a set has to come after a stop.
func (t tours) mustFollow(stop, set int) bool {
	for ; set != 0; set &= set - 1 {
		if t.before(stop, bits.TrailingZeros(uint(set))) {
			return true
		}
	}
	return false
}

// round is the shortest through a set, in order.
func (t tours) round(set int) []int {
	var back []int
	left := t.whole[set]
	home := true
	for set != 0 {
		for last, way := range t.ways[set] {
			leg := t.fromYard(last)
			if !home {
				leg = t.between[last][back[len(back)-1]]
			}
			if way < never && way+leg == left {
				back, left, home, set = append(back, last), way, false, set&^(1<<last)
				break
			}
		}
	}
	slices.Reverse(back)
	return back
}

// roundOf is a short round through stops: the shortest for up to mostExact of them. For more
// it is at most twice as long as the shortest: a walk along a least tree that joins them
// (Rosenkrantz, Stearns and Lewis 1977, from memory), then turned round in parts as long as that
// makes it shorter; hours are not looked to. Stops whose place isn't known come where their
// hours ask, else last.
func (g ground) roundOf(stops []int) (round []int, exact bool) {
	unplaced := func(stop int) bool { return !g.placed[stop] }
	placed := slices.DeleteFunc(slices.Clone(stops), unplaced)
	part := g.of(placed)
	exact = len(placed) <= mostExact
	if exact {
		round = newTours(part).round(1<<len(placed) - 1)
	} else {
		round = part.turned(part.walk())
	}
	for i, stop := range round {
		round[i] = placed[stop]
	}
	for _, stop := range stops {
		if unplaced(stop) {
			round = g.with(round, stop)
		}
	}
	return round, exact
}

// with puts a stop into a round before the first that must follow it, else last.
func (g ground) with(round []int, stop int) []int {
	at := slices.IndexFunc(round, func(other int) bool { return g.before(stop, other) })
	if at < 0 {
		at = len(round)
	}
	return slices.Insert(round, at, stop)
}

// of is the ground of some of the stops.
func (g ground) of(stops []int) ground {
	part := ground{placed: make([]bool, len(stops)), between: make([][]measure.Length, len(stops)),
		before: func(first, second int) bool { return g.before(stops[first], stops[second]) }}
	for i, a := range stops {
		part.placed[i], part.between[i] = g.placed[a], make([]measure.Length, len(stops))
		for k, b := range stops {
			part.between[i][k] = g.between[a][b]
		}
		if g.yard != nil {
			part.yard = append(part.yard, g.yard[a])
		}
	}
	return part
}

// walk goes along a least tree of all stops, each at its first visit; from the yard where that
// is known, else from the first stop.
func (g ground) walk() (order []int) {
	const yard = -1
	way := func(from, to int) measure.Length {
		if from == yard {
			return g.fromYard(to)
		}
		return g.between[from][to]
	}
	root := 0
	if g.yard != nil {
		root = yard
	}
	near, children := make([]int, g.size()), map[int][]int{}
	for i := range near {
		near[i] = root
	}
	in := make([]bool, g.size())
	if root != yard {
		in[root] = true
	}
	for {
		next := -1
		for i := range in {
			if !in[i] && (next < 0 || way(near[i], i) < way(near[next], next)) {
				next = i
			}
		}
		if next < 0 {
			break
		}
		in[next] = true
		children[near[next]] = append(children[near[next]], next)
		for i := range in {
			if !in[i] && way(next, i) < way(near[i], i) {
				near[i] = next
			}
		}
	}
	var visit func(stop int)
	visit = func(stop int) {
		if stop != yard {
			order = append(order, stop)
		}
		for _, child := range children[stop] {
			visit(child)
		}
	}
	visit(root)
	return order
}

// turned turns parts of a round about as long as that makes it shorter.
func (g ground) turned(round []int) []int {
	best := g.length(round)
	for shorter := true; shorter; {
		shorter = false
		for i := range round {
			for k := i + 1; k < len(round); k++ {
				slices.Reverse(round[i : k+1])
				if way := g.length(round); way < best {
					best, shorter = way, true
				} else {
					slices.Reverse(round[i : k+1])
				}
			}
		}
	}
	return round
}
