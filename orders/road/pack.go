package road

import (
	"cmp"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A carrier is what a vehicle may carry at once.
type carrier struct{ carries wood.Mass }

// A parcel is wood of one stop that isn't parted: the share of each vehicle's room that it
// takes, and what it weighs at the most.
type parcel struct {
	shares []float64
	weight wood.Mass
}

// rim is what shares may be beyond a full bed, for rounding.
const rim = 1e-9

// fits tells whether parcels go on a vehicle together, by room and by weight.
func fits(v int, c carrier, parcels ...parcel) bool {
	share, weight := 0.0, wood.Mass(0)
	for _, p := range parcels {
		share += p.shares[v]
		weight += p.weight
	}
	return share <= 1+rim && weight <= c.carries
}

// A slot is one trip of a vehicle: its first is trip 0.
type slot struct{ vehicle, trip int }

// A packing puts each parcel in a slot.
type packing struct {
	slots []slot // by parcel
	exact bool   // found among all ways
}

// A cost is what one way of packing is held against another by, one after the other: how many
// trips there are, and how long they are together. How often the busiest vehicle goes comes
// before both.
type cost struct {
	trips int
	way   measure.Length
}

func (c cost) less(o cost) bool {
	return cmp.Or(cmp.Compare(c.trips, o.trips), cmp.Compare(c.way, o.way)) < 0
}

func (c cost) plus(way measure.Length) cost { return cost{c.trips + 1, c.way + way} }

// pack puts parcels onto vehicles, each of which goes as often as it must. Every parcel fits
// one of them alone. Of up to mostExact parcels it is the best of all ways: the vehicle
// that goes most often goes least often, then there are the fewest trips, then the shortest. More
// parcels are put, the largest first, where they fit first; that may be a trip too many.
func pack(parcels []parcel, carriers []carrier, g ground) packing {
	if len(parcels) > mostExact {
		return packing{slots: firstFit(parcels, carriers)}
	}
	return packing{slots: bestFit(parcels, carriers, newTours(g)), exact: true}
}

// bestFit goes through all ways to part the parcels into trips, one slot at a time: for each
// set of parcels it keeps the best way to carry it in the slots so far.
func bestFit(parcels []parcel, carriers []carrier, t tours) []slot {
	all := 1<<len(parcels) - 1
	loads := make([][]bool, len(carriers)) // by vehicle and set: whether it can be one trip
	for v, c := range carriers {
		loads[v] = make([]bool, all+1)
		for set := 1; set <= all; set++ {
			loads[v][set] = fits(v, c, chosen(parcels, set)...) && t.shortest(set) < never
		}
	}
	best := make([]*cost, all+1)
	best[0] = &cost{}
	var slots []slot
	var took [][]int // by slot and set: what went in that slot
	for trip := 0; best[all] == nil; trip++ {
		for v := range carriers {
			next, took1 := slices.Clone(best), make([]int, all+1)
			for set := range best {
				for part := set; part > 0; part = (part - 1) & set {
					before := best[set&^part]
					if !loads[v][part] || before == nil {
						continue
					}
					if now := before.plus(t.shortest(part)); next[set] == nil || now.less(*next[set]) {
						next[set], took1[set] = &now, part
					}
				}
			}
			best, slots, took = next, append(slots, slot{v, trip}), append(took, took1)
		}
	}
	out := make([]slot, len(parcels))
	for i, set := len(slots)-1, all; i >= 0; i-- {
		part := took[i][set]
		for p := range parcels {
			if part&(1<<p) != 0 {
				out[p] = slots[i]
			}
		}
		set &^= part
	}
	return trimmed(out)
}

// chosen are the parcels of a set.
func chosen(parcels []parcel, set int) (some []parcel) {
	for p := range parcels {
		if set&(1<<p) != 0 {
			some = append(some, parcels[p])
		}
	}
	return some
}

// firstFit puts the parcels, the largest first, in the first trip that they fit in.
func firstFit(parcels []parcel, carriers []carrier) []slot {
	order := make([]int, len(parcels))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(parcels[b].size(carriers), parcels[a].size(carriers)) })
	loads := map[slot][]parcel{}
	out := make([]slot, len(parcels))
	for _, p := range order {
		for trip, put := 0, false; !put; trip++ {
			for v, c := range carriers {
				at := slot{v, trip}
				if put = fits(v, c, append(slices.Clone(loads[at]), parcels[p])...); put {
					loads[at], out[p] = append(loads[at], parcels[p]), at
					break
				}
			}
		}
	}
	return trimmed(out)
}

// size is how much of a vehicle a parcel takes, by room or weight, of the one it takes least
// of.
func (p parcel) size(carriers []carrier) float64 {
	least := 0.0
	for v, c := range carriers {
		if s := max(p.shares[v], p.weight.In(c.carries)); v == 0 || s < least {
			least = s
		}
	}
	return least
}

// trimmed numbers the trips of each vehicle without gaps.
func trimmed(slots []slot) []slot {
	trips := map[int][]int{}
	for _, s := range slots {
		if !slices.Contains(trips[s.vehicle], s.trip) {
			trips[s.vehicle] = append(trips[s.vehicle], s.trip)
		}
	}
	for v := range trips {
		slices.Sort(trips[v])
	}
	for i, s := range slots {
		slots[i].trip = slices.Index(trips[s.vehicle], s.trip)
	}
	return slots
}
