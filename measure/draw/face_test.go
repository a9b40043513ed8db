package draw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/face"
)

// By hand: below 48 in, a face of 96 in whose top falls from 50 to 40 in lacks a triangle
// of 76.8 in and 8 in; a notch 10 in wide that goes 20 in down from there lacks its part.
func TestWhatAFaceLacksIsSolid(t *testing.T) {
	at := func(x, y float64) face.Pixel { return face.Pixel{X: x, Y: y} }
	plain := []face.Pixel{at(0, 0), at(96, 0), at(96, 40), at(0, 50)}
	notched := []face.Pixel{at(0, 0), at(96, 0), at(96, 40), at(50, 40), at(50, 20), at(40, 20), at(40, 40), at(0, 40)}
	for _, row := range []struct {
		outline []face.Pixel
		lacks   float64
	}{{plain, 76.8 * 8 / 2}, {notched, 96*8 + 10*20}} {
		f := face.Face{Area: 1, Outline: row.outline, References: []face.Pixel{at(-2, 0), at(-2, 60), at(98, 0), at(98, 60)}}
		d := draw.Face(&f, 48*measure.Inch, phone)
		require.Positive(t, d.Width)
		lacks, sticks := 0.0, 0
		for _, p := range d.Polygons {
			if p.Role == "missing" {
				lacks += polygonArea(p.Points)
			}
		}
		for _, l := range d.Lines {
			if l.Role == "stick" {
				sticks++
			}
		}
		inch := float64(d.Scale) / 1000 / float64(measure.Inch)
		assert.InDelta(t, row.lacks, lacks*inch*inch, 0.01*row.lacks)
		assert.Equal(t, 2, sticks)
	}
	assert.Zero(t, draw.Face(&face.Face{}, 0, phone).Width)
}

func polygonArea(points []draw.Point) (sum float64) {
	for i, a := range points {
		b := points[(i+1)%len(points)]
		sum += float64(a.X)*float64(b.Y) - float64(b.X)*float64(a.Y)
	}
	return math.Abs(sum) / 2
}
