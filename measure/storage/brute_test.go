package storage_test

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/storage"
)

// anyPlace is a small place, so that every stack in it can be tried.
func anyPlace(t *rapid.T) storage.Place {
	inches := func(name string, low, high int64) measure.Length {
		return measure.Length(rapid.Int64Range(low, high).Draw(t, name)) * measure.Inch
	}
	p := storage.Place{Kind: rapid.SampledFrom(storage.PlaceKinds()).Draw(t, "kind"),
		Width: inches("width", 12, 160), Depth: inches("depth", 12, 110), Height: inches("height", 12, 110), Braced: rapid.Bool().Draw(t, "braced")}
	switch {
	case !p.Kind.Traits().Roof && rapid.Bool().Draw(t, "open sky"):
		p.Height = 0
	case rapid.Bool().Draw(t, "slopes"):
		p.Back = inches("back", 12, 110)
	}
	return p
}

func anyRequest(t *rapid.T) storage.Request {
	return storage.Request{
		Volume:      measure.Volume(rapid.Int64Range(int64(measure.CubicFoot), int64(2*measure.Cord)).Draw(t, "volume")),
		PieceLength: measure.Length(rapid.Int64Range(int64(8*measure.Inch), int64(26*measure.Inch)).Draw(t, "piece")),
		Place:       anyPlace(t),
		Shoulder:    measure.Length(rapid.Int64Range(36, 60).Draw(t, "shoulder")) * measure.Inch,
	}
}

// A stack is a way to stow, in inches; rows run from front to back where it is across.
// Heights are of its rows from the back.
type stack struct {
	across  bool
	length  int64
	heights []int64
}

func (s stack) rows() int64 { return int64(len(s.heights)) }

// highest is the height of the highest row.
func (s stack) highest() int64 { return slices.Max(s.heights) }

// faces is the area of its faces, in square inches.
func (s stack) faces() (sum int64) {
	for _, h := range s.heights {
		sum += h * s.length
	}
	return sum
}

// in gives the floor it takes, in other words than the package does.
func (s stack) in(r storage.Request) (wide, deep measure.Length) {
	long := measure.Length(s.length+8) * measure.Inch // a brace of 4 in at each end
	side := measure.Length(s.rows())*(r.PieceLength+4*measure.Inch) - 4*measure.Inch
	behind := 4 * measure.Inch
	if r.Place.Kind == storage.Rack {
		behind = 0
	}
	if !s.across {
		return long, behind + side
	}
	if r.Place.Kind == storage.Alcove || r.Place.Kind == storage.Shed { // walls at both sides
		side += 8 * measure.Inch
	}
	return side, behind + long
}

// stands is the rules again, in other words.
func (s stack) stands(r storage.Request) bool {
	kind := r.Place.Kind
	if s.across && (kind == storage.Wall || kind == storage.Carport || s.rows() > 12 || s.length < 24) || !s.across && s.rows() > 6 {
		return false
	}
	wide, deep := s.in(r)
	if wide > r.Place.Width || deep > r.Place.Depth {
		return false
	}
	for i := range s.heights {
		if !s.rowStands(r, i) {
			return false
		}
	}
	return true
}

// rowStands tells whether one row may be as high as it is, from the back.
func (s stack) rowStands(r storage.Request, i int) bool {
	h := measure.Length(s.heights[i]) * measure.Inch
	from := measure.Length(i) * (r.PieceLength + 4*measure.Inch)
	if r.Place.Kind != storage.Rack {
		from += 4 * measure.Inch
	}
	to := from + r.PieceLength
	if s.across {
		_, to = s.in(r)
		from = to - measure.Length(s.length+8)*measure.Inch
	}
	switch {
	case r.Place.Height > 0 && !(underRoof(r.Place, from, h+10*measure.Inch) && underRoof(r.Place, to, h+10*measure.Inch)):
		return false
	case r.Place.Braced:
		return h <= 7*measure.Foot && !(s.across && s.heights[i] > 2*s.length)
	}
	return h+4*measure.Inch <= r.Shoulder && h <= 3*r.PieceLength && s.heights[i] <= s.length
}

// underRoof tells whether so much height is clear so far from the back.
func underRoof(p storage.Place, from, high measure.Length) bool {
	if p.Back == 0 {
		return high <= p.Height
	}
	// high × depth ≤ back × (depth − from) + front × from
	product := func(a, b measure.Length) *big.Int {
		return new(big.Int).Mul(big.NewInt(int64(a)), big.NewInt(int64(b)))
	}
	roof := new(big.Int).Add(product(p.Back, p.Depth-from), product(p.Height, from))
	return product(high, p.Depth).Cmp(roof) <= 0
}

// dries is how badly the worst row dries: 0, 1 or 2.
func (s stack) dries(kind storage.PlaceKind) int64 {
	closed := min(s.rows(), 3) - 1
	if kind == storage.Alcove {
		if s.across {
			return 2
		}
		closed++
	}
	return min(closed, 2)
}

// rank orders stacks: easy, footprint, drying, rows, top, along before across.
func (s stack) rank(r storage.Request) [6]int64 {
	wide, deep := s.in(r)
	rank := [6]int64{0, int64(wide/1000) * int64(deep/1000), s.dries(r.Place.Kind), s.rows(), s.highest(), 0}
	if measure.Length(s.highest()+4)*measure.Inch > r.Shoulder {
		rank[0] = 1
	}
	if s.across {
		rank[5] = 1
	}
	return rank
}

