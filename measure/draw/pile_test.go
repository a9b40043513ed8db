package draw_test

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
	"wellstowed/measure/draw"
	"wellstowed/measure/forms"
)

// Each way that wood is measured in has a picture of its own, which stays on its paper.
func TestEveryKindHasAPicture(t *testing.T) {
	titles := map[string]bool{}
	for _, f := range forms.All() {
		d := draw.Pile(f.Kind, 60*measure.Millimetre)
		titles[d.Title.String()] = true
		pieces := 0
		for _, p := range d.Polygons {
			if p.Role == "piece" {
				pieces++
			}
			for _, at := range p.Points {
				assert.True(t, at.X >= 0 && at.X <= d.Width && at.Y >= 0 && at.Y <= d.Height, "%s: %v", f.Kind, at)
			}
		}
		assert.Greater(t, pieces, 20, f.Kind)
	}
	assert.Len(t, titles, len(forms.All()))
}

// A cord is 128 ft³ stacked closely, such as 4 × 4 × 8 ft (NIST Handbook 130, Uniform
// Regulation for the Method of Sale of Commodities, section 2.4, from memory); the front is
// drawn twice as long as high, and the person to the same scale.
func TestACordIsDrawnBesideAPerson(t *testing.T) {
	d := draw.CordBesidePerson(90 * measure.Millimetre)
	var w, h, lowest, highest measure.Length
	for _, p := range d.Polygons {
		if p.Role == "front" {
			w, h = p.Points[2].X-p.Points[0].X, p.Points[2].Y-p.Points[0].Y
		}
		for _, at := range p.Points {
			if p.Role == "person" {
				lowest = max(lowest, at.Y)
				if highest == 0 || at.Y < highest {
					highest = at.Y
				}
			}
			assert.True(t, at.X >= 0 && at.X <= d.Width && at.Y >= 0 && at.Y <= d.Height, "%s: %v", p.Role, at)
		}
	}
	for _, l := range d.Lines {
		assert.LessOrEqual(t, max(l.A.X, l.B.X), d.Width, l.Role)
	}
	assert.InDelta(t, 2, float64(w)/float64(h), 0.01)
	assert.InDelta(t, 68.0/48, float64(lowest-highest)/float64(h), 0.02)
}
