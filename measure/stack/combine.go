package stack

import (
	"math"
	"slices"
	"strconv"

	"wellstowed/measure"
)

// MaxHands is the most tallies of one stack that are combined.
const MaxHands = 20

// A Combined is what several tallies of one stack come to together.
type Combined struct {
	// Result is of the mean of all volumes. Only what was observed anew by each
	// hand, the spread between stations and between pieces, shrinks with more
	// hands; where the top is, stowage, rounding, the tape and whatever else was judged
	// stay common. It has no Next, and a Finding only where the tallies agree and hold
	// the wood against one sale.
	Result Result   `json:"result"`
	Each   []Result `json:"each"`  // in the order given
	Agree  bool     `json:"agree"` // every pair does
	Pairs  []Pair   `json:"pairs"`
}

// A Pair holds two tallies of one stack against each other.
type Pair struct {
	First      int            `json:"first"` // from 1, in the order given
	Second     int            `json:"second"`
	Difference measure.Volume `json:"difference"` // not below 0
	Limit      measure.Volume `json:"limit"`      // k·√(u₁² + u₂²) of what the two have not in common
	Agree      bool           `json:"agree"`      // Difference ≤ Limit
	// Shape is how much more the first measures of the same wood because its rows are
	// lower or shorter, below 0 how much less; 0 where that doesn’t matter.
	Shape measure.Volume `json:"shape,omitempty"`
}

// Combine puts together 2 to MaxHands tallies of one stack, all of one kind and
// basis. The error is an *InputError.
func Combine(tallies []Tally) (Combined, error) {
	if n := len(tallies); n < 2 || n > MaxHands {
		return Combined{}, unfit("", "out-of-range", strconv.Itoa(n), measure.Say("%d tallies cannot be combined", n), measure.Say("2 to %d tallies of one stack", MaxHands))
	}
	var c Combined
	h := hands{tallies: tallies}
	for i := range tallies {
		e, err := tallies[i].estimate()
		if err != nil {
			return Combined{}, err
		}
		if first := tallies[0].Stack; tallies[i].Stack.Kind() != first.Kind() || tallies[i].Stack.Basis() != first.Basis() {
			return Combined{}, unfit("stack.kind", "mismatch", tallies[i].Stack.Kind(), measure.Say("tally %d is not of the same kind and basis as the first", i+1), measure.Say("tallies of one stack"))
		}
		h.estimates = append(h.estimates, e)
		r, err := Measure(tallies[i])
		if err != nil {
			return Combined{}, err
		}
		c.Each = append(c.Each, r)
	}
	c.Pairs, c.Agree = h.pairs()
	var err error
	c.Result, err = h.result(c.Agree)
	for i := range c.Pairs {
		if c.Pairs[i].Shape != 0 {
			c.Result.Notes = append(c.Result.Notes, c.Pairs[i].noteShape())
		}
	}
	return c, err
}

// estimate checks the tally and works out its volume and doubt.
func (t *Tally) estimate() (estimate, error) {
	if err := t.check(); err != nil {
		return estimate{}, err
	}
	return t.Stack.estimate(t)
}

// hands are several tallies of one stack and what each comes to.
type hands struct {
	tallies   []Tally
	estimates []estimate
}

// observed tells whether a part was observed anew by each hand, not judged.
func (p *part) observed() bool { return !math.IsInf(p.degrees, 1) }

// own tells whether two hands have a part not in common: what they observed, where
// each of them laid the tape, and how each of them reads and rounds.
func (p *part) own() bool {
	switch p.source {
	case PieceSpread, FewStations, FewHeights, RowEnds, LengthReading, InsideEnds, SizeReading,
		DiameterMean, HeightMean, CrestHeight, HeadspaceMean, WidthMean, StackLength,
		PhotoTaps, PhotoFeet, PhotoLean, PhotoDepth, PhotoLens, PhotoLengths,
		OneFace, RoundingNotSaid, RoundingOfHeights, RoundingOfPieces, RowsThatFit, HeapLength, HeapWidth, HeapHeight:
		return true
	}
	return p.observed()
}

func (h *hands) pairs() (pairs []Pair, agree bool) {
	agree = true
	for i := range h.estimates {
		for j := i + 1; j < len(h.estimates); j++ {
			p := pairOf(&h.estimates[i], &h.estimates[j])
			p.First, p.Second = i+1, j+1
			agree = agree && p.Agree
			pairs = append(pairs, p)
		}
	}
	return pairs, agree
}

func pairOf(a, b *estimate) Pair {
	limit := 0.0
	if c := combine(ownParts(a, b), ""); c.u > 0 {
		limit = c.expanded()
	}
	p := Pair{Difference: volume(math.Abs(a.value - b.value)), Limit: volume(limit)}
	p.Agree = p.Difference <= p.Limit
	p.Shape = shapes(a, b)
	return p
}

