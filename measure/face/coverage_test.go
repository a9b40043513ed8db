package face

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/testdata/photo"
)

// tapped is a photo of a row as a person taps it: the feet and tops of both sticks, both
// lower corners and so many points of the sky line, each off by about what is stated for a
// tap.
func tapped(random *rand.Rand, r photo.Row, c photo.Camera, sky int, zoom, sure float64) Photo {
	p := Photo{Width: c.Width, Height: c.Height, Proud: inches(r.Proud), Zoom: zoom, Plumb: PlumbByEye,
		Distance: inches(c.At.Z * (0.9 + 0.2*random.Float64()))}
	u := p.TapU() * sure
	tap := func(s photo.Spot) Pixel {
		x, y := c.See(s)
		return Pixel{x + u*random.NormFloat64(), y + u*random.NormFloat64()}
	}
	for side, x := range []float64{-r.Beside, r.Length + r.Beside} {
		p.References = append(p.References, Reference{tap(r.Feet[side]), inches(x), 0}, Reference{tap(r.Heads[side]), inches(x), inches(r.Tall)})
	}
	p.Outline = []Pixel{tap(photo.Spot{X: r.Length}), tap(photo.Spot{})}
	for i := range sky {
		p.Outline = append(p.Outline, tap(r.Top(r.Length*float64(i)/float64(sky-1))))
	}
	return p
}

func inches(x float64) measure.Length { return measure.Length(math.Round(x * float64(measure.Inch))) }

// u is the standard uncertainty of an area, without where the top of the wood is.
func (f Face) u() float64 {
	var squares float64
	for _, part := range f.Parts {
		squares += float64(part.U * part.U)
	}
	return math.Sqrt(squares)
}

// Truth is drawn by a renderer that knows nothing of the model: of a thousand faces the
// range of give or take holds nearly all, and their areas scatter as little as careful
// heights do.
func TestCoverageOfFaces(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 1))
	const n = 1000
	var held int
	var sum, squares, us float64
	for range n {
		row := photo.NewRow(random, 36+16*random.Float64())
		p := tapped(random, row, photo.Snap(random, row), 10, 1, 0.5+0.5*random.Float64())
		f, err := Measure(p, "photo")
		require.NoError(t, err)
		off := float64(f.Area)/row.Area() - 1
		sum += off
		squares += off * off
		us += f.u() / float64(f.Area)
		if math.Abs(off) <= 1.96*f.u()/row.Area() {
			held++
		}
	}
	mean := sum / n
	t.Logf("held %.1f %%, mean %.2f %%, scatter %.2f %%, stated u %.2f %%", 100*float64(held)/n, 100*mean, 100*math.Sqrt(squares/n-mean*mean), 100*us/n)
	require.GreaterOrEqual(t, held, 930)
	require.LessOrEqual(t, held, 995)
}
