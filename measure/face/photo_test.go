package face

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/testdata/photo"
)

// square is a photo taken square to a face of 100 by 50 in, ten pixels to the inch, its
// sticks 4 in outside the row.
func square() Photo {
	at := func(x, y measure.Length) Reference {
		return Reference{Pixel{1000 + 10*x.In(measure.Inch), 2000 - 10*y.In(measure.Inch)}, x, y}
	}
	const in = measure.Inch
	return Photo{Width: 4000, Height: 3000, Distance: 12 * measure.Foot, Zoom: 4, Plumb: PlumbLevel,
		References: []Reference{at(-4*in, 0), at(-4*in, 60*in), at(104*in, 0), at(104*in, 60*in)},
		Outline:    []Pixel{{1000, 2000}, {2000, 2000}, {2000, 1500}, {1000, 1500}},
		Voids:      [][]Pixel{{{1200, 1800}, {1300, 1800}, {1300, 1700}, {1200, 1700}}}}
}

// By hand: 100 × 50 − 10 × 10 square inches; standing 6 in proud of a face 144 in away
// makes it (144/138)² as large.
func TestASquareFaceByHand(t *testing.T) {
	f, err := Measure(square(), "photo")
	require.NoError(t, err)
	assert.InDelta(t, 4900, float64(f.Area), 1e-6)
	assert.InDelta(t, 100, float64(f.Voids), 1e-6)
	assert.InDelta(t, 100, f.Length.In(measure.Inch), 1e-6)
	assert.True(t, f.FewPoints)
	assert.False(t, f.OneEnd)
	proud := square()
	proud.Proud = 6 * measure.Inch
	further, err := Measure(proud, "photo")
	require.NoError(t, err)
	assert.InDelta(t, 4900*144*144./138/138, float64(further.Area), 1e-6)
	// Taller sticks and wider apart by 1/108 and 1/60 of their lengths: the area's
	// slope is A/108 + A/60 for each inch.
	assert.InDelta(t, 4900./108+4900./60, float64(f.Habit), 0.5)
}

// The same photo at another size, with its references or its outline in another order,
// measures the same; without its voids it measures as much more as they are.
func TestWhatDoesNotMatterChangesNothing(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 1))
	for range 20 {
		row := photo.NewRow(random, 48)
		p := tapped(random, row, photo.Snap(random, row), 10, 2, 0.5)
		f, err := Measure(p, "photo")
		require.NoError(t, err)
		half := p
		half.Width, half.Height = p.Width/2, p.Height/2
		half.References, half.Outline = slices.Clone(p.References), nil
		for i := range half.References {
			half.References[i].Pixel = Pixel{p.References[i].Pixel.X / 2, p.References[i].Pixel.Y / 2}
		}
		for _, q := range p.Outline {
			half.Outline = append(half.Outline, Pixel{q.X / 2, q.Y / 2})
		}
		turned := p
		turned.References, turned.Outline = slices.Clone(p.References), slices.Clone(p.Outline)
		random.Shuffle(len(turned.References), func(i, j int) {
			turned.References[i], turned.References[j] = turned.References[j], turned.References[i]
		})
		slices.Reverse(turned.Outline)
		for _, same := range []Photo{half, turned} {
			again, err := Measure(same, "photo")
			require.NoError(t, err)
			assert.InEpsilon(t, float64(f.Area), float64(again.Area), 1e-9)
			assert.Equal(t, f.Length, again.Length)
		}
		assert.InEpsilon(t, f.u(), mustMeasure(t, turned).u(), 1e-6)
	}
}

func mustMeasure(t *testing.T, p Photo) Face {
	t.Helper()
	f, err := Measure(p, "photo")
	require.NoError(t, err)
	return f
}

// A better photo is less in doubt, by each thing that is done for it.
func TestEachCareTakesDoubtOff(t *testing.T) {
	p := square()
	p.Zoom, p.Plumb = 1, PlumbByEye
	before := mustMeasure(t, p)
	zoomed, level, far := p, p, p
	zoomed.Zoom, level.Plumb, far.Distance = 4, PlumbLevel, 20*measure.Foot
	for source, better := range map[Source]Photo{Taps: zoomed, Lean: level, Depth: far} {
		after := mustMeasure(t, better)
		for i, part := range before.Parts {
			if part.Source == source {
				assert.Less(t, after.Parts[i].U, part.U, source)
			} else {
				assert.InEpsilon(t, float64(part.U), float64(after.Parts[i].U), 1e-6, "%s leaves %s alone", source, part.Source)
			}
		}
	}
}

