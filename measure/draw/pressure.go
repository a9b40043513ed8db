package draw

import (
	"wellstowed/measure"
	"wellstowed/measure/storage"
)

// barHeight is a bar of a floor pressure, on paper.
const barHeight = 6 * measure.Millimetre

// Pressure draws the pressure under a row, green and dry, each from the least to
// the most, on one scale beside the 40 psf that decks are commonly designed for.
// The axis is in psf, or in kPa where metric. It is no verdict.
func Pressure(l storage.Layout, width measure.Length, metric bool) Drawing {
	a := newPressureAxis(l, metric)
	d := Drawing{
		Title: measure.Say("Pressure on the floor"),
		Description: measure.Say("Under the row, green %d to %d and dry %d to %d %s; decks are commonly designed for %s.",
			a.round(l.Green.Low), a.round(l.Green.High), a.round(l.Dry.Low), a.round(l.Dry.High), a.name(), a.deck()),
		Width: paperWidth(width), Height: margin,
	}
	a.left, a.right = margin+textWidth(measure.Say("20 % dry basis"), typeSize)+2*measure.Millimetre, d.Width-margin-6*measure.Millimetre
	d.Height += typeSize
	d.write(Point{margin, d.Height}, Start, measure.Say("Pressure under the row, %s", a.name()), "view")
	d.Height += 2*measure.Millimetre + lineHeight
	deck := a.at(storage.DeckLoad)
	d.write(Point{deck, d.Height}, Middle, measure.Say("decks: commonly %s", a.deck()), "deck")
	d.Height += measure.Millimetre
	top := d.Height
	d.addBar(a, measure.Say("green"), l.Green, "green")
	d.addBar(a, measure.Say("20 % dry basis"), l.Dry, "dry")
	d.Height += 2 * measure.Millimetre
	d.add(Point{deck, top}, Point{deck, d.Height}, Dashed, "deck")
	d.addPressureAxis(a)
	d.Height += margin
	return d
}

// A pressureAxis is a scale of pressures on paper.
type pressureAxis struct {
	left, right measure.Length
	unit        storage.Pressure
	step, most  int64 // of unit
	metric      bool
}

func newPressureAxis(l storage.Layout, metric bool) pressureAxis {
	a := pressureAxis{unit: storage.PoundPerSquareFoot, step: 40, metric: metric}
	if metric {
		a.unit, a.step = storage.Kilopascal, 2
	}
	highest := max(l.Green.High, l.Dry.High, storage.DeckLoad)
	for a.step*6 < int64(highest/a.unit)+1 {
		a.step *= 2
	}
	a.most = (int64(highest/a.unit)/a.step + 1) * a.step
	return a
}

// at is where a pressure stands on paper.
func (a pressureAxis) at(p storage.Pressure) measure.Length {
	share := p.In(a.unit) / float64(a.most)
	return a.left + measure.Length(share*float64(a.right-a.left))
}

// round is a pressure in whole units of the axis.
func (a pressureAxis) round(p storage.Pressure) int { return int((p + a.unit/2) / a.unit) }

func (a pressureAxis) name() string {
	if a.metric {
		return "kPa"
	}
	return "psf"
}

// deck words what decks are commonly designed for.
func (a pressureAxis) deck() string {
	if a.metric {
		return "1.9 kPa"
	}
	return "40 psf"
}

func (d *Drawing) addBar(a pressureAxis, name measure.Text, r storage.Range[storage.Pressure], role string) {
	d.Height += 2 * measure.Millimetre
	d.write(Point{margin, d.Height + barHeight*7/10}, Start, name, role)
	d.addArea(rect(a.at(r.Low), d.Height, a.at(r.High), d.Height+barHeight), Band, role)
	d.Height += barHeight
}

func (d *Drawing) addPressureAxis(a pressureAxis) {
	y := d.Height
	d.add(Point{a.left, y}, Point{a.right, y}, Thin, "axis")
	for n := int64(0); n <= a.most; n += a.step {
		x := a.at(storage.Pressure(n) * a.unit)
		d.add(Point{x, y}, Point{x, y + 2*measure.Millimetre}, Thin, "tick").Index = int(n) + 1
		d.write(Point{x, y + 2*measure.Millimetre + typeSize}, Middle, measure.Say("%d", int(n)), "tick")
	}
	d.Height = y + 3*measure.Millimetre + typeSize
}
