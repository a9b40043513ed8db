package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
)

// carefully is a tally of any stack, read with care, nothing sold.
func carefully(s Stack) Tally {
	return Tally{Look: 1, Tape: measure.Inch / 4, Top: Straightedge, Stowed: StowingChecked, Stack: s}
}

// loadTally is a body 8 × 5 ft filled to 20 in with thrown wood: 66.67 ft³.
func loadTally() Tally {
	return carefully(Load{Arrangement: measure.Loose, Box: Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot, Heights: in(20, 20, 20, 20)}})
}

const bodyVolume = 200. / 3 // cubic feet

func body() Box {
	return Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot, Heights: in(20, 20, 20, 20)}
}

// Each kind comes to the plain box that it turns into.
func TestKindsComeToTheirBox(t *testing.T) {
	even := in(20, 20, 20)
	section := Section{Inside: 20 * measure.Inch, Headspace: in(0, 0, 0, 0, 0, 0), Widths: in(60, 60, 60), Pieces: in(96, 96, 96, 96, 96)}
	for name, s := range map[string]Stack{
		"a load thrown":          Load{Arrangement: measure.Loose, Box: body()},
		"a load ranked":          Load{Arrangement: measure.Ranked, Box: body()},
		"a crest of nothing":     Load{Arrangement: measure.Loose, Box: body(), Crown: Crown{Shape: Ridge, Crest: in(0, 0)}},
		"an even grid":           Load{Arrangement: measure.Loose, Box: Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot}, Grid: [][]measure.Length{even, even, even}},
		"a line of a taped box":  Load{Arrangement: measure.Loose, Calibrated: &Calibrated{Box: body()}},
		"a line of a volume":     Load{Arrangement: measure.Loose, Calibrated: &Calibrated{Volume: 200 * measure.CubicFoot / 3}},
		"a bin":                  Bin{Arrangement: measure.Container, Box: body()},
		"a bin ranked":           Bin{Arrangement: measure.Ranked, Box: body()},
		"a package without room": Packaged{Method: Boxed, Sections: []Section{section}},
		"a package restacked": Packaged{Method: Crosshatched, Heights: in(20, 20, 20, 20, 20, 20, 20, 20), Lengths: in(60, 60, 60, 60),
			Pieces: Pieces{Sample: in(96, 96, 96, 96, 96)}},
		"a bundle": Packaged{Method: Bundled, Ends: [2]Traced{{4 * 1200, measure.Inch}, {4 * 1200, measure.Inch}}, Pieces: Pieces{Sample: in(96, 96, 96, 96, 96)}},
	} {
		r := measured(t, carefully(s))
		assert.InDelta(t, bodyVolume, r.Quantity.Volume.In(measure.CubicFoot), 1e-6, name)
		assert.Positive(t, r.Expanded, name)
		assert.Equal(t, s.Basis(), r.Quantity.Basis, name)
		assert.NotEmpty(t, r.Notes, name)
	}
}

// Closed forms: πD²/4·H, πD²/12·h; a drum round 22 ft. A heap is the middle of its
// range, which holds an oval cone and an oval paraboloid.
func TestRoundSolids(t *testing.T) {
	drum := func(cone measure.Length) Stack {
		return Round{Diameters: in(84, 84, 84, 84), Heights: in(60, 60, 60, 60), Cone: cone}
	}
	for _, c := range []struct {
		name  string
		stack Stack
		want  float64 // cubic feet
	}{
		{"drum", drum(0), math.Pi * 49 / 4 * 5},
		{"drum with a cone", drum(18 * measure.Inch), math.Pi*49/4*5 + math.Pi*49/12*1.5},
		{"drum by its girth", Round{Circumference: 22 * measure.Foot, Heights: in(60)}, 22 * 22 / (4 * math.Pi) * 5},
		{"rounded heap", Heap{Shape: RoundedHeap, Length: 12 * measure.Foot, Width: 8 * measure.Foot, Height: 4 * measure.Foot}, 0.325 * 12 * 8 * 4},
		{"ridge heap", Heap{Shape: RidgeHeap, Length: 12 * measure.Foot, Width: 8 * measure.Foot, Height: 4 * measure.Foot}, 0.44 * 12 * 8 * 4},
		{"heap of no said shape", Heap{Shape: HeapFormNotSaid, Length: 12 * measure.Foot, Width: 8 * measure.Foot, Height: 4 * measure.Foot}, 0.405 * 12 * 8 * 4},
	} {
		assert.InDelta(t, c.want, measured(t, carefully(c.stack)).Quantity.Volume.In(measure.CubicFoot), 1e-6, c.name)
	}
}

