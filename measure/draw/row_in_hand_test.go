package draw_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/stack"
)

// The part that is read has its area to scale, and each place stands in the middle of its
// part of the row.
func TestARowInHandIsDrawnToScaleAsFarAsItIsRead(t *testing.T) {
	row := stack.Row{Length: 8 * measure.Foot, Heights: in(46, 46)}
	d := draw.RowInHand(row, 5, 48*measure.Inch, phone)
	real := func(l measure.Length) float64 { return float64(l) * float64(d.Scale) / 1000 / float64(measure.Inch) }
	var left, base measure.Length
	for _, l := range d.Lines {
		if l.Role == "base" {
			left, base = l.A.X, l.A.Y
			break
		}
	}
	var places, tops int
	for _, l := range d.Lines {
		switch l.Role {
		case "place":
			places++
			assert.InDelta(t, 96*(float64(l.Index)-0.5)/5, real(l.A.X-left), 0.1)
		case "top":
			tops++
			assert.InDelta(t, 46, real(base-l.A.Y), 0.1)
			assert.LessOrEqual(t, real(l.B.X-left), 96*2/5.+0.1, "nothing is drawn where nothing is read")
		}
	}
	assert.Equal(t, 5, places)
	assert.Positive(t, tops)
	var missing float64
	for _, p := range d.Polygons {
		if p.Role == "missing" {
			missing += real(p.Points[1].X-p.Points[0].X) * real(p.Points[0].Y-p.Points[3].Y)
		}
	}
	assert.InDelta(t, 2*96*2/5., missing, 1, "2 in are missing over two fifths of 96 in")
	assert.Zero(t, draw.RowInHand(stack.Row{Heights: in(46)}, 5, 0, phone).Width, "without a length there is nothing to draw to scale")
}
