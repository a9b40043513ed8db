// Package prices is what a shop offers and what it asks for it: wood by its kind, piece
// length, seasoning and how much, delivery by place, stacking, and the least order. Each
// price is from a day on and is only ever added to, so that what was asked on any day can
// be read later. An order keeps the price it was taken at.
package prices

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// A Kind is what a line of a price list is about.
type Kind string

// The kinds of line.
const (
	Wood     Kind = "wood"
	Delivery Kind = "delivery" // to a place
	Stacking Kind = "stacking"
	Least    Kind = "least" // the least that is delivered; it has no price
)

// Kinds are all there are, in the order a list gives them.
func Kinds() []Kind { return []Kind{Wood, Delivery, Stacking, Least} }

// An Item is what is offered.
type Item struct {
	Kind Kind `json:"kind"`
	// Species is as typed; empty: any wood. "oak" is any oak, unless another line names it.
	Species     string         `json:"species,omitempty" names:"sale"`
	PieceLength measure.Length `json:"piece_length,omitempty"` // 0: any
	Seasoning   yard.Seasoning `json:"seasoning,omitempty"`    // empty: any
	// Per is how much wood the price is for: of wood and stacking more costs more and less
	// costs less by as much. Of Least it is the least order.
	Per   measure.Quantity `json:"per,omitzero"`
	Place string           `json:"place,omitempty" names:"shop"` // that wood is delivered to: "Corinth and Topsham"
}

// key is what two lines about the same thing have in common: a later one takes the place
// of an earlier.
func (i Item) key() Item {
	i.Species, i.Place = act.Fold(i.Species), act.Fold(i.Place)
	if i.Kind == Least {
		i.Per.Volume = 0
	}
	return i
}

// A Line is the price of an item from a day on, or that it isn't offered from then on.
type Line struct {
	ID string `json:"id"`
	Item
	Price   money.Money `json:"price,omitzero"`
	From    act.Date    `json:"from"`
	Ended   bool        `json:"ended,omitempty"`
	By      string      `json:"by" names:"staff"` // who wrote it down
	Created time.Time   `json:"created"`
}

// Of is the price of a volume of the line's wood, or of stacking it: rounded once, half
// away from zero.
func (l Line) Of(v measure.Volume) money.Money { return l.Price.ForVolume(v, l.Per.Volume) }

// A List is what is offered on one day.
type List struct {
	On    act.Date `json:"on"`
	Lines []Line   `json:"lines"` // by kind, wood by species, piece length, seasoning and how much
	// Coming are lines from a later day on, the soonest first; Past are those that a later
	// one took the place of, and what isn't offered any more, the latest first.
	Coming []Line `json:"coming"`
	Past   []Line `json:"past"`
}

// On sorts all that was ever written down, in the order it was, into the list of a day.
// Prices in another currency are past.
func On(all []Line, on act.Date, currency string) List {
	list := List{On: on, Lines: []Line{}, Coming: []Line{}, Past: []Line{}}
	now := map[Item]Line{}
	past := func(l Line) {
		if l.ID != "" {
			list.Past = append(list.Past, l)
		}
	}
	for _, l := range all {
		key := l.key()
		before := now[key]
		switch {
		case l.Price.Currency != "" && l.Price.Currency != currency:
			past(l)
		case l.From.After(on):
			list.Coming = append(list.Coming, l)
		case before.From.After(l.From):
			past(l)
		default:
			past(before)
			now[key] = l
		}
	}
	list.Coming = latestOfEachDay(list.Coming)
	for _, l := range now {
		if l.Ended {
			past(l)
			continue
		}
		list.Lines = append(list.Lines, l)
	}
	list.sort()
	list.Coming = changes(now, list.Coming)
	return list
}

// changes leaves of the lines to come, the soonest first, those that change what holds before
// them: a price that was taken back is followed by the one before it.
func changes(before map[Item]Line, coming []Line) []Line {
	kept := []Line{}
	for _, l := range coming {
		was, known := before[l.key()]
		offered := known && !was.Ended
		if l.Ended && !offered || !l.Ended && offered && l.Price == was.Price && l.Per == was.Per {
			continue
		}
		before[l.key()] = l
		kept = append(kept, l)
	}
	return kept
}

// latestOfEachDay leaves of lines about the same thing from the same day the last one.
func latestOfEachDay(lines []Line) []Line {
	kept := []Line{}
	for i, l := range lines {
		if !slices.ContainsFunc(lines[i+1:], func(o Line) bool { return o.key() == l.key() && o.From == l.From }) {
			kept = append(kept, l)
		}
	}
	return kept
}

