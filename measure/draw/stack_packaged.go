package draw

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// drawPackaged draws the sections of a box, a restacked package or the two ends of
// a bundle.
func drawPackaged(s stack.Packaged, r stack.Result, width measure.Length) Drawing {
	switch s.Method {
	case stack.Boxed:
		return drawSections(s.Sections, r, width)
	case stack.Crosshatched:
		b := body{
			name: []measure.Text{measure.Say("%s long,", rounded(meanLength(s.Lengths))), piecesText(s.Pieces.Sample)},
			row:  stack.Row{Length: meanLength(s.Lengths), Heights: bothSides(s.Heights)},
		}
		return drawBodies(measure.Say("The package as measured"),
			measure.Say("The restacked package seen from the front, drawn to scale, with the means of its heights on both sides."), []body{b}, 0, r, width)
	}
	return drawEnds(s.Ends, width)
}

// piecesText is a line of its own: with the package's length before it, it can be longer
// than a drawing for a phone is wide.
func piecesText(lengths []measure.Length) measure.Text {
	return measure.Say("pieces %s", rounded(meanLength(lengths)))
}

// bothSides takes heights of one side and then the other together.
func bothSides(heights []measure.Length) []measure.Length {
	half := len(heights) / 2
	if len(heights)%2 != 0 || half == 0 {
		return heights
	}
	means := make([]measure.Length, half)
	for i := range means {
		means[i] = (heights[i] + heights[i+half]) / 2
	}
	return means
}

func drawSections(sections []stack.Section, r stack.Result, width measure.Length) Drawing {
	var bodies []body
	for i, s := range sections {
		b := body{
			name:  []measure.Text{measure.Say("Section %d: %s wide,", i+1, rounded(meanLength(s.Widths))), piecesText(s.Pieces)},
			row:   stack.Row{Length: meanLength(s.Widths)},
			walls: true, rim: s.Inside,
		}
		for _, gap := range s.Headspace {
			b.row.Heights = append(b.row.Heights, max(s.Inside-gap, 0))
		}
		bodies = append(bodies, b)
	}
	if len(bodies) == 0 {
		return Drawing{}
	}
	return drawBodies(measure.Say("The package as measured"),
		measure.Say("The inside of the box seen from the front, drawn to scale, with the height of the wood under each headspace."), bodies, 0, r, width)
}

// drawEnds draws both ends of a bundle as circles of the traced areas.
func drawEnds(ends [2]stack.Traced, width measure.Length) Drawing {
	var across [2]measure.Length
	for i, e := range ends {
		across[i] = e.Across()
		if across[i] <= 0 {
			return Drawing{}
		}
	}
	d := Drawing{
		Title:       measure.Say("The bundle as measured"),
		Description: measure.Say("Both ends of the bundle, drawn to scale as circles of the areas that were traced."),
		Width:       width, Height: margin,
		Scale: scaleFor(across[0]+across[1], width-2*margin-boxGap),
	}
	for i, e := range ends {
		d.writeName([]measure.Text{measure.Say("End %d: %.6g squares of %s", i+1, float64(e.Quarters)/4, e.Edge)})
	}
	top, x := d.Height+measure.Millimetre, margin
	for i, a := range across {
		size := scaled(a, d.Scale)
		circle := circleAt(Point{x + size/2, top + size/2}, size/2)
		area := d.addArea(circle, Outline, "end")
		area.Row, area.Index = 1, i+1
		d.addWood(1, circle, nil)
		x += size + boxGap
	}
	d.Height = top + scaled(max(across[0], across[1]), d.Scale) + margin
	return d
}

// circleAt is a circle as a polygon.
func circleAt(middle Point, radius measure.Length) []Point {
	const steps = 72
	points := make([]Point, steps)
	for i := range points {
		turn := 2 * math.Pi * float64(i) / steps
		points[i] = Point{
			middle.X + measure.Length(math.Round(float64(radius)*math.Cos(turn))),
			middle.Y + measure.Length(math.Round(float64(radius)*math.Sin(turn))),
		}
	}
	return points
}
