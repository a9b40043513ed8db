package storage_test

import (
	"math/big"
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
type stack struct {
	across               bool
	rows, length, height int64
}

// in gives the floor it takes, in other words than the package does.
func (s stack) in(r storage.Request) (wide, deep measure.Length) {
	long := measure.Length(s.length+8) * measure.Inch // a brace of 4 in at each end
	side := measure.Length(s.rows)*(r.PieceLength+4*measure.Inch) - 4*measure.Inch
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
	if s.across && (kind == storage.Wall || kind == storage.Carport || s.rows > 12 || s.length < 24) || !s.across && s.rows > 6 {
		return false
	}
	wide, deep := s.in(r)
	h := measure.Length(s.height) * measure.Inch
	behind := 4 * measure.Inch
	if kind == storage.Rack {
		behind = 0
	}
	switch {
	case wide > r.Place.Width || deep > r.Place.Depth:
		return false
	case r.Place.Height > 0 && !(underRoof(r.Place, behind, h+10*measure.Inch) && underRoof(r.Place, deep, h+10*measure.Inch)):
		return false
	case r.Place.Braced:
		return h <= 7*measure.Foot && !(s.across && s.height > 2*s.length)
	}
	return h+4*measure.Inch <= r.Shoulder && h <= 3*r.PieceLength && s.height <= s.length
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
	closed := min(s.rows, 3) - 1
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
	rank := [6]int64{0, int64(wide/1000) * int64(deep/1000), s.dries(r.Place.Kind), s.rows, s.height, 0}
	if measure.Length(s.height+4)*measure.Inch > r.Shoulder {
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

// TestBruteForceFindsNothingBetter tries every stack on the grid.
func TestBruteForceFindsNothingBetter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRequest(t)
		a := find(t, r)
		var most measure.Volume
		best := [6]int64{1 << 62}
		for _, across := range []bool{false, true} {
			for rows := int64(1); rows <= 14; rows++ {
				for length := int64(1); length <= 160; length++ {
					for height := int64(1); height <= 90; height++ {
						s := stack{across, rows, length, height}
						if !s.stands(r) {
							continue
						}
						v := measure.Volume(float64(rows*length*height) * r.PieceLength.In(measure.Inch) * float64(measure.CubicInch))
						most = max(most, v)
						if v >= r.Volume {
							best = better(best, s.rank(r))
						}
					}
				}
			}
		}
		require.InDelta(t, float64(most), float64(a.Capacity), 2, "no stack holds more")
		if !a.Fits {
			require.Equal(t, int64(1<<62), best[0], "nothing holds it")
			return
		}
		require.Equal(t, best, of(a.Layouts[0]).rank(r), "no better stack on the grid")
	})
}

func of(l storage.Layout) stack {
	return stack{l.Across, int64(l.Rows), int64(l.RowLength / measure.Inch), int64(l.Height / measure.Inch)}
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