// same is the line about the same thing that holds on the list's day.
func (list List) same(l Line) (Line, bool) {
	i := slices.IndexFunc(list.Lines, func(o Line) bool { return o.key() == l.key() })
	if i < 0 {
		return Line{}, false
	}
	return list.Lines[i], true
}

func (list *List) sort() {
	slices.SortFunc(list.Lines, func(a, b Line) int {
		return cmp.Or(
			cmp.Compare(slices.Index(Kinds(), a.Kind), slices.Index(Kinds(), b.Kind)),
			strings.Compare(act.Fold(a.Species), act.Fold(b.Species)), cmp.Compare(a.PieceLength, b.PieceLength),
			strings.Compare(string(a.Seasoning), string(b.Seasoning)), strings.Compare(string(a.Per.Basis), string(b.Per.Basis)),
			cmp.Compare(b.Per.Volume, a.Per.Volume), cmp.Compare(a.Price.Minor, b.Price.Minor), strings.Compare(act.Fold(a.Place), act.Fold(b.Place)))
	})
	day := func(a, b Line) int { return a.From.Midnight().Compare(b.From.Midnight()) }
	slices.SortStableFunc(list.Coming, day)
	slices.SortStableFunc(list.Past, func(a, b Line) int { return cmp.Or(day(b, a), b.Created.Compare(a.Created)) })
}

// Of are the lines of one kind.
func (list List) Of(kind Kind) (of []Line) {
	for _, l := range list.Lines {
		if l.Kind == kind {
			of = append(of, l)
		}
	}
	return of
}

// Line is the line with an id, whenever it is from.
func (list List) Line(id string) (Line, bool) {
	for _, lines := range [][]Line{list.Lines, list.Coming, list.Past} {
		if i := slices.IndexFunc(lines, func(l Line) bool { return l.ID == id }); i >= 0 {
			return lines[i], true
		}
	}
	return Line{}, false
}

// Wood is the line that gives the price of wood: of those that hold for it the one that
// says the most of it, of several for other amounts the largest that isn't more than is
// wanted, or else the smallest. It is false where none holds.
func (list List) Wood(wanted Item) (best Line, found bool) {
	for _, l := range list.Of(Wood) {
		if l.holdsFor(wanted) && (!found || l.nearer(best, wanted.Per.Volume)) {
			best, found = l, true
		}
	}
	return best, found
}

// holdsFor tells whether the line's price is that of wanted wood.
func (l Line) holdsFor(w Item) bool {
	return l.Per.Basis == w.Per.Basis && yard.Covers(l.Species, w.Species) &&
		(l.PieceLength == 0 || l.PieceLength == w.PieceLength) && (l.Seasoning == "" || l.Seasoning == w.Seasoning)
}

// nearer tells whether a line says more of wood than another that holds for it too, or is
// for an amount nearer to what is wanted.
func (l Line) nearer(o Line, v measure.Volume) bool {
	if a, b := l.says(), o.says(); a != b {
		return a > b
	}
	mine, other := l.Per.Volume, o.Per.Volume
	if mine <= v && other <= v {
		return mine > other
	}
	return mine < other
}

// says counts what a line says of its wood: each word of the species for more than a piece
// length, and that for more than seasoning.
func (l Line) says() int {
	n := 4 * len(strings.Fields(l.Species))
	if l.PieceLength > 0 {
		n += 2
	}
	if l.Seasoning != "" {
		n++
	}
	return n
}

// To is the price of delivery to a place.
func (list List) To(place string) (Line, bool) {
	return list.first(Delivery, func(l Line) bool { return act.Fold(l.Place) == act.Fold(place) })
}

// Stacked is the price of stacking wood of a basis.
func (list List) Stacked(basis measure.Basis) (Line, bool) {
	return list.first(Stacking, func(l Line) bool { return l.Per.Basis == basis })
}

// LeastOrder is the least that is delivered of wood of a basis; false where any is.
func (list List) LeastOrder(basis measure.Basis) (measure.Quantity, bool) {
	l, found := list.first(Least, func(l Line) bool { return l.Per.Basis == basis })
	return l.Per, found
}

func (list List) first(kind Kind, is func(Line) bool) (Line, bool) {
	of := list.Of(kind)
	if i := slices.IndexFunc(of, is); i >= 0 {
		return of[i], true
	}
	return Line{}, false
}
