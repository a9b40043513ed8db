package draw

import "wellstowed/measure"

// The cord as a box, seen from the front with its depth drawn back at 45° and
// half size: a cord is 128 ft³, 4 × 4 × 8 ft (NIST Handbook 130, method of sale,
// section 2.4).
const (
	cordLength = 8 * measure.Foot
	cordHeight = 4 * measure.Foot
	cordSlant  = 431_052_000 * measure.Nanometre // 4 ft × ½ × √½
)

const (
	boxGap      = 4 * measure.Millimetre
	leastBox    = 4 * measure.Millimetre // a box less high is left out
	singleBoxes = 4                      // that many are drawn one by one
)

// addCord redraws a volume as 4 × 4 × 8 ft boxes filled to their level, where
// they fit and can be seen.
func (d *Drawing) addCord(v measure.Volume) {
	across := scaled(cordLength+cordSlant, d.Scale)
	if v <= 0 || d.Width < minWidth || across > d.Width-2*margin || scaled(cordHeight, d.Scale) < leastBox {
		d.Height += margin - rowGap
		return
	}
	full, rest := int(v/measure.Cord), v%measure.Cord
	fills, times := boxFills(full, rest)
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, cordText(v), "cord")
	d.Height += 2 * measure.Millimetre
	d.addBoxes(fills, times, across)
	d.Height += margin
}

func cordText(v measure.Volume) measure.Text {
	if v > measure.Cord {
		return measure.Say("The same wood in 4 × 4 × 8 ft boxes")
	}
	return measure.Say("The same wood in a 4 × 4 × 8 ft box")
}

// boxFills is what each box drawn holds; times is how many full boxes the first
// stands for.
func boxFills(full int, rest measure.Volume) (fills []measure.Volume, times int) {
	single := full
	if rest > 0 {
		single++
	}
	times = 1
	if single > singleBoxes {
		full, times = 1, full
	}
	for range full {
		fills = append(fills, measure.Cord)
	}
	if rest > 0 {
		fills = append(fills, rest)
	}
	return fills, times
}

func (d *Drawing) addBoxes(fills []measure.Volume, times int, across measure.Length) {
	down := scaled(cordHeight+cordSlant, d.Scale)
	x := margin
	d.Height += down
	for i, fill := range fills {
		room := across
		if i == 0 && times > 1 {
			room += measure.Millimetre + textWidth(measure.Say("× %d", times), typeSize)
		}
		if i > 0 && x+room > d.Width-margin {
			x = margin
			d.Height += boxGap + down
		}
		d.addBox(Point{x, d.Height}, fill, i+1)
		if i == 0 && times > 1 {
			d.write(Point{x + across + measure.Millimetre, d.Height}, Start, measure.Say("× %d", times), "times")
		}
		x += room + boxGap
	}
}

// addBox draws one box from its lower left front corner.
func (d *Drawing) addBox(at Point, fill measure.Volume, index int) {
	w, h, s := scaled(cordLength, d.Scale), scaled(cordHeight, d.Scale), scaled(cordSlant, d.Scale)
	level := scaled(measure.Length(fill.In(measure.Cord)*float64(cordHeight)), d.Scale)
	front := d.addArea(rect(at.X, at.Y-level, at.X+w, at.Y), Band, "cord fill")
	front.Index = index
	back := []Point{{at.X, at.Y - level}, {at.X + s, at.Y - level - s}, {at.X + w + s, at.Y - level - s}, {at.X + w, at.Y - level}}
	d.addArea(back, Thin, "cord level").Index = index
	d.addArea(rect(at.X, at.Y-h, at.X+w, at.Y), Outline, "cord box").Index = index
	d.addArea([]Point{{at.X, at.Y - h}, {at.X + s, at.Y - h - s}, {at.X + w + s, at.Y - h - s}, {at.X + w, at.Y - h}}, Outline, "cord box").Index = index
	d.addArea([]Point{{at.X + w, at.Y - h}, {at.X + w + s, at.Y - h - s}, {at.X + w + s, at.Y - s}, {at.X + w, at.Y}}, Outline, "cord box").Index = index
}