// ownParts are those that two estimates have not in common.
func ownParts(a, b *estimate) []part {
	var parts []part
	for _, e := range []*estimate{a, b} {
		for _, p := range e.parts {
			if p.own() {
				parts = append(parts, p)
			}
		}
	}
	return parts
}

// result is that of the mean of all hands.
func (h *hands) result(agree bool) (Result, error) {
	e := h.mean()
	r, _ := e.result()
	r.Notes = append(r.Notes, measure.Say("%d tallies of one stack are combined: what was read again each time shrinks, what was judged does not.", len(h.tallies)))
	switch {
	case !agree:
		r.Notes = append(r.Notes, measure.Say("The tallies don’t agree within their give or take: look for a slip before relying on their mean."))
	case !h.oneSale():
		r.Notes = append(r.Notes, measure.Say("The tallies are not all held against one sale, so there isn’t a result."))
	case h.tallies[0].Sold != nil:
		t := h.tallies[0]
		t.Look = h.lastLook()
		t.Used = slices.ContainsFunc(h.tallies, func(t Tally) bool { return t.Used })
		var err error
		if r.Finding, err = find(&t, &e, r.Expanded); err != nil {
			return Result{}, err
		}
	}
	return r, nil
}

// lastLook is the highest look of all tallies.
func (h *hands) lastLook() int {
	look := 1
	for i := range h.tallies {
		look = max(look, h.tallies[i].Look)
	}
	return look
}

// oneSale tells whether all tallies hold the wood against one quantity due, on the
// same terms.
func (h *hands) oneSale() bool {
	first := &h.tallies[0]
	for i := range h.tallies {
		t := &h.tallies[i]
		sameSold := (t.Sold == nil) == (first.Sold == nil) && (t.Sold == nil || t.Sold.Quantity == first.Sold.Quantity)
		if !sameSold || t.Apart != first.Apart || t.LooseCord != first.LooseCord || t.SoldCondition != first.SoldCondition {
			return false
		}
	}
	return true
}

// mean is the estimate of the mean of all hands.
func (h *hands) mean() estimate {
	n := float64(len(h.estimates))
	first := &h.estimates[0]
	m := *first
	m.value, m.piece, m.pieces, m.share, m.notes, m.holds, m.fullHolds = 0, 0, 0, 0, nil, nil, nil
	told := map[string]bool{}
	for i := range h.estimates {
		e := &h.estimates[i]
		m.value += e.value / n
		m.piece += e.piece / n
		m.pieces += e.pieces / n
		m.share += e.share / n
		m.tight = m.tight && e.tight
		m.holds, m.fullHolds = together(m.holds, e.holds), together(m.fullHolds, e.fullHolds)
		for _, note := range e.notes {
			if text := note.String(); !told[text] {
				told[text] = true
				m.notes = append(m.notes, note)
			}
		}
	}
	m.parts, m.at = h.parts(), viewFunc(h.seen)
	return m
}

// seen is the mean of all volumes as readings would be seen otherwise.
func (h *hands) seen(v view) float64 {
	var sum float64
	for i := range h.estimates {
		sum += h.estimates[i].seen(v)
	}
	return sum / float64(len(h.estimates))
}

// together adds the holds that are not there yet.
func together(holds, more []Hold) []Hold {
	for _, h := range more {
		if !slices.Contains(holds, h) {
			holds = append(holds, h)
		}
	}
	return holds
}

// parts merges the parts of all hands by their source. A common part is the mean of
// the hands' own, each hand's rows taken together; an observed one is theirs by the
// root of the sum of squares, over their number.
func (h *hands) parts() []part {
	n := float64(len(h.estimates))
	type key struct {
		source   Source
		observed bool
	}
	var order []key
	byHand := map[key][][]part{}
	for i := range h.estimates {
		for _, p := range h.estimates[i].parts {
			k := key{p.source, p.observed()}
			if byHand[k] == nil {
				order = append(order, k)
				byHand[k] = make([][]part, len(h.estimates))
			}
			p.cure = cure{}
			byHand[k][i] = append(byHand[k][i], p)
		}
	}
	merged := make([]part, 0, len(order))
	for _, k := range order {
		p := part{source: k.source, degrees: math.Inf(1)}
		var all []part
		for _, own := range byHand[k] {
			p.u += combine(own, "").u / n
			all = append(all, own...)
		}
		if k.observed {
			c := combine(all, "")
			p.u, p.degrees = c.u/n, c.degrees
		}
		merged = append(merged, p)
	}
	return merged
}
