package draw

import (
	"math"

	"wellstowed/measure"
)

// A MonthBar is what went out in a month, and in the same month a year before.
type MonthBar struct {
	Name      measure.Text
	Now, Last measure.Volume
}

// Months draws wood by month in a unit: a bar for each month, and a thick stroke where the
// same month was a year before. It is the zero Drawing where nothing went out.
func Months(bars []MonthBar, unit measure.Volume, name measure.Text, width measure.Length) Drawing {
	most := measure.Volume(0)
	for _, b := range bars {
		most = max(most, b.Now, b.Last)
	}
	if most <= 0 {
		return Drawing{}
	}
	d := Drawing{
		Title:       measure.Say("Sold by month"),
		Description: measure.Say("A bar for each month, in %s; a stroke is the same month a year before.", name),
		Width:       paperWidth(width), Height: margin + typeSize,
	}
	d.write(Point{margin, d.Height}, Start, name, "view")
	c := d.addMonthChart(most, unit, 6*measure.Millimetre, chartHeight)
	names := make([]measure.Text, len(bars))
	for i, b := range bars {
		names[i] = b.Name
	}
	d.addMonths(c, names, func(i int, x, each measure.Length) { d.addMonth(c, i+1, bars[i], x+each/6, x+each*5/6) })
	return d
}

// A monthChart is the frame of the bars.
type monthChart struct {
	left, right, top, bottom measure.Length
	unit                     measure.Volume
	most, step               float64 // in the unit
}

// addMonthChart draws the scale of bars up to a volume, so far below what is drawn and so
// high.
func (d *Drawing) addMonthChart(most, unit measure.Volume, below, high measure.Length) monthChart {
	step := roundStep(most.In(unit))
	c := monthChart{left: margin + 9*measure.Millimetre, right: d.Width - margin, top: d.Height + below, unit: unit, step: step}
	c.most, c.bottom = step*math.Ceil(most.In(unit)/step), c.top+high
	d.addMonthScale(c)
	return c
}

// addMonths draws each month's bar, told where its share of the chart begins and how wide
// that is, with the month's name below: every second name where they would touch.
func (d *Drawing) addMonths(c monthChart, names []measure.Text, bar func(i int, x, each measure.Length)) {
	each := (c.right - c.left) / measure.Length(len(names))
	every := 1
	for _, name := range names {
		if textWidth(name, typeSize)+measure.Millimetre > each {
			every = 2
		}
	}
	for i, name := range names {
		x := c.left + each*measure.Length(i)
		bar(i, x, each)
		if i%every == 0 {
			d.write(Point{x + each/2, c.bottom + lineHeight}, Middle, name, "month")
		}
	}
	d.Height = c.bottom + lineHeight + margin
}

// at is how high a volume reaches.
func (c monthChart) at(v measure.Volume) measure.Length {
	return c.bottom - measure.Length(v.In(c.unit)/c.most*float64(c.bottom-c.top))
}

// roundStep is a step of 1, 2 or 5 times a power of ten that goes into a figure at most
// four times.
func roundStep(most float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(most)))
	for _, n := range []float64{0.2, 0.5, 1, 2, 5} {
		if most <= 4*n*power {
			return n * power
		}
	}
	return 10 * power
}

func (d *Drawing) addMonthScale(c monthChart) {
	d.add(Point{c.left, c.bottom}, Point{c.right, c.bottom}, Thin, "axis")
	for n := 0.0; n <= c.most+c.step/2; n += c.step {
		y := c.at(measure.Volume(n * float64(c.unit)))
		d.add(Point{c.left, y}, Point{c.left + 2*measure.Millimetre, y}, Thin, "tick")
		d.write(Point{c.left - measure.Millimetre, y + typeSize/3}, End, measure.Say("%s", figure(n)), "tick")
	}
}

// addMonth draws one bar, with its figure above where that has room.
func (d *Drawing) addMonth(c monthChart, index int, b MonthBar, x0, x1 measure.Length) {
	if b.Now > 0 {
		top := c.at(b.Now)
		d.addArea(rect(x0, top, x1, c.bottom), Band, "now").Index = index
		text := measure.Say("%s", figure(b.Now.In(c.unit)))
		if textWidth(text, typeSize) < (x1-x0)*3/2 {
			d.write(Point{(x0 + x1) / 2, top - measure.Millimetre}, Middle, text, "now")
		}
	}
	if b.Last > 0 {
		y := c.at(b.Last)
		d.add(Point{x0 - (x1-x0)/8, y}, Point{x1 + (x1-x0)/8, y}, Outline, "last").Index = index
	}
}

// figure writes a number of at most one decimal.
func figure(n float64) string {
	whole := math.Round(n*10) / 10
	if whole == math.Trunc(whole) {
		return measure.Say("%d", int(whole)).String()
	}
	return measure.Say("%.1f", whole).String()
}