// What can't be measured is refused by name.
func TestPhotosThatAreRefused(t *testing.T) {
	for code, spoil := range map[string]func(*Photo){
		"references-on-a-line": func(p *Photo) {
			for i := range p.References {
				p.References[i].Y, p.References[i].Pixel.Y = 0, 2000
			}
		},
		"references-crossed": func(p *Photo) {
			p.References[0].Pixel, p.References[1].Pixel = p.References[1].Pixel, p.References[0].Pixel
		},
		"mirrored": func(p *Photo) {
			for i := range p.References {
				p.References[i].Pixel.X = 4000 - p.References[i].Pixel.X
			}
		},
		"crosses-itself":     func(p *Photo) { p.Outline[1], p.Outline[2] = p.Outline[2], p.Outline[1] },
		"outside-references": func(p *Photo) { p.Outline[1].X, p.Outline[2].X = 2700, 2700 },
		"outside-outline":    func(p *Photo) { p.Voids[0][1].X = 2100; p.Voids[0][2].X = 2100 },
		"gaps-overlap":       func(p *Photo) { p.Voids = append(p.Voids, p.Voids[0]) },
		"outside-picture":    func(p *Photo) { p.Outline[0].Y = 3001 },
		"out-of-range":       func(p *Photo) { p.Distance = 0 },
		"unknown":            func(p *Photo) { p.Plumb = "string" },
		"too-large":          func(p *Photo) { p.References[0].X = 301 * measure.Foot },
	} {
		p := square()
		spoil(&p)
		_, err := Measure(p, "stack.rows[0].photo")
		var codes []string
		for _, e := range err.(measure.InputErrors) {
			codes = append(codes, e.Code)
			assert.Contains(t, e.Field, "stack.rows[0].photo.")
			assert.NotEmpty(t, e.Reason.String())
			assert.NotEmpty(t, e.Accepts.String())
		}
		assert.Contains(t, codes, code)
	}
	few := square()
	few.References = few.References[:3]
	_, err := Measure(few, "photo")
	assert.ErrorContains(t, err, "3 points are not from 4 to 12")
}

// Gaps that have room in common would be taken off twice: refused however they lie over
// each other, and gaps beside each other are taken off one by one.
func TestGapsAreTakenOffOnce(t *testing.T) {
	at := func(left, right, up, down float64) []Pixel {
		return []Pixel{{left, down}, {right, down}, {right, up}, {left, up}}
	}
	for name, second := range map[string][]Pixel{
		"within":  at(1220, 1260, 1720, 1760),
		"round":   at(1150, 1350, 1650, 1850),
		"corner":  at(1250, 1400, 1750, 1900),
		"through": at(1240, 1260, 1650, 1850),
	} {
		p := square()
		p.Voids = append(p.Voids, second)
		_, err := Measure(p, "photo")
		require.ErrorContains(t, err, "taken off twice", name)
	}
	p := square()
	p.Voids = append(p.Voids, at(1400, 1500, 1700, 1800))
	assert.InDelta(t, 200, float64(mustMeasure(t, p).Voids), 1e-6)
	assert.InDelta(t, 4800, float64(mustMeasure(t, p).Area), 1e-6)
}

// A photo whose references are left of the row alone can't carry an accusation.
func TestReferencesAtOneEnd(t *testing.T) {
	p := square()
	for i := range p.References {
		if r := &p.References[i]; r.X > 0 {
			r.X, r.Pixel.X = 84*measure.Inch, 1840
		}
	}
	assert.True(t, mustMeasure(t, p).OneEnd)
}

// No bytes of a photo make it panic: whatever is in range is measured or refused.
func FuzzMeasure(f *testing.F) {
	f.Add(1000., 2000., 2000., 1500., -4., 60., 104.)
	f.Fuzz(func(t *testing.T, x1, y1, x2, y2, left, up, right float64) {
		p := square()
		p.Outline[0], p.Outline[2] = Pixel{x1, y1}, Pixel{x2, y2}
		p.References[0].X, p.References[1].Y, p.References[2].X = inches(left), inches(up), inches(right)
		p.References[3].Pixel = Pixel{x2, y1}
		face, err := Measure(p, "photo")
		if err == nil {
			require.False(t, face.Area != face.Area, "the area is a number")
		}
	})
}

// A gap that goes over a dent of the outline would take off what isn’t wood; one beside the
// dent is taken off.
func TestAGapOverADentIsRefused(t *testing.T) {
	p := square()
	p.Outline = []Pixel{{1000, 2000}, {2000, 2000}, {2000, 1500}, {1550, 1500}, {1500, 1800}, {1450, 1500}, {1000, 1500}}
	p.Voids = [][]Pixel{{{1400, 1700}, {1600, 1700}, {1600, 1600}, {1400, 1600}}}
	_, err := Measure(p, "photo")
	require.ErrorContains(t, err, "reaches out of the outline")
	p.Voids = [][]Pixel{{{1400, 1900}, {1600, 1900}, {1600, 1850}, {1400, 1850}}}
	f, err := Measure(p, "photo")
	require.NoError(t, err)
	assert.InDelta(t, 100*50-10*30/2-20*5, float64(f.Area), 1e-6)
}
