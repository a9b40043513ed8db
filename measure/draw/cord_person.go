package draw

import "wellstowed/measure"

// CordBesidePerson draws a cord of 16 inch pieces, three rows 8 ft long and 4 ft high, with
// a person beside it. Fronts and person are to one scale; what lies behind is set off
// aslant.
func CordBesidePerson(width measure.Length) Drawing {
	d := Drawing{
		Title: measure.Say("A cord beside a person"),
		Description: measure.Say("Three rows of 16 inch pieces, one behind the other, each 8 feet long and 4 feet high: " +
			"4 feet deep in all. A person 5 feet 8 inches tall beside them, so that the rows reach to the chest."),
		Width: paperWidth(width),
	}
	real := cordLength + cordSlant + 3*measure.Foot
	d.Scale = int64(real) * 1000 / int64(d.Width-2*margin-10*measure.Millimetre)
	w, h, step := scaled(cordLength, d.Scale), scaled(cordHeight, d.Scale), scaled(cordSlant, d.Scale)/2
	left, base := margin+10*measure.Millimetre, margin+max(h+2*step, scaled(personHeight, d.Scale))
	for row := measure.Length(2); row > 0; row-- { // what of each can be seen behind the one before it
		x, y := left+step*row, base-step*row
		d.outlineOf("row", Point{x, y - h + step}, Point{x, y - h}, Point{x + w, y - h}, Point{x + w, y}, Point{x + w - step, y})
	}
	d.addCordFront(left, base, w, h)
	d.addPerson(storagePaper{scale: d.Scale}, d.Width-margin-scaled(measure.Foot, d.Scale), base)
	d.addDown(left-9*measure.Millimetre, base-h, base, measure.Say("4 ft"), "height")
	d.addAcross(left, left+w, base+lineHeight+measure.Millimetre, measure.Say("8 ft"), "length")
	d.Height = base + 2*lineHeight + measure.Millimetre
	d.write(Point{d.Width - margin/2, d.Height}, End, measure.Say("3 rows, 4 ft deep"), "depth")
	d.Height += margin
	return d
}

// addCordFront fills the front row with the ends of its pieces.
func (d *Drawing) addCordFront(left, base, w, h measure.Length) {
	const across, up = 24, 12
	for layer := range measure.Length(up) {
		for i := range measure.Length(across) {
			x, y := left+w*i/across, base-h*(layer+1)/up
			d.addArea(pieceEnd(x, y, w/across, h/up, int(layer*3+i)%4), Light, "piece")
		}
	}
	d.addArea(rect(left, base-h, left+w, base), Outline, "front")
}

// outlineOf draws an open line through points.
func (d *Drawing) outlineOf(role string, points ...Point) {
	for i := 1; i < len(points); i++ {
		d.add(points[i-1], points[i], Outline, role)
	}
}
