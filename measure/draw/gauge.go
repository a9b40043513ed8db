package draw

import (
	"wellstowed/measure"
)

// The lanes of a gauge from the top, on paper: what was sold above the stick,
// what was measured below it.
const (
	soldFoot   = margin/2 + typeSize             // baseline of the sold label
	stickTop   = soldFoot + 8*measure.Millimetre // where the sold mark points
	stickFoot  = stickTop + 9*measure.Millimetre // lower edge of the stick
	bandTop    = stickFoot + measure.Millimetre  // upper edge of the band
	bandFoot   = bandTop + 6*measure.Millimetre  // lower edge of the band
	tickFoot   = bandFoot + measure.Millimetre   // above the lanes of the decision ticks
	majorTick  = 2 * measure.Millimetre          // length of a numbered tick
	minorTick  = 1_200_000 * measure.Nanometre   // length of a tick without a number
	pointer    = 4 * measure.Millimetre          // height of the sold mark's head
	spaceBelow = lineHeight + measure.Millimetre // a lane of text
	leastMinor = 1_200_000 * measure.Nanometre   // between ticks
	soldWeight = 3 * 100_000 * measure.Nanometre // half the thickness of the sold mark
)

// Gauge draws what was sold against what was measured on a stick ticked in
// eighths of a cord, or tenths of a cubic metre; finer and coarser where the
// amount asks for it. The sold mark stands at Finding.Due, the band spans the
// measured volume and its expanded uncertainty, one decision tick stands where
// short begins and one up to where full reaches. Their order on the drawing is
// exactly that of the volumes, so the word can be read off it. Across bases the
// expected range is a dashed bracket, with no sold mark and no decision ticks;
// without a finding there are only the stick and the band. A result without wood
// gives a Drawing of no size. It is drawn in a unit of sale: measure.Cord,
// measure.CubicFoot or measure.CubicMetre, and called the cord gauge where it is in
// cords.
func Gauge(r measure.Result, width measure.Length, unit measure.Volume) Drawing {
	if r.Quantity.Volume <= 0 {
		return Drawing{}
	}
	d := Drawing{
		Title:       gaugeTitle(unit),
		Description: measure.Say("A scale with a band for the volume measured and its doubt."),
		Width:       paperWidth(width),
	}
	lo, hi := gaugeRange(r)
	g := newStick(lo, hi, d.Width, unit)
	d.addStick(g)
	d.addMeasured(g, r)
	d.Height = bandFoot + spaceBelow
	switch f := r.Finding; {
	case f == nil:
		d.lift(stickTop - margin/2) // nothing stands above the stick
	case f.Expectation():
		d.addExpected(g, *f)
	default:
		d.Description = measure.Say("A scale with a mark for the amount sold, a band for the volume measured and its doubt, and ticks where short and full begin.")
		d.addDecision(g, *f, r.Quantity.Volume)
	}
	d.writeMeasured(g, r)
	d.Height += margin / 2
	return d
}

func gaugeTitle(unit measure.Volume) measure.Text {
	if unit == measure.Cord {
		return measure.Say("The cord gauge")
	}
	return measure.Say("Sold and measured")
}

// lift moves all that is drawn up.
func (d *Drawing) lift(by measure.Length) {
	for _, p := range d.Polygons {
		for i := range p.Points {
			p.Points[i].Y -= by
		}
	}
	for i := range d.Lines {
		d.Lines[i].A.Y -= by
		d.Lines[i].B.Y -= by
	}
	for i := range d.Labels {
		d.Labels[i].At.Y -= by
	}
	d.Height -= by
}

// gaugeRange is the least range that shows everything.
func gaugeRange(r measure.Result) (lo, hi measure.Volume) {
	v := r.Quantity.Volume
	lo, hi = v-r.Expanded, v+r.Expanded
	f := r.Finding
	switch {
	case f == nil:
	case f.Expectation():
		lo, hi = min(lo, f.ExpectedLow), max(hi, f.ExpectedHigh)
	default:
		lo, hi = min(lo, f.ShortOf(), f.FullBelow), max(hi, f.Due, f.ShortAbove)
	}
	return max(lo, 0), max(hi, 0)
}

// addStick draws the stick: ticks on both edges, numbers between them.
func (d *Drawing) addStick(g stick) {
	d.addArea(rect(margin/2, stickTop, d.Width-margin/2, stickFoot), Outline, "stick")
	for _, t := range g.ticks() {
		x, length := g.at(t.value), minorTick
		if t.name != "" {
			length = majorTick
			d.write(Point{x, (stickTop+stickFoot)/2 + typeSize*35/100}, Middle, measure.Say("%s", t.name), "number")
		}
		d.add(Point{x, stickTop}, Point{x, stickTop + length}, Thin, "tick")
		d.add(Point{x, stickFoot}, Point{x, stickFoot - length}, Thin, "tick")
	}
	d.write(Point{d.Width - margin, (stickTop+stickFoot)/2 + typeSize*35/100}, End, g.unit.text, "unit")
}