func better(a, b [6]int64) [6]int64 {
	for i := range a {
		switch {
		case a[i] < b[i]:
			return a
		case b[i] < a[i]:
			return b
		}
	}
	return a
}

// each gives every number of rows, length and height that no row is above, with each row
// as high as it may be alone.
func each(r storage.Request, give func(stack)) {
	for _, across := range []bool{false, true} {
		for rows := 1; rows <= 14; rows++ {
			for length := int64(1); length <= 160; length++ {
				s := stack{across, length, slices.Repeat([]int64{1}, rows)}
				if !s.stands(r) {
					continue
				}
				most := slices.Clone(s.heights)
				for i := range most {
					for s.heights[i] = 1; s.rowStands(r, i); s.heights[i]++ {
						most[i] = s.heights[i]
					}
				}
				for high := int64(1); high <= 90; high++ {
					heights := make([]int64, rows)
					for i := range heights {
						heights[i] = min(most[i], high)
					}
					give(stack{across, length, heights})
				}
			}
		}
	}
}

// TestBruteForceFindsNothingBetter tries every stack on the grid.
func TestBruteForceFindsNothingBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		a := find(t, r)
		var most measure.Volume
		best := [6]int64{1 << 62}
		each(r, func(s stack) {
			v := measure.Volume(float64(s.faces()) * r.PieceLength.In(measure.Inch) * float64(measure.CubicInch))
			most = max(most, v)
			if v >= r.Volume {
				best = better(best, s.rank(r))
			}
		})
		require.InDelta(t, float64(most), float64(a.Capacity), 2, "no stack holds more")
		if !a.Fits {
			require.Equal(t, int64(1<<62), best[0], "nothing holds it")
			return
		}
		require.Equal(t, best, of(a.Layouts[0]).rank(r), "no better stack on the grid")
	})
}

// Under a sloping roof rows of any heights are tried against each other, not only those
// that go as high as they may.
func TestRowsUnderASlopeAreTriedAtEveryHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		inches := func(name string, low, high int64) measure.Length {
			return measure.Length(rapid.Int64Range(low, high).Draw(t, name)) * measure.Inch
		}
		r := storage.Request{PieceLength: 8 * measure.Inch, Shoulder: 48 * measure.Inch, Volume: measure.Volume(rapid.Int64Range(1, 9).Draw(t, "volume")) * measure.CubicFoot / 2,
			Place: storage.Place{Kind: storage.Carport, Width: inches("width", 12, 40), Depth: inches("depth", 12, 40), Height: inches("front", 12, 28), Back: inches("back", 12, 28), Braced: rapid.Bool().Draw(t, "braced")}}
		a := find(t, r)
		var most int64
		best := [6]int64{1 << 62}
		need := int64(math.Ceil(r.Volume.In(measure.CubicInch) / 8))
		for rows := 1; rows <= 3; rows++ {
			for length := int64(1); length <= 40; length++ {
				s := stack{false, length, slices.Repeat([]int64{1}, rows)}
				if !s.stands(r) {
					continue
				}
				s.everyHeight(r, 0, func() {
					most = max(most, s.faces())
					if s.faces() >= need {
						best = better(best, s.rank(r))
					}
				})
			}
		}
		require.InDelta(t, float64(most)*8*float64(measure.CubicInch), float64(a.Capacity), 2)
		require.Equal(t, a.Fits, best[0] < 1<<62)
		if a.Fits {
			require.Equal(t, best, of(a.Layouts[0]).rank(r))
		}
	})
}

// everyHeight goes through every height of the rows from the i-th on.
func (s stack) everyHeight(r storage.Request, i int, done func()) {
	if i == len(s.heights) {
		done()
		return
	}
	for s.heights[i] = 1; s.rowStands(r, i); s.heights[i]++ {
		s.everyHeight(r, i+1, done)
	}
	s.heights[i] = 1
}

// of is a layout as a stack.
func of(l storage.Layout) stack {
	s := stack{l.Across, int64(l.RowLength / measure.Inch), nil}
	for i := range l.Rows {
		s.heights = append(s.heights, int64(l.RowHeight(i)/measure.Inch))
	}
	return s
}

func TestEveryLayoutStandsInItsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		a := find(t, r)
		require.LessOrEqual(t, len(a.Layouts), 3)
		require.Equal(t, a.Fits, a.Left() == 0)
		for i, l := range a.Layouts {
			require.True(t, of(l).stands(r), "%+v", of(l))
			wide, deep := of(l).in(r)
			require.Equal(t, [2]measure.Length{wide, deep}, [2]measure.Length{l.Width, l.Depth})
			require.GreaterOrEqual(t, l.Holds+1, l.Volume, "it holds what it is for")
			require.LessOrEqual(t, l.Dry.Low, l.Green.High)
			require.LessOrEqual(t, l.Green.Low, l.Green.High)
			require.Equal(t, l.Top <= r.Shoulder, l.Easy)
			for _, before := range a.Layouts[:i] {
				require.False(t, before.Rows == l.Rows && before.Across == l.Across, "each is another way")
			}
		}
	})
}

// What finds no room goes to the next place, and nothing is lost on the way.
func TestWhatIsLeftGoesToTheNextPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		r.Then = []storage.Place{anyPlace(t), anyPlace(t)}
		all, err := storage.FindAll(r)
		require.NoError(t, err)
		left := r.Volume
		for i, a := range all {
			require.Equal(t, left, a.Request.Volume)
			require.Positive(t, left)
			require.LessOrEqual(t, i, 2)
			left = a.Left()
		}
		require.True(t, left == 0 || len(all) == 3, "no place is left out while wood is left")
	})
}
