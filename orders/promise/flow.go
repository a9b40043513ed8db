package promise

import (
	"cmp"
	"slices"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A network is a flow of wood from batches to claims, each claim with the batches that can
// serve it. What is asked about is the last claim, and gets wood only once the others have
// all they can get: pushing more for it never takes any from them together.
type network struct {
	may      [][]bool           // claim, batch
	given    [][]measure.Volume // claim, batch
	room     []measure.Volume   // what no claim takes, by batch
	asked    int                // the claim that is asked about
	unserved measure.Volume     // of the others together
}

// network is the yard with everything promised served as far as it can be, and nothing of
// what is asked about. The orders that are due first go first; what can't be had by its day is
// served from wood that gets dry later.
func (y Yard) network(asked Claim, by act.Date) *network {
	n := &network{room: make([]measure.Volume, len(y.Woods))}
	for i, w := range y.Woods {
		if w.Left.Basis == asked.Wood.Basis {
			n.room[i] = max(w.Left.Volume, 0)
		}
	}
	claims := slices.DeleteFunc(slices.Clone(y.Claims), func(c Claim) bool { return c.Wood.Basis != asked.Wood.Basis })
	slices.SortStableFunc(claims, func(a, b Claim) int {
		return cmp.Or(y.last(a).Midnight().Compare(y.last(b).Midnight()), cmp.Compare(a.Order, b.Order))
	})
	for i, c := range claims {
		claims[i].Wood.Volume -= n.push(n.add(y, c, y.by(c)), c.Wood.Volume)
	}
	for _, late := range claims { // what can't come by its day still has to come
		n.unserved += late.Wood.Volume - n.push(n.add(y, late, act.Date{}), late.Wood.Volume)
	}
	n.asked = n.add(y, asked, by)
	return n
}

func (n *network) add(y Yard, c Claim, by act.Date) int {
	may := make([]bool, len(y.Woods))
	for i, w := range y.Woods {
		may[i] = w.serves(c, by)
	}
	n.may, n.given = append(n.may, may), append(n.given, make([]measure.Volume, len(y.Woods)))
	return len(n.may) - 1
}

// most pushes as much as there is for what is asked about.
func (n *network) most() measure.Volume {
	all := measure.Volume(0)
	for _, r := range n.room {
		all += r
	}
	return n.push(n.asked, all)
}

// push gives a claim up to a volume more, moving others to other batches where that makes
// room, and tells how much it got. The shortest way is taken each time, so that it ends
// after few of them whatever the volumes.
func (n *network) push(claim int, want measure.Volume) (got measure.Volume) {
	for got < want {
		way := n.way(claim)
		if way == nil {
			break
		}
		v := min(want-got, n.room[way[len(way)-1].batch])
		for _, s := range way[1:] {
			v = min(v, n.given[s.claim][s.from])
		}
		for i, s := range way {
			n.given[s.claim][s.batch] += v
			if i > 0 {
				n.given[s.claim][s.from] -= v
			}
		}
		n.room[way[len(way)-1].batch] -= v
		got += v
	}
	return got
}

// A step gives a claim wood of a batch, in place of another's after the first step.
type step struct{ claim, batch, from int }

// way is the shortest way from a claim to a batch with room, nil where there is none.
func (n *network) way(claim int) []step {
	reached := make([]*step, len(n.room)) // by batch: the step that leads to it
	var queue []int
	reach := func(s step) {
		if reached[s.batch] == nil && n.may[s.claim][s.batch] {
			reached[s.batch] = &s
			queue = append(queue, s.batch)
		}
	}
	for batch := range n.room {
		reach(step{claim, batch, -1})
	}
	for len(queue) > 0 {
		batch := queue[0]
		queue = queue[1:]
		if n.room[batch] > 0 {
			return back(reached, batch)
		}
		for other := range n.given {
			if n.given[other][batch] <= 0 {
				continue
			}
			for to := range n.room {
				reach(step{other, to, batch})
			}
		}
	}
	return nil
}

// back is the way that led to a batch, from its beginning.
func back(reached []*step, batch int) []step {
	s := *reached[batch]
	if s.from < 0 {
		return []step{s}
	}
	return append(back(reached, s.from), s)
}
