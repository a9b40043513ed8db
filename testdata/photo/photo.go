// Package photo renders invented photos of stacks for tests: a pinhole camera with barrel
// distortion looks at rows of known truth, with an uneven face and sticks that lean.
package photo

import (
	"math"
	"math/rand/v2"
)

// A Spot is a place in inches: along the row, up, and out of its face to the camera.
type Spot struct{ X, Y, Z float64 }

// A Camera is a pinhole with a lens that bends straight lines.
type Camera struct {
	At            Spot
	Aside, Down   float64 // where it looks: radians to the left and down from square to the face
	Focal         float64 // pixels
	Width, Height int
	Barrel        float64 // r' = r(1 + Barrel·r²), r 1 at the corner of the picture
}

// See gives where a spot is in the picture, in pixels.
func (c Camera) See(s Spot) (x, y float64) {
	dx, dy, dz := s.X-c.At.X, s.Y-c.At.Y, c.At.Z-s.Z
	right := dx*math.Cos(c.Aside) + dz*math.Sin(c.Aside)
	ahead := -dx*math.Sin(c.Aside) + dz*math.Cos(c.Aside)
	down := -dy*math.Cos(c.Down) - ahead*math.Sin(c.Down)
	ahead = ahead*math.Cos(c.Down) - dy*math.Sin(c.Down)
	px, py := c.Focal*right/ahead, c.Focal*down/ahead
	r := math.Hypot(px, py) / (math.Hypot(float64(c.Width), float64(c.Height)) / 2)
	bend := 1 + c.Barrel*r*r
	return float64(c.Width)/2 + px*bend, float64(c.Height)/2 + py*bend
}

// A Row is a row with two sticks beside it, as it truly stands.
type Row struct {
	Length  float64   // inches
	Tops    []float64 // heights at equal steps from its left end to its right
	Uneven  []float64 // how far each of Tops stands out of the face
	Feet    [2]Spot
	Heads   [2]Spot
	Tall    float64 // the sticks, as read; Beside is how far they stand outside the row
	Beside  float64
	Proud   float64 // as read
	Between float64 // the sticks, as read
}

// Area is that of the face in square inches.
func (r Row) Area() (sum float64) {
	step := r.Length / float64(len(r.Tops)-1)
	for i := range len(r.Tops) - 1 {
		sum += step * (r.Tops[i] + r.Tops[i+1]) / 2
	}
	return sum
}

// Top is a spot of the sky line, so far along the row.
func (r Row) Top(x float64) Spot {
	at := x / r.Length * float64(len(r.Tops)-1)
	i := min(int(at), len(r.Tops)-2)
	part := at - float64(i)
	return Spot{x, r.Tops[i]*(1-part) + r.Tops[i+1]*part, r.Uneven[i]*(1-part) + r.Uneven[i+1]*part}
}

// NewRow is a row of 6 to 14 ft with a wavy top about so many inches high, its sticks
// leaning up to an inch and standing about an inch proud.
func NewRow(random *rand.Rand, high float64) Row {
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	r := Row{Length: between(72, 168), Tall: 60, Beside: 2, Proud: 1}
	const n = 121
	wave, phase, second := between(0.5, 3), between(0, 6.3), between(0, 6.3)
	for i := range n {
		x := float64(i) / (n - 1)
		r.Tops = append(r.Tops, high+wave*math.Sin(6.3*x+phase)+wave/2*math.Sin(15*x+second))
		r.Uneven = append(r.Uneven, between(-0.7, 0.7))
	}
	common := between(-0.5, 0.5)
	for side, x := range []float64{-r.Beside, r.Length + r.Beside} {
		r.Feet[side] = Spot{x + between(-0.25, 0.25), between(-0.25, 0.25), r.Proud + common}
		foot := r.Feet[side]
		r.Heads[side] = Spot{foot.X + between(-1, 1), foot.Y + r.Tall, foot.Z + between(-1, 1)}
	}
	r.Between = r.Length + 2*r.Beside
	return r
}

// Snap is a camera in front of a row at 8 to 15 ft, up to 25 degrees aside, held somewhat
// down, with a lens that bends up to 5 % at the corners; it sees all of the row.
func Snap(random *rand.Rand, r Row) Camera {
	between := func(low, high float64) float64 { return low + (high-low)*random.Float64() }
	distance := between(96, 180)
	aside := between(-25, 25) * math.Pi / 180
	middle := r.Length / 2
	c := Camera{At: Spot{middle + distance*math.Tan(aside), between(50, 68), distance}, Aside: aside, Down: between(5, 12) * math.Pi / 180,
		Width: 4000, Height: 3000, Barrel: -between(0, 0.05), Focal: 3000}
	for range 60 {
		fits := true
		for _, s := range []Spot{r.Feet[0], r.Feet[1], r.Heads[0], r.Heads[1]} {
			x, y := c.See(s)
			fits = fits && x > 60 && x < 3940 && y > 60 && y < 2940
		}
		if fits {
			break
		}
		c.Focal *= 0.96
	}
	return c
}
