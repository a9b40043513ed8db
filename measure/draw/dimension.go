package draw

import "wellstowed/measure"

// arrow is the length of an arrowhead, on paper.
const arrow = 2 * measure.Millimetre

// addAcross draws a dimension line from left to right with its text above.
func (d *Drawing) addAcross(x0, x1, y measure.Length, text measure.Text, role string) {
	d.add(Point{x0, y}, Point{x1, y}, Thin, role)
	d.addArea([]Point{{x0, y}, {x0 + arrow, y - arrow/4}, {x0 + arrow, y + arrow/4}}, Solid, role)
	d.addArea([]Point{{x1, y}, {x1 - arrow, y - arrow/4}, {x1 - arrow, y + arrow/4}}, Solid, role)
	d.write(Point{(x0 + x1) / 2, y - measure.Millimetre}, Middle, text, role)
}

// addDown draws a dimension line from top to bottom with its text to the right.
func (d *Drawing) addDown(x, y0, y1 measure.Length, text measure.Text, role string) {
	d.add(Point{x, y0}, Point{x, y1}, Thin, role)
	if y1-y0 > 2*arrow {
		d.addArea([]Point{{x, y0}, {x - arrow/4, y0 + arrow}, {x + arrow/4, y0 + arrow}}, Solid, role)
		d.addArea([]Point{{x, y1}, {x - arrow/4, y1 - arrow}, {x + arrow/4, y1 - arrow}}, Solid, role)
	}
	d.write(Point{x + measure.Millimetre, (y0+y1)/2 + typeSize*35/100}, Start, text, role)
}
