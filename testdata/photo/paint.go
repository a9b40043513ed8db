package photo

import (
	"image"
	"image/color"
	"math"
	"slices"
)

// Paint is what a camera sees of a row: wood, two sticks, ground and sky, flat colours with
// the round ends of pieces.
func Paint(c Camera, r Row) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, c.Width, c.Height))
	wood := []Spot{{X: r.Length}, {}}
	for i := range 60 {
		wood = append(wood, r.Top(r.Length*float64(i)/59))
	}
	horizon := c.Height * 2 / 5
	for y := range c.Height {
		shade := color.RGBA{190, 196, 198, 255}
		if y > horizon {
			shade = color.RGBA{110, 105, 94, 255}
		}
		for x := range c.Width {
			out.SetRGBA(x, y, shade)
		}
	}
	c.fill(out, wood, color.RGBA{178, 140, 96, 255})
	const piece = 5.0
	for row := 0; float64(row)*piece < 60; row++ {
		for x := piece * (0.5 + 0.5*float64(row%2)); x < r.Length; x += piece {
			y := piece * (float64(row) + 0.5)
			if y+piece/2 < r.Top(x).Y {
				c.fill(out, ring(x, y, piece*0.42), color.RGBA{uint8(200 + int(x)%30), 168, 120, 255})
			}
		}
	}
	for side := range r.Feet {
		foot, head := r.Feet[side], r.Heads[side]
		c.fill(out, []Spot{{foot.X - 0.5, foot.Y, foot.Z}, {foot.X + 0.5, foot.Y, foot.Z}, {head.X + 0.5, head.Y, head.Z}, {head.X - 0.5, head.Y, head.Z}}, color.RGBA{236, 230, 220, 255})
	}
	return out
}

// ring is round in the face.
func ring(x, y, radius float64) (spots []Spot) {
	for i := range 12 {
		a := 2 * math.Pi * float64(i) / 12
		spots = append(spots, Spot{X: x + radius*math.Cos(a), Y: y + radius*math.Sin(a)})
	}
	return spots
}

// fill paints what lies within an outline of spots.
func (c Camera) fill(out *image.RGBA, outline []Spot, with color.RGBA) {
	xs, ys := make([]float64, len(outline)), make([]float64, len(outline))
	top, foot := math.Inf(1), math.Inf(-1)
	for i, s := range outline {
		xs[i], ys[i] = c.See(s)
		top, foot = min(top, ys[i]), max(foot, ys[i])
	}
	left, right := max(0, int(slices.Min(xs))), min(c.Width-1, int(slices.Max(xs))+1)
	for y := max(0, int(top)); y <= min(c.Height-1, int(foot)); y++ {
		at := float64(y) + 0.5
		for x := left; x <= right; x++ {
			in := false
			for i := range xs {
				j := (i + 1) % len(xs)
				if (ys[i] > at) != (ys[j] > at) && float64(x)+0.5 < xs[i]+(at-ys[i])/(ys[j]-ys[i])*(xs[j]-xs[i]) {
					in = !in
				}
			}
			if in {
				out.SetRGBA(x, y, with)
			}
		}
	}
}