func (d *Drawing) addMeasured(g stick, r measure.Result) {
	v := r.Quantity.Volume
	d.addArea(rect(g.at(max(v-r.Expanded, 0)), bandTop, g.at(v+r.Expanded), bandFoot), Band, "band")
	x := g.at(v)
	d.add(Point{x, bandTop}, Point{x, bandFoot}, Outline, "measured")
}

// writeMeasured writes the two lines under the band, both about one place.
func (d *Drawing) writeMeasured(g stick, r measure.Result) {
	amount := measure.Say("measured %s", r.Quantity)
	doubt := measure.Say("give or take %s", r.Expanded)
	half := max(textWidth(amount, typeSize), textWidth(doubt, typeSize)) / 2
	x := min(max(g.at(r.Quantity.Volume), margin/2+half), d.Width-margin/2-half)
	d.write(Point{x, d.Height}, Middle, amount, "measured")
	d.Height += lineHeight
	d.write(Point{x, d.Height}, Middle, doubt, "measured")
}

// addDecision draws the sold mark and the two decision ticks.
func (d *Drawing) addDecision(g stick, f measure.Finding, v measure.Volume) {
	p := g.places(f, v)
	x := p.sold
	d.addArea([]Point{{x - pointer/2, stickTop - pointer}, {x + pointer/2, stickTop - pointer}, {x, stickTop}}, Solid, "sold")
	d.addArea(rect(x-soldWeight, soldFoot+measure.Millimetre, x+soldWeight, stickTop-pointer), Solid, "sold")
	d.add(Point{x, stickFoot}, Point{x, bandFoot}, Dashed, "sold")
	d.write(Point{x, soldFoot}, Middle, soldText(f), "sold").Bold = true

	d.addDecisionTicks(p)
	d.addDrying(g, f)
}

// dryingHeight is how high the band of what drying may take stands over the stick.
const dryingHeight = 3 * measure.Millimetre / 2

// addDrying draws the band from what is due down to what may be left of it once it
// is dry: short is read off its lower end.
func (d *Drawing) addDrying(g stick, f measure.Finding) {
	if f.Drying == nil {
		return
	}
	d.addArea(rect(g.at(f.Drying.DueDry), stickTop-dryingHeight, g.at(f.Due), stickTop), Band, "drying")
	d.Description = measure.Say("A scale with a mark for the amount sold, a band above it for what drying may have taken, a band for the volume measured and its doubt, and ticks where short and full begin.")
}

// addDecisionTicks draws the two ticks down from the stick, each with its words
// on the outer side. Where that side has no room, the words stand on the inner
// side, a lane deeper, so that they pass below the other's.
func (d *Drawing) addDecisionTicks(p gaugePlaces) {
	full := decisionTick{x: p.full, side: End, lane: 1, text: measure.Say("full up to here"), role: "full"}
	short := decisionTick{x: p.short, side: Start, lane: 1, text: measure.Say("short from here"), role: "short"}
	if p.full-full.room() < margin/2 {
		full.side, full.lane = Start, 2
	}
	if p.short+short.room() > d.Width-margin/2 {
		short.side, short.lane = End, 3-full.lane
	}
	d.addDecisionTick(full)
	d.addDecisionTick(short)
	d.Height = tickFoot + max(full.lane, short.lane)*lineHeight + spaceBelow
}

// A decisionTick is a tick and its words, which hang to one side of it.
type decisionTick struct {
	x    measure.Length
	side Anchor
	lane measure.Length // from 1
	text measure.Text
	role string
}

// tickAir is between a decision tick and its words.
const tickAir = measure.Millimetre

func (t decisionTick) room() measure.Length { return textWidth(t.text, typeSize) + tickAir }

func (d *Drawing) addDecisionTick(t decisionTick) {
	foot := tickFoot + t.lane*lineHeight
	d.add(Point{t.x, stickFoot}, Point{t.x, foot}, Outline, t.role)
	at := Point{t.x + tickAir, foot - typeSize/4}
	if t.side == End {
		at.X = t.x - tickAir
	}
	d.write(at, t.side, t.text, t.role)
}

func soldText(f measure.Finding) measure.Text {
	due := measure.Quantity{Volume: f.Due, Basis: f.Sold.Basis}
	if f.Apart.Quantity.Volume > 0 {
		return measure.Say("due here %s", due)
	}
	return measure.Say("sold %s", due)
}

// addExpected draws the range that is expected across bases.
func (d *Drawing) addExpected(g stick, f measure.Finding) {
	lo, hi := g.at(f.ExpectedLow), g.at(f.ExpectedHigh)
	foot := stickTop - measure.Millimetre
	top := soldFoot + 2*measure.Millimetre
	d.add(Point{lo, top}, Point{hi, top}, Dashed, "expected")
	d.add(Point{lo, top}, Point{lo, foot}, Dashed, "expected")
	d.add(Point{hi, top}, Point{hi, foot}, Dashed, "expected")
	d.write(Point{(lo + hi) / 2, soldFoot}, Middle, measure.Say("expected"), "expected").Bold = true
}