// Wheel wells come off up to the fill, and what is below the wood comes off its
// heights.
func TestLoadWellsAndRaised(t *testing.T) {
	tally := loadTally()
	s := tally.Stack.(Load)
	s.Wells = []Well{{Length: 3 * measure.Foot, Width: 8 * measure.Inch, Height: 12 * measure.Inch, Count: 2}}
	tally.Stack = s
	assert.InDelta(t, bodyVolume-4, measured(t, tally).Quantity.Volume.In(measure.CubicFoot), 1e-6)
	s.Wells[0].Height = 30 * measure.Inch
	assert.InDelta(t, bodyVolume*(1-0.1), measured(t, tally).Quantity.Volume.In(measure.CubicFoot), 1e-6, "no higher than the fill")
	tally = loadTally()
	tally.Raised = 2 * measure.Inch
	assert.InDelta(t, 60, measured(t, tally).Quantity.Volume.In(measure.CubicFoot), 1e-6)
}

// A heap is never known well, and its answer is how to stack it: 93.6 ft³, give or
// take 23.1 (u² is a third of 0.2² + 3 × 0.05² of it), of 16 in pieces, 0.60 to 0.72 of
// it ranked, over 5.33 ft² of end: 7.9 to 15.8 ft.
func TestHeapAnswer(t *testing.T) {
	tally := carefully(Heap{Shape: RoundedHeap, Length: 12 * measure.Foot, Width: 6 * measure.Foot, Height: 4 * measure.Foot, Pieces: Pieces{Nominal: 33 * measure.Inch / 2}})
	r := measured(t, tally)
	assert.InDelta(t, math.Sqrt((0.04+3*0.0025)/3), r.Standard.In(r.Quantity.Volume), 1e-9)
	require.Len(t, r.Next, 1)
	assert.Equal(t, "stack", r.Next[0].Code)
	assert.Equal(t, "Stack it in rows 4 ft high: expect about 7 ft to 16 ft of row of 16 in pieces, then measure that.", r.Next[0].Text.String())
	require.NotNil(t, r.Expected)
	assert.InDelta(t, 0.60, r.Expected.Low.In(r.Quantity.Volume-r.Expanded), 1e-9)
	assert.InDelta(t, 0.72, r.Expected.High.In(r.Quantity.Volume+r.Expanded), 1e-9)
	assert.InDelta(t, 1.96*0.12583, r.Expanded.In(r.Quantity.Volume), 1e-4)
	assert.Contains(t, keys(r.Notes), "Once ranked, this wood is expected to make %s to %s: to plan with, not a result.")
}

// Only wood that is not ranked is told how much it may be then, and to be stacked.
func TestExpectedIsForWoodNotRanked(t *testing.T) {
	for _, s := range []Stack{loadTally().Stack, Bin{Arrangement: measure.Container, Box: body()}, Bin{Arrangement: measure.Ranked, Box: body()}} {
		tally := carefully(s)
		tally.Sold = oneCord()
		r := measured(t, tally)
		assert.NotNil(t, r.Expected, s.Kind())
		assert.Contains(t, codes(r.Next), "stack", s.Kind())
	}
	for _, s := range []Stack{Load{Arrangement: measure.Ranked, Box: body()}, Bin{Arrangement: measure.Ranked, Box: body(), Pieces: Pieces{Nominal: 16 * measure.Inch}}, shortTally().Stack} {
		r := measured(t, carefully(s))
		assert.Nil(t, r.Expected, s.Kind())
		assert.NotContains(t, codes(r.Next), "stack")
	}
}

// A volume as said is doubted more than a body that was taped.
func TestCalibratedDoubt(t *testing.T) {
	taped := measured(t, carefully(Load{Arrangement: measure.Loose, Calibrated: &Calibrated{Box: body(), On: "2026-05-01", By: "the owner"}}))
	said := measured(t, carefully(Load{Arrangement: measure.Loose, Calibrated: &Calibrated{Volume: 64 * measure.CubicFoot, On: "2026-05-01", By: "the owner"}}))
	assert.Less(t, taped.Standard.In(taped.Quantity.Volume), 0.07, "± 2 in of 20 where it stands against the line")
	// √(0.02² + 0.04²)/√3
	assert.InDelta(t, math.Sqrt(0.002/3), said.Standard.In(said.Quantity.Volume), 1e-9)
	assert.Contains(t, keys(said.Notes), "The bed was taped on %s by %s.")
}

// The advice of a crown is a grid; a grid's own is more of it.
func TestLoadNext(t *testing.T) {
	tally := loadTally()
	s := tally.Stack.(Load)
	s.Crown = Crown{Shape: ShapeNotSaid, Crest: in(18)}
	tally.Stack, tally.Top = s, ByEye
	assert.Equal(t, []string{"grid", "straightedge", "rounding", "stack"}, codes(measured(t, tally).Next))
	tally.Stack = Load{Arrangement: measure.Loose, Box: Box{Length: 8 * measure.Foot, Width: 5 * measure.Foot}, Grid: [][]measure.Length{in(20, 30, 21), in(26, 38, 24), in(19, 31, 22)}}
	assert.Contains(t, codes(measured(t, tally).Next), "grid-more")
	for _, a := range measured(t, tally).Next {
		if a.Code != "stack" {
			assert.NotContains(t, a.Text.String(), "row", a.Code)
		}
	}
}

