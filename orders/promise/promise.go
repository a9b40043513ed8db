// Package promise tells whether wood can be promised: from what lies in the yard, when it
// is dry, and what is promised already. Which order gets which wood is left open wherever
// it can be: wood counts as free as long as every order can still be served in some way,
// which is a flow from orders to batches.
package promise

import (
	"cmp"
	"slices"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// A Wood is a batch as promises see it.
type Wood struct {
	Batch       string           `json:"batch"` // id
	Name        string           `json:"name"`
	Species     string           `json:"species"`
	PieceLength measure.Length   `json:"piece_length"`
	Left        measure.Quantity `json:"left"`
	// Dry is when it is likely to be dry, and DryLatest at the latest, by its readings or
	// the plan; past where it is dry now, no day where that is not known.
	Dry       act.Date `json:"dry,omitzero"`
	DryLatest act.Date `json:"dry_latest,omitzero"`
}

// A Claim is wood that is ordered and still to come, or is asked about.
type Claim struct {
	ID          string           `json:"id,omitempty"`    // of the order; empty of what is asked about
	Order       int64            `json:"order,omitempty"` // its number
	Species     string           `json:"species"`
	PieceLength measure.Length   `json:"piece_length"`
	Dry         bool             `json:"dry"` // it was sold as seasoned or kiln-dried
	Wood        measure.Quantity `json:"wood"`
	By          act.Date         `json:"by,omitzero"`         // the last day it may come; no day: any
	SetAside    string           `json:"set_aside,omitempty"` // id of the batch it is kept from; empty: none
}

// lengthApart is how far pieces may be from the length that was ordered.
const lengthApart = measure.Inch

// serves tells whether a batch can serve a claim by a day; no day is any time.
func (w Wood) serves(c Claim, by act.Date) bool {
	if c.SetAside != "" {
		return c.SetAside == w.Batch
	}
	if w.Left.Basis != c.Wood.Basis || !yard.Serves(c.Species, w.Species) {
		return false
	}
	if c.PieceLength > 0 && w.PieceLength > 0 && (w.PieceLength-c.PieceLength > lengthApart || c.PieceLength-w.PieceLength > lengthApart) {
		return false
	}
	return !c.Dry || !w.Dry.IsZero() && (by.IsZero() || !w.Dry.After(by))
}

// A Yard is what there is and what is promised of it.
type Yard struct {
	Today  act.Date `json:"today"`
	Woods  []Wood   `json:"woods"`
	Claims []Claim  `json:"claims"`
}

// by is the last day of a claim, today where that is past.
func (y Yard) by(c Claim) act.Date {
	if !c.By.IsZero() && y.Today.After(c.By) {
		return y.Today
	}
	return c.By
}

// last is by for putting claims in order: those of any day come last.
func (y Yard) last(c Claim) act.Date {
	if by := y.by(c); !by.IsZero() {
		return by
	}
	return act.Date{Year: act.LastYear, Month: 12, Day: 31}
}

// A Word is whether wood can be promised.
type Word string

// The words.
const (
	Yes   Word = "yes"
	Later Word = "later" // not by the day, and from another on
	Short Word = "short" // there isn't as much, by any day
)

// An Answer is whether wood can be promised, and from what.
type Answer struct {
	Word  Word             `json:"word"`
	Asked measure.Quantity `json:"asked"`
	By    act.Date         `json:"by,omitzero"`
	// Free is the most of such wood that could be promised by the day, everything else that is
	// promised kept; Left what is of it after this, and Lacking what it is short by.
	Free    measure.Quantity `json:"free"`
	Left    measure.Quantity `json:"left"`
	Lacking measure.Quantity `json:"lacking"`
	// From is what it may come from; with Later, by the day that it can be.
	From []Share `json:"from"`
	// NotBefore is the first day it can be promised for, with Later.
	NotBefore act.Date `json:"not_before,omitzero"`
	// Dry is when all of From is likely dry and DryLatest at the latest; no day where
	// dryness wasn't asked for or is there.
	Dry       act.Date `json:"dry,omitzero"`
	DryLatest act.Date `json:"dry_latest,omitzero"`
	// Oversold is what is promised already and can't be served.
	Oversold measure.Quantity `json:"oversold"`
}

// A Share is what comes from one batch.
type Share struct {
	Batch string           `json:"batch"`
	Name  string           `json:"name"`
	Wood  measure.Quantity `json:"wood"`
}

// Ask tells whether what is asked for can be promised. Quantities on other measures than the
// one asked for are left out.
func (y Yard) Ask(c Claim) Answer {
	by := y.by(c)
	n := y.network(c, by)
	of := func(v measure.Volume) measure.Quantity { return measure.Quantity{Volume: v, Basis: c.Wood.Basis} }
	a := Answer{Asked: c.Wood, By: c.By, From: []Share{}, Oversold: of(n.unserved), Free: of(n.most())}
	a.Lacking, a.Left = of(max(c.Wood.Volume-a.Free.Volume, 0)), of(max(a.Free.Volume-c.Wood.Volume, 0))
	if a.Lacking.Volume == 0 {
		a.Word = Yes
		y.from(&a, c, by)
		return a
	}
	for _, day := range y.dryDays(by) {
		if y.network(c, day).most() >= c.Wood.Volume {
			a.Word, a.NotBefore = Later, day
			y.from(&a, c, day)
			return a
		}
	}
	a.Word = Short
	return a
}

// dryDays are the days after one on which a batch gets dry, in order; none after no day,
// by which all do.
func (y Yard) dryDays(after act.Date) (days []act.Date) {
	if after.IsZero() {
		return nil
	}
	for _, w := range y.Woods {
		if w.Dry.After(after) && !slices.Contains(days, w.Dry) {
			days = append(days, w.Dry)
		}
	}
	slices.SortFunc(days, func(a, b act.Date) int { return a.Midnight().Compare(b.Midnight()) })
	return days
}

// from picks what the wood comes from: one batch where one can give all of it, the first
// that is dry and of those the one with the least in it; else as few as it takes.
func (y Yard) from(a *Answer, c Claim, by act.Date) {
	woods := slices.Clone(y.Woods)
	slices.SortStableFunc(woods, func(v, w Wood) int {
		return cmp.Or(y.ready(v).Midnight().Compare(y.ready(w).Midnight()), cmp.Compare(v.Left.Volume, w.Left.Volume))
	})
	for _, w := range woods {
		one := c
		one.SetAside = w.Batch
		if w.serves(c, by) && y.network(one, by).most() >= c.Wood.Volume {
			y.take(a, w, c.Wood.Volume, c.Dry)
			return
		}
	}
	n := y.network(c, by)
	n.push(n.asked, c.Wood.Volume)
	for i, w := range y.Woods {
		if v := n.given[n.asked][i]; v > 0 {
			y.take(a, w, v, c.Dry)
		}
	}
}

// ready is when a batch is dry, today where it is.
func (y Yard) ready(w Wood) act.Date {
	switch {
	case w.Dry.IsZero():
		return act.Date{Year: act.LastYear, Month: 12, Day: 31}
	case y.Today.After(w.Dry):
		return y.Today
	}
	return w.Dry
}

func (y Yard) take(a *Answer, w Wood, v measure.Volume, dry bool) {
	a.From = append(a.From, Share{w.Batch, w.Name, measure.Quantity{Volume: v, Basis: a.Asked.Basis}})
	if dry && w.Dry.After(y.Today) && w.Dry.After(a.Dry) {
		a.Dry = w.Dry
	}
	if dry && w.DryLatest.After(y.Today) && w.DryLatest.After(a.DryLatest) {
		a.DryLatest = w.DryLatest
	}
}
