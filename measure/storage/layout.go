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
	Place  PlaceKind
	Across bool // the rows run from front to back, side by side
	Room   Room
	// Heights are of the rows from the back where a sloping roof lets them differ; then
	// Height is the highest. Empty: each is Height.
	Heights    []measure.Length
	SideGap    measure.Length // between the outer rows and walls at their side
	Clear      measure.Length // the least clear height over it; 0: open sky
	Air        measure.Length // the least between the wood and the roof; 0: open sky
	Top        measure.Length // of the wood, above the floor
	Easy       bool           // the top is at or below the shoulder
	Holds      measure.Volume // at this length and these heights
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
// height in whole inches. Rows along the back under a sloping roof go as high as the roof
// over each of them allows. It ranks them: the top at or below the shoulder before one
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

// A row of whole inches: how long it is and how high.
type inches = int64

// tops are the highest that rows of this length may be, from the back.
func (r Request) tops(w way, length inches) []inches {
	long := measure.Length(length) * wholeLength
	tops := make([]inches, w.rows)
	for i := range tops {
		high := r.Place.tallest(r.PieceLength, r.Shoulder, r.Place.clearOver(w, i, long, r.PieceLength))
		switch {
		case !r.Place.Braced:
			high = min(high, long) // never higher than it is long
		case w.across:
			high = min(high, AcrossSteep*long)
		}
		tops[i] = max(0, inches(high/wholeLength))
	}
	return tops
}

// lengths are those worth trying for rows of a way, in whole inches, with the highest
// that each of them may be.
func (r Request) lengths(w way) (from inches, tops [][]inches) {
	from = inches(shortest(w.across) / wholeLength)
	for length := from; length <= inches(r.Place.longest(w.across)/wholeLength); length++ {
		tops = append(tops, r.tops(w, length))
	}
	return from, tops
}

// capacity is the most that the place takes.
func (r Request) capacity() measure.Volume {
	var most inches // square inches of face
	for _, w := range r.ways() {
		from, tops := r.lengths(w)
		for i := range tops {
			most = max(most, face(tops[i], maxInches, from+inches(i)))
		}
	}
	return volumeOf(most, r.PieceLength)
}

// maxInches is higher than any row.
const maxInches inches = inches(MaxBraced / wholeLength)

// face is the area of the faces of rows of this length, none of them higher than it may
// be or than a height, in square inches.
func face(tops []inches, high, length inches) inches {
	var sum inches
	for _, top := range tops {
		sum += min(top, high)
	}
	return sum * length
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

// best is the best layout of a way: for each height that no row is above the least
// length that holds v.
func (r Request) best(v measure.Volume, w way) (Layout, bool) {
	var best Layout
	found := false
	need := faceFor(v, r.PieceLength)
	from, tops := r.lengths(w)
	for high := inches(1); high <= maxInches; high++ {
		for i, tops := range tops {
			if face(tops, high, from+inches(i)) < need {
				continue
			}
			l := r.layout(v, w, measure.Length(from+inches(i))*wholeLength, rowsOf(tops, high))
			if !found || l.compare(best) < 0 {
				best, found = l, true
			}
			break // longer ones take more floor
		}
	}
	return best, found
}

// rowsOf are the heights of rows that go as high as they may and no higher than a height.
func rowsOf(tops []inches, high inches) []measure.Length {
	heights := make([]measure.Length, len(tops))
	for i, top := range tops {
		heights[i] = measure.Length(min(top, high)) * wholeLength
	}
	return heights
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

// layout is rows of these heights, from the back. The least clear height that is taken
// leaves room for some wood everywhere.
func (r Request) layout(v measure.Volume, in way, length measure.Length, heights []measure.Length) Layout {
	w, p := woodOf(r.Wood, r.Species), r.Place
	l := Layout{
		Plan: Plan{
			Volume: v, PieceLength: r.PieceLength, RowLength: length, OffGround: OffGround, RowGap: RowGap, WallGap: p.wallGap(),
		},
		Place: p.Kind, Across: in.across, Room: Room{p.Width, p.Depth, p.Height, p.Back},
		Drying:    dryingOf(in, p.Kind.Traits()),
		GreenMass: w.GreenWeight(v), DryMass: w.DryWeight(v),
	}
	if in.across {
		l.SideGap = p.sideGap()
	}
	l.Width, l.Depth = p.footprint(in.rows, length, r.PieceLength, in.across)
	l.stand(heights)
	l.underRoof(p, in)
	l.Green, l.Dry = w.GreenPressure(l.Height), w.DryPressure(l.Height)
	l.Area = rectangle(l.Width, l.Depth)
	l.Easy = l.Top <= r.Shoulder
	return l
}

// stand puts rows of these heights into the layout, from the back.
func (l *Layout) stand(heights []measure.Length) {
	l.Rows, l.Height = len(heights), slices.Max(heights)
	l.Top = OffGround + l.Height
	if slices.Min(heights) < l.Height {
		l.Heights = heights
	}
	var sum inches
	for _, h := range heights {
		sum += inches(h / wholeLength)
	}
	l.Holds = volumeOf(sum*inches(l.RowLength/wholeLength), l.PieceLength)
}

// underRoof says what is clear over the rows.
func (l *Layout) underRoof(p Place, in way) {
	for i := range l.Rows {
		clear := p.clearOver(in, i, l.RowLength, l.PieceLength)
		if air := clear - OffGround - l.RowHeight(i); i == 0 || air < l.Air {
			l.Air = air
		}
		if i == 0 || clear < l.Clear {
			l.Clear = clear
		}
	}
	if l.Clear == 0 {
		l.Air = 0
	}
}

// RowHeight is how high the i-th row from the back is; rows from front to back are all
// alike.
func (l Layout) RowHeight(i int) measure.Length {
	if len(l.Heights) == 0 {
		return l.Height
	}
	return l.Heights[i]
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

// volumeOf is what faces of so many square inches hold, rounded down.
func volumeOf(face inches, piece measure.Length) measure.Volume {
	v := new(big.Int).Mul(big.NewInt(face), big.NewInt(int64(piece)))
	v.Mul(v, big.NewInt(int64(wholeLength)*int64(wholeLength)))
	v.Quo(v, big.NewInt(cubicNanometres))
	return measure.Volume(v.Int64())
}

// faceFor is the least area of faces that hold v, in square inches.
func faceFor(v measure.Volume, piece measure.Length) inches {
	need := new(big.Int).Mul(big.NewInt(int64(v)), big.NewInt(cubicNanometres))
	deep := new(big.Int).Mul(big.NewInt(int64(piece)), big.NewInt(int64(wholeLength)*int64(wholeLength)))
	whole, over := need.QuoRem(need, deep, new(big.Int))
	if over.Sign() > 0 {
		whole.Add(whole, big.NewInt(1))
	}
	return whole.Int64()
}
