package draw

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/wood"
)

// chartHeight is the room for a chart's curves, on paper.
const chartHeight = 22 * measure.Millimetre

// Drying draws how the wood of a forecast dries: moisture on the dry basis over
// months of a year taken together, as a band from the fastest to the slowest course with
// the likely one in it, and the moisture that is aimed at as a dashed line. Wood that
// is there already gives the zero Drawing.
func Drying(f wood.Forecast, width measure.Length) Drawing {
	if f.Latest <= 0 {
		return Drawing{}
	}
	d := Drawing{
		Title: measure.Say("Drying"),
		Description: measure.Say("From %.0f %% to %.0f %% in %d to %d months, likely %d. A plan: then measure.",
			f.From.Dry().Percent(), f.To.Dry().Percent(), wholeMonths(f.Soonest), wholeMonths(f.Latest), wholeMonths(f.Likely)),
		Width: paperWidth(width), Height: margin + typeSize,
	}
	d.write(Point{margin, d.Height}, Start, measure.Say("Moisture, % of the dry weight"), "view")
	c := newDryingChart(f, margin+8*measure.Millimetre, d.Width-margin-2*measure.Millimetre, d.Height+3*measure.Millimetre)
	d.addDryingBand(f, c)
	d.addDryingAxes(f, c)
	d.Height = c.bottom + 2*measure.Millimetre + 2*lineHeight
	d.write(Point{(c.left + c.right) / 2, d.Height}, Middle, measure.Say("months of an average year"), "axis")
	d.Height += margin
	return d
}

// A dryingChart is the frame of the curves.
type dryingChart struct {
	left, right, top, bottom measure.Length
	months, percent          int // at the far ends
}

func newDryingChart(f wood.Forecast, left, right, top measure.Length) dryingChart {
	return dryingChart{left: left, right: right, top: top, bottom: top + chartHeight,
		months: wholeMonths(f.Latest) + 1, percent: int(math.Ceil(f.From.Dry().Percent()/20)) * 20}
}

// wholeMonths rounds up.
func wholeMonths(d wood.Days) int { return int(math.Ceil(d.Months())) }

// at is the place of a moisture after months.
func (c dryingChart) at(months float64, m wood.Moisture) Point {
	return Point{
		X: c.left + measure.Length(months/float64(c.months)*float64(c.right-c.left)),
		Y: c.bottom - measure.Length(m.Dry().Percent()/float64(c.percent)*float64(c.bottom-c.top)),
	}
}

// dryingSteps is how many straight pieces a month of a curve has.
const dryingSteps = 4

func (d *Drawing) addDryingBand(f wood.Forecast, c dryingChart) {
	var below, above []Point
	var last Point
	for i := 0; i <= c.months*dryingSteps; i++ {
		months := float64(i) / dryingSteps
		fast, likely, slow := f.After(wood.Days(math.Round(months * 365.25 / 12)))
		below, above = append(below, c.at(months, fast)), append(above, c.at(months, slow))
		p := c.at(months, likely)
		if i > 0 {
			d.add(last, p, Thin, "likely").Index = i
		}
		last = p
	}
	for i := len(above) - 1; i >= 0; i-- {
		below = append(below, above[i])
	}
	d.addArea(below, Band, "drying")
}

func (d *Drawing) addDryingAxes(f wood.Forecast, c dryingChart) {
	aim := c.at(0, f.To)
	d.add(aim, Point{c.right, aim.Y}, Dashed, "aim")
	d.add(Point{c.left, c.top}, Point{c.left, c.bottom}, Thin, "axis")
	d.add(Point{c.left, c.bottom}, Point{c.right, c.bottom}, Thin, "axis")
	for percent := 0; percent <= c.percent; percent += 20 {
		y := c.bottom - measure.Length(int64(c.bottom-c.top)*int64(percent)/int64(c.percent))
		d.write(Point{c.left - measure.Millimetre, y + typeSize/3}, End, measure.Say("%d", percent), "tick")
	}
	step := 1 + c.months/8
	for month := 0; month <= c.months; month += step {
		x := c.left + measure.Length(int64(c.right-c.left)*int64(month)/int64(c.months))
		d.add(Point{x, c.bottom}, Point{x, c.bottom + measure.Millimetre}, Thin, "tick")
		d.write(Point{x, c.bottom + measure.Millimetre + lineHeight}, Middle, measure.Say("%d", month), "tick")
	}
}
