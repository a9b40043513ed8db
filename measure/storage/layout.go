package storage

import (
	"math/big"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// A Request is wood to be stowed in a place.
type Request struct {
	Volume      measure.Volume // ranked
	PieceLength measure.Length
	Place       Place
	Wood        WoodKind
	Species     wood.Mix       // named: goes before Wood
	Shoulder    measure.Length // of who stacks it; 0 is DefaultShoulder
	// Thrown is what the volume was reckoned from where it was said loose, else 0.
	Thrown measure.Volume
}

// DefaultShoulder is about the shoulder of who stacks: common practice, no source.
const DefaultShoulder = MaxHeight

// A Drying says how well air gets at the wood.
type Drying string

// From best to worst.
const (
	Open Drying = "open" // one row: air on both faces
	Fair Drying = "fair" // two rows: each has one open face
	Slow Drying = "slow" // three rows or more: the inner ones dry late
)

// A Layout is one way to stow the wood in the place.
type Layout struct {
	Plan
	Place      PlaceKind
	Room       Room
	Top        measure.Length // of the wood, above the floor
	Easy       bool           // the top is at or below the shoulder
	Holds      measure.Volume // at this length and height
	Area       Area           // of the footprint
	Drying     Drying
	Green, Dry Range[Pressure]  // under the row
	GreenMass  Range[wood.Mass] // of the wood that is stowed
	DryMass    Range[wood.Mass]
	HasHatch   bool // the front is closed: a hatch near waist height
	FreeBehind bool // there is no wall behind
}

// A Room is the place as given; a Height of 0 is the open sky.
type Room struct{ Width, Depth, Height measure.Length }

// An Answer is what the place takes.
type Answer struct {
	Request Request
	Fits    bool
	// Capacity is the most that the place takes in rows like these.
	Capacity measure.Volume
	// Layouts are the best ways first, each with another number of rows, at most
	// three; where the wood does not fit, of what does; none where nothing does.
	Layouts []Layout
	// Tight says why nothing fits, the zero Text where something does.
	Tight    measure.Text
	Cautions []measure.Text
	Grounds  []Ground
}

// Left is what finds no room.
func (a Answer) Left() measure.Volume { return max(0, a.Request.Volume-a.Capacity) }

// shown is how many layouts an answer has at most.
const shown = 3

// Find looks through every number of rows along the back, length and height, in whole
// inches, that stows the wood in the place, and ranks them: the top at or below the shoulder
// before one above it, then the smaller footprint, then fewer rows, which dry
// better, then the lower top. A request out of its bounds is measure.InputErrors.
func Find(r Request) (Answer, error) {
	if r.Shoulder == 0 {
		r.Shoulder = DefaultShoulder
	}
	if faults := r.check(); len(faults) > 0 {
		return Answer{}, faults
	}
	a := Answer{Request: r, Grounds: layoutGrounds()}
	rows, length, height := r.most()
	if rows == 0 || length == 0 || height == 0 {
		a.Tight, a.Cautions = r.tight(rows, length, height), r.cautions(false)
		return a, nil
	}
	a.Capacity = holds(rows, length, height, r.PieceLength)
	a.Fits = a.Capacity >= r.Volume
	stowed := min(r.Volume, a.Capacity)
	a.Layouts = r.layouts(stowed)
	a.Cautions = r.cautions(slices.ContainsFunc(a.Layouts, func(l Layout) bool { return !l.Easy }))
	return a, nil
}

// most is the largest stack that the place takes; 0 for what there is no room for.
func (r Request) most() (rows int, length, height measure.Length) {
	length = r.Place.longest()
	height = r.Place.tallest(r.PieceLength, r.Shoulder)
	if !r.Place.Braced {
		height = min(height, length)
	}
	return r.Place.deepest(r.PieceLength), length, height
}

// layouts are the best for each number of rows, best first.
func (r Request) layouts(v measure.Volume) []Layout {
	var all []Layout
	rows, _, _ := r.most()
	for n := 1; n <= rows; n++ {
		if best, found := r.best(v, n); found {
			all = append(all, best)
		}
	}
	slices.SortStableFunc(all, Layout.compare)
	return all[:min(len(all), shown)]
}

// best is the best layout of so many rows: for each height the least length that
// holds v.
func (r Request) best(v measure.Volume, rows int) (Layout, bool) {
	_, longest, tallest := r.most()
	var best Layout
	found := false
	for height := wholeLength; height <= tallest; height += wholeLength {
		length := runFor(v, r.PieceLength, height, rows)
		if !r.Place.Braced {
			length = max(length, height) // never higher than it is long
		}
		if length > longest {
			continue
		}
		l := r.layout(v, rows, length, height)
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
	case l.Rows != o.Rows:
		return sign(l.Rows < o.Rows)
	case l.Top != o.Top:
		return sign(l.Top < o.Top)
	}
	return 0
}

func sign(less bool) int {
	if less {
		return -1
	}
	return 1
}

func (r Request) layout(v measure.Volume, rows int, length, height measure.Length) Layout {
	w := woodOf(r.Wood, r.Species)
	l := Layout{
		Plan: Plan{
			Volume: v, PieceLength: r.PieceLength, Rows: rows, RowLength: length, Height: height,
			OffGround: OffGround, WallGap: r.Place.wallGap(), RowGap: RowGap, Width: length + 2*EndBrace,
		},
		Place: r.Place.Kind, Room: Room{r.Place.Width, r.Place.Depth, r.Place.Height},
		Top: OffGround + height, Holds: holds(rows, length, height, r.PieceLength), Drying: dryingOf(rows),
		Green: w.GreenPressure(height), Dry: w.DryPressure(height),
		GreenMass: w.GreenWeight(v), DryMass: w.DryWeight(v),
		HasHatch: r.Place.Kind == Shed, FreeBehind: !r.Place.Kind.backed(),
	}
	l.Depth = l.WallGap + measure.Length(rows)*r.PieceLength + measure.Length(rows-1)*RowGap
	l.Area = rectangle(l.Width, l.Depth)
	l.Easy = l.Top <= r.Shoulder
	return l
}

func dryingOf(rows int) Drying {
	switch rows {
	case 1:
		return Open
	case 2:
		return Fair
	}
	return Slow
}

// holds is the volume of rows of these lengths and heights, rounded down.
func holds(rows int, length, height, piece measure.Length) measure.Volume {
	v := new(big.Int).Mul(big.NewInt(int64(length)), big.NewInt(int64(height)))
	v.Mul(v, big.NewInt(int64(piece)))
	v.Mul(v, big.NewInt(int64(rows)))
	v.Quo(v, big.NewInt(cubicNanometres))
	return measure.Volume(v.Int64())
}
