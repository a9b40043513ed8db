package storage

import (
	"math/big"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A Request is wood to be stowed in a place.
type Request struct {
	Volume      measure.Volume // ranked
	PieceLength measure.Length
	Place       Place
	Then        []Place // where goes what finds no room before
	Wood        WoodKind
	Species     []wood.Mix     // what it may be: goes before Wood
	Shoulder    measure.Length // of who stacks it; 0 is DefaultShoulder
	Moisture    wood.Moisture  // as it is stacked; the zero one is green
	Stacked     time.Time      // the day; the zero time is not said
	// Thrown is what the volume was reckoned from where it was said loose, else 0.
	Thrown measure.Volume
}

// DefaultShoulder is about the shoulder of who stacks: common practice, no source.
const DefaultShoulder = MaxHeight

// A Drying says how well air gets at the wood.
type Drying string

// From best to worst.
const (
	Open Drying = "open" // air on both faces of every row
	Fair Drying = "fair" // every row has one open face
	Slow Drying = "slow" // some row has none, and dries late
)

// A Layout is one way to stow the wood in the place.
type Layout struct {
	Plan
	Place      PlaceKind
	Across     bool // the rows run from front to back, side by side
	Room       Room
	SideGap    measure.Length // between the outer rows and walls at their side
	Clear      measure.Length // the least clear height over it; 0: open sky
	Top        measure.Length // of the wood, above the floor
	Easy       bool           // the top is at or below the shoulder
	Holds      measure.Volume // at this length and height
	Area       Area           // of the footprint
	Drying     Drying
	Green, Dry Range[Pressure]  // under the row
	GreenMass  Range[wood.Mass] // of the wood that is stowed
	DryMass    Range[wood.Mass]
}

// A Room is the place as given; a Height of 0 is the open sky, a Back of 0 a roof
// without slope.
type Room struct{ Width, Depth, Height, Back measure.Length }

// An Answer is what the place takes.
type Answer struct {
	Request Request
	Fits    bool
	// Capacity is the most that the place takes in rows like these.
	Capacity measure.Volume
	// Layouts are the best ways first, each with another number of rows or running
	// another way, at most three; where the wood does not fit, of what does; none
	// where nothing does.
	Layouts []Layout
	// Tight says why nothing fits, the zero Text where something does.
	Tight    measure.Text
	Burns    Burning
	Cautions []measure.Text
	Grounds  []Ground
}

// Left is what finds no room.
func (a Answer) Left() measure.Volume { return max(0, a.Request.Volume-a.Capacity) }

// shown is how many layouts an answer has at most.
const shown = 3

// Find looks through every stack that stows the wood in the place: rows along the
// back or, where the place allows it, from front to back, their number, length and
// height in whole inches. It ranks them: the top at or below the shoulder before one
// above it, then the smaller footprint, then what dries better, then fewer rows, the
// lower top, and rows along the back. A request out of its bounds is
// measure.InputErrors.
func Find(r Request) (Answer, error) {
	r = r.withDefaults()
	if faults := r.check(); len(faults) > 0 {
		return Answer{}, faults
	}
	burns, err := r.burns()
	if err != nil {
		return Answer{}, err
	}
	a := Answer{Request: r, Burns: burns, Grounds: r.grounds(), Capacity: r.capacity()}
	if a.Capacity == 0 {
		a.Tight, a.Cautions = r.tight(), r.cautions(false)
		return a, nil
	}
	a.Fits = a.Capacity >= r.Volume
	a.Layouts = r.layouts(min(r.Volume, a.Capacity))
	a.Cautions = r.cautions(slices.ContainsFunc(a.Layouts, func(l Layout) bool { return !l.Easy }))
	return a, nil
}

// FindAll stows what finds no room in the place in the next one, and so on: an
// answer for each place that wood is left for, at least one. The wood of each is what
// the ones before left.
func FindAll(r Request) ([]Answer, error) {
	r = r.withDefaults()
	if faults := r.checkAll(); len(faults) > 0 {
		return nil, faults
	}
	a, err := Find(r)
	if err != nil {
		return nil, err
	}
	all := []Answer{a}
	for _, place := range r.Then {
		left := all[len(all)-1].Left()
		if left == 0 {
			break
		}
		next := a.Request
		next.Volume, next.Place, next.Thrown, next.Then = left, place, 0, nil
		a, err := Find(next)
		if err != nil {
			return nil, err
		}
		all = append(all, a)
	}
	return all, nil
}

// A way is rows of a number that run along the back, or across from front to back.
type way struct {
	rows   int
	across bool
}

// ways are all that the place takes rows of this piece length in.
func (r Request) ways() []way {
	var all []way
	for n := range r.Place.rows(r.PieceLength, false) {
		all = append(all, way{n + 1, false})
	}
	if r.Place.Kind.Traits().Across {
		for n := range r.Place.rows(r.PieceLength, true) {
			all = append(all, way{n + 1, true})
		}
	}
	return all
}

// tallest is the highest that rows of this length may be.
func (r Request) tallest(w way, length measure.Length) measure.Length {
	_, depth := r.Place.footprint(w.rows, length, r.PieceLength, w.across)
	high := r.Place.tallest(r.PieceLength, r.Shoulder, r.Place.clear(depth))
	switch {
	case !r.Place.Braced:
		high = min(high, length) // never higher than it is long
	case w.across:
		high = min(high, AcrossSteep*length)
	}
	return high
}

// capacity is the most that the place takes.
func (r Request) capacity() measure.Volume {
	var most measure.Volume
	for _, w := range r.ways() {
		for length := shortest(w.across); length <= r.Place.longest(w.across); length += wholeLength {
			most = max(most, holds(w.rows, length, r.tallest(w, length), r.PieceLength))
		}
	}
	return most
}

// layouts are the best of each way, best first.
func (r Request) layouts(v measure.Volume) []Layout {
	var all []Layout
	for _, w := range r.ways() {
		if best, found := r.best(v, w); found {
			all = append(all, best)
		}
	}
	slices.SortStableFunc(all, Layout.compare)
	return all[:min(len(all), shown)]
}

// best is the best layout of a way: for each height the least length that holds v.
func (r Request) best(v measure.Volume, w way) (Layout, bool) {
	longest := r.Place.longest(w.across)
	var best Layout
	found := false
	for height := wholeLength; height <= MaxBraced; height += wholeLength {
		length := max(runFor(v, r.PieceLength, height, w.rows), shortest(w.across))
		switch {
		case !r.Place.Braced:
			length = max(length, height)
		case w.across:
			length = max(length, wholeInches((height+wholeLength)/AcrossSteep))
		}
		if length > longest || height > r.tallest(w, length) {
			continue
		}
		l := r.layout(v, w, length, height)
		if !found || l.compare(best) < 0 {
			best, found = l, true
		}
	}
	return best, found
}

// compare puts the better layout first.
func (l Layout) compare(o Layout) int {
	switch {
	case l.Easy != o.Easy && l.Easy:
		return -1
	case l.Easy != o.Easy:
		return 1
	case l.Area != o.Area:
		return sign(l.Area < o.Area)
	case l.Drying != o.Drying:
		return sign(l.Drying.rank() < o.Drying.rank())
	case l.Rows != o.Rows:
		return sign(l.Rows < o.Rows)
	case l.Top != o.Top:
		return sign(l.Top < o.Top)
	case l.Across != o.Across:
		return sign(o.Across)
	}
	return 0
}

func sign(less bool) int {
	if less {
		return -1
	}
	return 1
}

func (r Request) layout(v measure.Volume, in way, length, height measure.Length) Layout {
	w, p := woodOf(r.Wood, r.Species), r.Place
	l := Layout{
		Plan: Plan{
			Volume: v, PieceLength: r.PieceLength, Rows: in.rows, RowLength: length, Height: height,
			OffGround: OffGround, WallGap: p.wallGap(), RowGap: RowGap,
		},
		Place: p.Kind, Across: in.across, Room: Room{p.Width, p.Depth, p.Height, p.Back},
		Top: OffGround + height, Holds: holds(in.rows, length, height, r.PieceLength), Drying: dryingOf(in, p.Kind.Traits()),
		Green: w.GreenPressure(height), Dry: w.DryPressure(height),
		GreenMass: w.GreenWeight(v), DryMass: w.DryWeight(v),
	}
	if in.across {
		l.SideGap = p.sideGap()
	}
	l.Width, l.Depth = p.footprint(in.rows, length, r.PieceLength, in.across)
	l.Clear = p.clear(l.Depth)
	l.Area = rectangle(l.Width, l.Depth)
	l.Easy = l.Top <= r.Shoulder
	return l
}

// dryingOf tells how many of its two faces the worst row shows to moving air. What
// faces another row shows none; what faces the back or an end wall does where the
// place is airy; what faces the front does.
func dryingOf(in way, t Traits) Drying {
	open := 0
	if t.Airy {
		open = 2
	} else if !in.across {
		open = 1 // the front
	}
	switch open - min(in.rows-1, 2) {
	case 2:
		return Open
	case 1:
		return Fair
	}
	return Slow
}

func (d Drying) rank() int {
	switch d {
	case Open:
		return 0
	case Fair:
		return 1
	}
	return 2
}

// holds is the volume of rows of these lengths and heights, rounded down.
func holds(rows int, length, height, piece measure.Length) measure.Volume {
	v := new(big.Int).Mul(big.NewInt(int64(length)), big.NewInt(int64(height)))
	v.Mul(v, big.NewInt(int64(piece)))
	v.Mul(v, big.NewInt(int64(rows)))
	v.Quo(v, big.NewInt(cubicNanometres))
	return measure.Volume(v.Int64())
}
