package draw

import "wellstowed/measure"

// A StockBar is the wood that is there at the end of a month once what is due by then is
// delivered.
type StockBar struct {
	Name                 measure.Text
	Promised, Dry, Green measure.Volume // for later; free and dry; free and not dry yet
}

// Stock draws wood by month in a unit, the promised part hatched, what is free and dry
// open, and what isn't dry yet grey, with a key. It is the zero Drawing where there is
// none.
func Stock(bars []StockBar, unit measure.Volume, name measure.Text, width measure.Length) Drawing {
	most := measure.Volume(0)
	for _, b := range bars {
		most = max(most, b.Promised+b.Dry+b.Green)
	}
	if most <= 0 {
		return Drawing{}
	}
	d := Drawing{
		Title:       measure.Say("Wood by month"),
		Description: measure.Say("A bar for the end of each month, in %s: what is promised for later, what is free and dry, what is free and not dry yet.", name),
		Width:       paperWidth(width), Height: margin + typeSize,
	}
	d.write(Point{margin, d.Height}, Start, name, "view")
	d.addStockKey()
	c := d.addMonthChart(most, unit, 3*measure.Millimetre, chartHeight*3/2)
	names := make([]measure.Text, len(bars))
	for i, b := range bars {
		names[i] = b.Name
	}
	d.addMonths(c, names, func(i int, x, each measure.Length) { d.addStock(c, i+1, bars[i], x+each/8, x+each*7/8) })
	return d
}

// stockParts are the parts of a bar from its foot, with their names.
func stockParts(b StockBar) []stockPart {
	return []stockPart{
		{"promised", b.Promised, measure.Say("promised for later")}, {"dry", b.Dry, measure.Say("free, dry")}, {"green", b.Green, measure.Say("free, not dry yet")},
	}
}

type stockPart struct {
	role string
	wood measure.Volume
	name measure.Text
}

func (d *Drawing) addStock(c monthChart, index int, b StockBar, x0, x1 measure.Length) {
	below := measure.Volume(0)
	for _, p := range stockParts(b) {
		if p.wood > 0 {
			d.addStockPart(rect(x0, c.at(below+p.wood), x1, c.at(below)), p.role).Index = index
		}
		below += p.wood
	}
}

// addStockPart draws an area as its part of a bar is drawn.
func (d *Drawing) addStockPart(area []Point, role string) *Polygon {
	style := Empty
	if role == "green" {
		style = Band
	}
	if role == "promised" {
		d.Lines = append(d.Lines, hatch(area, nil, rising)...)
	}
	return d.addArea(area, style, role)
}

// addStockKey says how each part is drawn, a line each.
func (d *Drawing) addStockKey() {
	for _, p := range stockParts(StockBar{}) {
		d.Height += lineHeight
		const box = 6 * measure.Millimetre
		d.addStockPart(rect(margin, d.Height-typeSize, margin+box, d.Height), p.role)
		d.write(Point{margin + box + 2*measure.Millimetre, d.Height}, Start, p.name, "key")
	}
}