// More wood never lowers the volume of any kind.
func TestMoreWoodInAnyKind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := func(name string) measure.Length { return quarters(t, 20, 90, name) }
		list := func(n int, name string) []measure.Length {
			ls := make([]measure.Length, n)
			for i := range ls {
				ls[i] = some(name)
			}
			return ls
		}
		more := quarters(t, 1, 10, "more")
		heights := list(rapid.IntRange(1, 6).Draw(t, "heights"), "height")
		x := Box{Length: some("length"), Width: some("width"), Heights: heights}
		higher := x
		higher.Heights = append([]measure.Length{}, heights...)
		higher.Heights[rapid.IntRange(0, len(heights)-1).Draw(t, "station")] += more
		wells := []Well{{Length: quarters(t, 1, 9, "well"), Width: quarters(t, 1, 9, "well"), Height: some("well"), Count: 2}}
		crest := list(2, "crest")
		crown := Crown{Shape: rapid.SampledFrom([]CrownShape{Peak, Ridge, Rounded, FlatTopped, ShapeNotSaid}).Draw(t, "shape"), Crest: crest}
		taller := Crown{Shape: crown.Shape, Crest: []measure.Length{crest[0] + more, crest[1]}}
		load := func(x Box, w []Well, c Crown) Stack {
			return Load{Arrangement: measure.Loose, Box: x, Wells: w, Crown: c}
		}
		shape := rapid.SampledFrom([]HeapForm{RoundedHeap, RidgeHeap}).Draw(t, "heap")
		pair := rapid.SampledFrom([][2]Stack{
			{load(x, wells, crown), load(higher, wells, crown)},
			{load(x, wells, crown), load(x, nil, crown)},
			{load(x, wells, crown), load(x, wells, taller)},
			{load(x, wells, Crown{}), load(x, wells, crown)},
			{Bin{Arrangement: measure.Container, Box: x}, Bin{Arrangement: measure.Container, Box: higher}},
			{Heap{shape, x.Length, x.Width, crest[0], Pieces{}}, Heap{shape, x.Length + more, x.Width, crest[0], Pieces{}}},
			{Heap{shape, x.Length, x.Width, crest[0], Pieces{}}, Heap{shape, x.Length, x.Width + more, crest[0] + more, Pieces{}}},
			{Round{Diameters: heights, Heights: crest}, Round{Diameters: higher.Heights, Heights: crest}},
			{Round{Diameters: heights, Heights: crest}, Round{Diameters: heights, Heights: crest, Cone: more}},
		}).Draw(t, "what")
		less, greater := carefully(pair[0]), carefully(pair[1])
		assert.LessOrEqual(t, mustMeasure(t, less).Quantity.Volume, mustMeasure(t, greater).Quantity.Volume)
	})
}

// A stack that ParseTally would not have made is refused, not measured.
func TestKindsRefuseWhatCannotBeMeasured(t *testing.T) {
	x := body()
	for name, s := range map[string]Stack{
		"load without arrangement":    Load{Box: x},
		"load without box":            Load{Arrangement: measure.Loose},
		"load of wells":               Load{Arrangement: measure.Loose, Box: x, Wells: []Well{{8 * measure.Foot, 5 * measure.Foot, measure.Foot, 1}}},
		"uneven grid":                 Load{Arrangement: measure.Loose, Box: x, Grid: [][]measure.Length{in(20, 20), in(20)}},
		"crown over an unknown floor": Load{Arrangement: measure.Loose, Calibrated: &Calibrated{Volume: measure.Cord}, Crown: Crown{Shape: Ridge, Crest: in(10)}},
		"calibrated without volume":   Load{Arrangement: measure.Loose, Calibrated: &Calibrated{}},
		"bin thrown":                  Bin{Arrangement: measure.Loose, Box: x},
		"heap without shape":          Heap{Length: measure.Foot, Width: measure.Foot, Height: measure.Foot},
		"heap without height":         Heap{Shape: RidgeHeap, Length: measure.Foot, Width: measure.Foot},
		"round without diameter":      Round{Heights: in(40)},
		"round without height":        Round{Circumference: 20 * measure.Foot},
		"package without method":      Packaged{},
		"package without sections":    Packaged{Method: Boxed},
		"bundle without ends":         Packaged{Method: Bundled, Pieces: Pieces{Sample: in(16)}},
	} {
		_, err := Measure(carefully(s))
		var fault *measure.InputError
		require.ErrorAs(t, err, &fault, name)
		assert.NotEmpty(t, fault.Field, name)
		mustBeInputError(t, err)
	}
}
