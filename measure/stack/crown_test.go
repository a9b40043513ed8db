package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
)

// A solid stands on a floor of 8 × 5 ft, 1 ft high at its crest; x and y go from
// −1 to 1 over it.
type solid struct {
	name      string
	height    func(x, y float64) float64
	cubicFeet float64
	shapes    []CrownShape // whose range holds it
}

// Closed forms: cWL/2, 2cWL/3, πcWL/4, cW(3L − W)/6, cWL/3, 4cWL/9.
func solids() []solid {
	ridge := func(_, y float64) float64 { return 1 - math.Abs(y) }
	// Slopes to all four sides, as steep at the ends as at the sides.
	hip := func(x, y float64) float64 { return min(1-math.Abs(y), (1-math.Abs(x))*8/5) }
	return []solid{
		{"ridge", ridge, 20, []CrownShape{Ridge, ShapeNotSaid}},
		{"parabola", func(_, y float64) float64 { return 1 - y*y }, 26.7, []CrownShape{Rounded, FlatTopped, ShapeNotSaid}},
		{"half ellipse", func(_, y float64) float64 { return math.Sqrt(1 - y*y) }, 31.4, []CrownShape{FlatTopped, ShapeNotSaid}},
		{"hip roof", hip, 15.8, []CrownShape{Peak, ShapeNotSaid}},
		{"pyramid", func(x, y float64) float64 { return 1 - max(math.Abs(x), math.Abs(y)) }, 13.3, []CrownShape{Peak, ShapeNotSaid}},
		{"dome", func(x, y float64) float64 { return (1 - x*x) * (1 - y*y) }, 17.8, []CrownShape{Rounded, ShapeNotSaid}},
	}
}

// volume adds up columns over the floor.
func (s solid) volume() float64 {
	const n = 400
	var sum float64
	for i := range n {
		for j := range n {
			sum += s.height((2*float64(i)+1)/n-1, (2*float64(j)+1)/n-1)
		}
	}
	return sum / n / n * 8 * 5
}

// The ranges of the crown's factor hold the solids of those names, by geometry.
func TestCrownFactorsHoldTheSolids(t *testing.T) {
	for _, s := range solids() {
		v := s.volume()
		assert.InDelta(t, s.cubicFeet, v, 0.05, s.name)
		for _, shape := range s.shapes {
			low, high := shape.factor()
			assert.GreaterOrEqual(t, v/40, low-1e-4, "%s is a %s", s.name, shape)
			assert.LessOrEqual(t, v/40, high, "%s is a %s", s.name, shape)
		}
	}
}

// What is not said takes in every shape that can be said.
func TestCrownNotSaidHoldsAll(t *testing.T) {
	low, high := ShapeNotSaid.factor()
	for _, shape := range []CrownShape{Peak, Ridge, Rounded, FlatTopped} {
		l, h := shape.factor()
		assert.Less(t, l, h)
		assert.GreaterOrEqual(t, l, low)
		assert.LessOrEqual(t, h, high)
	}
}

// A body 8 × 5 ft filled to 20 in with a crown 1 ft high: 66.67 ft³ and the middle
// of the range of 40 ft³.
func TestLoadCrown(t *testing.T) {
	for shape, factor := range map[CrownShape]float64{
		Peak: (1./3 + 0.45) / 2, Ridge: 0.475, Rounded: 0.555, FlatTopped: 0.75, ShapeNotSaid: (1./3 + 0.85) / 2,
	} {
		tally := loadTally()
		s := tally.Stack.(Load)
		s.Crown = Crown{Shape: shape, Crest: in(12, 11, 13)}
		tally.Stack = s
		r := measured(t, tally)
		assert.InDelta(t, 200./3+40*factor, r.Quantity.Volume.In(measure.CubicFoot), 1e-6, shape)
		low, high := shape.factor()
		got, ok := contributionOf(r.Doubt, CrownShapes, 0)
		require.True(t, ok)
		assert.InDelta(t, 40*(high-low)/2/math.Sqrt(3), got.Standard.In(measure.CubicFoot), 1e-6, shape)
	}
}
