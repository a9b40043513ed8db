package draw

import (
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Distances on a gauge, on paper.
const (
	majorTick   = 2 * measure.Millimetre          // length of a numbered tick
	minorTick   = 1_200_000 * measure.Nanometre   // length of a tick without a number
	leastMinor  = 1_200_000 * measure.Nanometre   // between ticks
	pointerSide = 4 * measure.Millimetre          // width and height of the pointer
	whiskerCap  = measure.Millimetre              // half the length of a whisker's end
	labelAir    = measure.Millimetre              // between a mark and its words
	stickPad    = 2 * measure.Millimetre          // above and below the words in the stick
	soldWeight  = 2 * 100_000 * measure.Nanometre // half the thickness of the sold line
	dryingBand  = 3 * measure.Millimetre / 2      // height of what drying may take
)

// Gauge draws what was measured as one pointer, with whiskers for what it may be, over
// a stick in parts that are anchored at what was sold: short, can’t tell yet, no
// shortage found, full. The word is what the pointer stands on: the order of the marks
// on the drawing is exactly that of the volumes, a pointer on an edge stands in short
// or in full. A part that the readings can’t give, whatever they say, is not drawn.
// Where wood sold one way was measured another, the scale is of ranked wood, with what
// was sold and the range that is likely and with no parts: such wood is neither short
// nor full. Nothing but ranked wood is given in cords. Without a finding there are only
// the stick and the pointer; a result without wood gives a Drawing of no size. unit is
// that of the sale: measure.Cord, measure.CubicFoot or measure.CubicMetre.
func Gauge(r stack.Result, width measure.Length, unit measure.Volume) Drawing {
	if r.Quantity.Volume <= 0 {
		return Drawing{}
	}
	g := gaugeFor(r)
	lo, hi := g.span()
	d := Drawing{Title: measure.Say("Sold and measured"), Description: g.description(r), Width: paperWidth(width)}
	scale := newStick(lo, hi, d.Width, unit)
	g.place(scale)
	d.addHeads(g)
	d.addParts(g)
	d.addScale(scale, unit, g.basis)
	d.Height += margin / 2
	return d
}

// A gauge is what stands on one: volumes and where they are on paper.
type gauge struct {
	basis    measure.Basis  // of the scale
	pointer  *mark          // what was measured; nil where only a range is likely
	low, hi  mark           // the ends of the whiskers
	sold     *mark          // nil: nothing was sold, or it is a range
	expected [2]mark        // what was sold, as a range; zero: none
	short    *mark          // where short ends; nil: not drawn
	full     *mark          // where full begins; nil: not drawn
	dry      *mark          // what is left of what was sold once it is dry; nil: no allowance
	parts    bool           // the stick is in parts
	head     []measure.Text // over the pointer or the range, line by line
	soldHead measure.Text
	stickTop measure.Length
	foot     measure.Length // of the stick
}

// A mark is a volume and its place.
type mark struct {
	volume measure.Volume
	x      measure.Length
}

func gaugeFor(r stack.Result) *gauge {
	v, f := r.Quantity.Volume, r.Finding
	g := &gauge{basis: r.Quantity.Basis, pointer: &mark{volume: v}, low: mark{volume: max(v-r.Expanded, 0)}, hi: mark{volume: v + r.Expanded},
		head: []measure.Text{measure.Say("%s here, ± %s", v, r.Expanded)}}
	switch {
	case f == nil:
	case !f.Expectation():
		g.decided(f, v)
	case r.Expected != nil && f.Sold.Basis == measure.Ranked:
		g.onceRanked(r)
	case f.Sold.Basis != r.Quantity.Basis:
		g.expected = [2]mark{{volume: f.ExpectedLow}, {volume: f.ExpectedHigh}}
		g.soldHead = measure.Say("sold %s loose, likely", f.Sold.Volume)
	default:
		g.sold, g.soldHead = &mark{volume: f.Due}, soldText(*f)
	}
	return g
}

// decided puts up the parts of the stick.
func (g *gauge) decided(f *stack.Finding, v measure.Volume) {
	g.parts, g.sold, g.soldHead = true, &mark{volume: f.Due}, soldText(*f)
	if edge := f.ShortOf() - (f.ShortAbove - v); edge > 0 && (f.ShortOf() < f.ShortAbove || f.Word == stack.Short) {
		g.short = &mark{volume: edge}
	}
	if f.Due > f.FullBelow || f.Word == stack.Full {
		g.full = &mark{volume: f.Due + (v - f.FullBelow)}
	}
	if f.Drying != nil {
		g.dry = &mark{volume: f.Drying.DueDry}
	}
}

// onceRanked is the gauge of wood that is likely to come to a range once it is ranked.
func (g *gauge) onceRanked(r stack.Result) {
	g.basis, g.pointer = measure.Ranked, nil
	g.low, g.hi = mark{volume: r.Expected.Low}, mark{volume: r.Expected.High}
	g.sold, g.soldHead = &mark{volume: r.Finding.Due}, soldText(*r.Finding)
	g.head = []measure.Text{measure.Say("once stacked, likely"), measure.Say("%s to %s", r.Expected.Low, r.Expected.High)}
}

func soldText(f stack.Finding) measure.Text {
	switch {
	case f.Apart.Quantity.Volume > 0:
		return measure.Say("due here %s", f.Due)
	case f.Sold.Basis == measure.Loose:
		return measure.Say("sold %s loose", f.Due)
	}
	return measure.Say("sold %s", f.Due)
}

// description says what the picture shows, with its figures.
func (g *gauge) description(r stack.Result) measure.Text {
	f, v := r.Finding, r.Quantity.Volume
	if f == nil {
		return measure.Say("A scale: %s is here, give or take %s.", v, r.Expanded)
	}
	sold := measure.Quantity{Volume: f.Due, Basis: f.Sold.Basis}
	switch {
	case g.pointer == nil:
		return measure.Say("A scale of wood once it is stacked: likely %s to %s, and %s was sold.", r.Expected.Low, r.Expected.High, sold)
	case !g.parts:
		return measure.Say("A scale: %s is here, give or take %s, and %s was sold.", v, r.Expanded, sold)
	}
	return measure.Say("A scale: %s is here, give or take %s, of %s due. The pointer stands in the part named %s.", v, r.Expanded, sold, partName(f.Word))
}

// span is the least range that shows everything.
func (g *gauge) span() (lo, hi measure.Volume) {
	lo, hi = g.low.volume, g.hi.volume
	for _, m := range g.marks() {
		lo, hi = min(lo, m.volume), max(hi, m.volume)
	}
	return max(lo, 0), max(hi, 0)
}

// marks are all that are drawn.
func (g *gauge) marks() []*mark {
	all := []*mark{&g.low, &g.hi}
	for _, m := range []*mark{g.pointer, g.sold, g.short, g.full, g.dry} {
		if m != nil {
			all = append(all, m)
		}
	}
	if g.expected[1].volume > 0 {
		all = append(all, &g.expected[0], &g.expected[1])
	}
	return all
}

// place puts the marks where their volumes are. Where rounding would bring the pointer
// together with another volume, they are moved apart by a nanometre, so that the order
// on paper is exactly that of the volumes.
func (g *gauge) place(s stick) {
	for _, m := range g.marks() {
		m.x = s.at(m.volume)
	}
	if !g.parts {
		return
	}
	p := g.pointer
	for _, edge := range []*mark{g.short, g.sold, g.full} {
		switch {
		case edge == nil || edge.volume == p.volume:
		case edge.volume < p.volume:
			edge.x = min(edge.x, p.x-1)
		default:
			edge.x = max(edge.x, p.x+1)
		}
	}
}

// addHeads writes what the pointer and the sold line stand for, in one lane where they
// fit, and draws the whiskers.
func (d *Drawing) addHeads(g *gauge) {
	over := (g.low.x + g.hi.x) / 2
	if g.pointer != nil {
		over = g.pointer.x
	}
	d.Height = margin/2 + typeSize - lineHeight
	x0, x1 := d.Width, measure.Length(0)
	for _, line := range g.head {
		d.Height += lineHeight
		label := d.write(Point{over, d.Height}, Middle, line, "measured")
		label.Bold = true
		half := textWidth(line, typeSize)/2 + 2*labelAir
		x0, x1 = min(x0, label.At.X-half), max(x1, label.At.X+half)
	}
	lane := d.Height
	if g.soldHead.Key != "" && !g.besideHead(x0, x1, d.Width) {
		lane += lineHeight
	}
	d.Height = lane + whiskerCap + labelAir
	if g.sold == nil && g.soldHead.Key != "" {
		d.Height += labelAir // a range stands over them
	}
	whisker := d.Height
	g.stickTop = whisker + pointerSide
	d.addWhiskers(g, whisker)
	d.addSold(g, lane)
	d.Height = g.stickTop
}

// besideHead tells whether the words of what was sold fit beside those over the
// pointer, from x0 to x1.
func (g *gauge) besideHead(x0, x1, width measure.Length) bool {
	at, room := g.soldAt(), textWidth(g.soldHead, typeSize)+2*labelAir
	if g.sold == nil { // its words stand over the middle of a range
		return at-room/2 > x1 && at+room/2 < width-margin/2 || at+room/2 < x0 && at-room/2 > margin/2
	}
	return at > x1 && at+room < width-margin/2
}

// soldAt is where what was sold stands.
func (g *gauge) soldAt() measure.Length {
	if g.sold != nil {
		return g.sold.x
	}
	return (g.expected[0].x + g.expected[1].x) / 2
}

// addWhiskers draws what was measured: the pointer, and how far it may be off.
func (d *Drawing) addWhiskers(g *gauge, y measure.Length) {
	role := "whisker"
	if g.pointer == nil {
		role = "likely"
	}
	d.add(Point{g.low.x, y}, Point{g.hi.x, y}, Outline, role)
	for _, end := range []mark{g.low, g.hi} {
		d.add(Point{end.x, y - whiskerCap}, Point{end.x, y + whiskerCap}, Outline, role)
	}
	if g.pointer != nil {
		x := g.pointer.x
		d.addArea([]Point{{x - pointerSide/2, y}, {x + pointerSide/2, y}, {x, g.stickTop}}, Solid, "pointer")
	}
}

// addSold draws what was sold: a line through the whole height, or a dashed range.
func (d *Drawing) addSold(g *gauge, lane measure.Length) {
	top := lane - typeSize*4/5
	switch {
	case g.sold != nil:
		x := g.sold.x
		foot := g.stickTop + d.stickHeight(g)
		d.addArea(rect(x-soldWeight, top, x+soldWeight, foot+majorTick), Solid, "sold")
		d.add(Point{x, g.stickTop}, Point{x, foot}, Thin, "sold")
		at, side := Point{x + labelAir, lane}, Start
		if x+textWidth(g.soldHead, typeSize)+labelAir > d.Width-margin/2 {
			at.X, side = x-labelAir, End
		}
		d.write(at, side, g.soldHead, "sold")
	case g.expected[1].volume > 0:
		lo, hi := g.expected[0].x, g.expected[1].x
		y := lane + labelAir
		d.add(Point{lo, y}, Point{hi, y}, Dashed, "expected")
		d.add(Point{lo, y}, Point{lo, g.stickTop}, Dashed, "expected")
		d.add(Point{hi, y}, Point{hi, g.stickTop}, Dashed, "expected")
		d.write(Point{(lo + hi) / 2, lane}, Middle, g.soldHead, "expected")
	}
}

// A part is one of the four of a stick.
type part struct {
	word     stack.Word
	from, to measure.Length
	lines    []string // its name as it is written inside; none: it is written below
}

// partName is a part's name, the key of its text.
func partName(w stack.Word) measure.Text {
	switch w {
	case stack.Short:
		return measure.Say("SHORT")
	case stack.Unresolved:
		return measure.Say("can’t tell yet")
	case stack.NoShortage:
		return measure.Say("no shortage found")
	}
	return measure.Say("FULL")
}

func (p part) bold() bool { return p.word == stack.Short || p.word == stack.Full }

// partsOf are the parts of a stick from left to right.
func (d *Drawing) partsOf(g *gauge) []part {
	if !g.parts {
		return nil
	}
	left, right := margin/2, d.Width-margin/2
	var parts []part
	from := left
	add := func(w stack.Word, to measure.Length) {
		if to > from {
			parts = append(parts, part{word: w, from: from, to: to})
		}
		from = max(from, to)
	}
	if g.short != nil {
		add(stack.Short, g.short.x)
	}
	add(stack.Unresolved, g.sold.x)
	if g.full != nil {
		add(stack.NoShortage, g.full.x)
		add(stack.Full, right)
	} else {
		add(stack.NoShortage, right)
	}
	for i := range parts {
		parts[i].fold()
	}
	return parts
}

// fold breaks a part's name into lines that fit inside it.
func (p *part) fold() {
	room := p.to - p.from - 2*labelAir
	name := partName(p.word).Key
	if p.width(name) <= room {
		p.lines = []string{name}
		return
	}
	words := strings.Fields(name)
	for _, w := range words {
		if p.width(w) > room {
			return
		}
	}
	p.lines = words
}

// width is the room for a name; capitals in bold are wide.
func (p part) width(text string) measure.Length {
	w := textWidth(measure.Say("%s", text), typeSize)
	if p.bold() {
		w = w * 13 / 10
	}
	return w
}

// stickHeight is as high as the names in the stick need.
func (d *Drawing) stickHeight(g *gauge) measure.Length {
	lines := 1
	for _, p := range d.partsOf(g) {
		lines = max(lines, len(p.lines))
	}
	return measure.Length(lines)*lineHeight + 2*stickPad
}

// addParts draws the stick and the names of its parts; names that don’t fit inside
// hang below.
func (d *Drawing) addParts(g *gauge) {
	top := d.Height
	g.foot = top + d.stickHeight(g)
	d.addArea(rect(margin/2, top, d.Width-margin/2, g.foot), Outline, "stick")
	if g.pointer == nil {
		d.addArea(rect(g.low.x, top, g.hi.x, g.foot), Band, "likely")
	}
	if g.dry != nil {
		d.addArea(rect(g.dry.x, top-dryingBand, g.sold.x, top), Band, "drying")
	}
	parts := d.partsOf(g)
	for _, p := range parts {
		d.addPart(p, top, g.foot)
	}
	if g.short != nil {
		d.add(Point{g.short.x, top}, Point{g.short.x, g.foot}, Outline, "short")
	}
	if g.full != nil {
		d.add(Point{g.full.x, top}, Point{g.full.x, g.foot}, Outline, "full")
	}
	d.Height = g.foot
	d.addNamesBelow(parts)
}

// addPart writes the name of a part inside it; short is hatched around its name.
func (d *Drawing) addPart(p part, top, foot measure.Length) {
	middle := (p.from + p.to) / 2
	var names [][]Point
	y := (top+foot)/2 - measure.Length(len(p.lines))*lineHeight/2 + typeSize
	for _, line := range p.lines {
		label := d.write(Point{middle, y}, Middle, measure.Say(line), string(p.word))
		label.Bold = p.bold()
		half := p.width(line)/2 + labelAir
		names = append(names, rect(middle-half, y-typeSize, middle+half, y+typeSize/3))
		y += lineHeight
	}
	if p.word != stack.Short {
		return
	}
	area := rect(p.from, top, p.to, foot)
	d.addArea(area, Thin, "short")
	for _, line := range hatch(area, names, rising) {
		line.Style = Thin
		d.Lines = append(d.Lines, line)
	}
}

// addNamesBelow hangs the names that don’t fit inside under their parts, each in a lane
// of its own, to the side on which no other name’s thread passes.
func (d *Drawing) addNamesBelow(parts []part) {
	var below []part
	for _, p := range parts {
		if len(p.lines) == 0 {
			below = append(below, p)
		}
	}
	if len(below) == 0 {
		return
	}
	side, lane := Start, len(below)
	for _, p := range below {
		if (p.from+p.to)/2+labelAir+p.width(partName(p.word).Key) > d.Width-margin/2 {
			side, lane = End, 1
		}
	}
	for _, p := range below {
		x, y := (p.from+p.to)/2, d.Height+measure.Length(lane)*lineHeight
		d.add(Point{x, d.Height}, Point{x, y}, Thin, "thread")
		at := Point{x + labelAir, y}
		if side == End {
			at.X = x - labelAir
		}
		d.write(at, side, partName(p.word), string(p.word)).Bold = p.bold()
		if side == End {
			lane++
		} else {
			lane--
		}
	}
	d.Height += measure.Length(len(below))*lineHeight + labelAir
}

// addScale draws the scale under the stick: in cubic feet or metres, and where the sale
// is in cords, of ranked wood, a second row of ticks in cords.
func (d *Drawing) addScale(s stick, unit measure.Volume, basis measure.Basis) {
	d.addTicks(s)
	if unit != measure.Cord || basis != measure.Ranked || s.unit.volume != measure.CubicFoot || s.hi < measure.Cord/8 {
		return
	}
	d.Height += labelAir
	d.addTicks(s.inCords())
}

// addTicks draws a line with ticks below it and their numbers.
func (d *Drawing) addTicks(s stick) {
	y := d.Height
	d.add(Point{s.x0, y}, Point{s.x1, y}, Thin, "scale")
	d.Height += majorTick + typeSize
	for _, t := range s.ticks() {
		x, length := s.at(t.value), minorTick
		if t.name != "" {
			length = majorTick
			d.write(Point{x, d.Height}, Middle, measure.Say("%s", t.name), "number")
		}
		d.add(Point{x, y}, Point{x, y + length}, Thin, "tick")
	}
	d.write(Point{d.Width - margin/2, d.Height}, End, s.unit.text, "unit")
	d.Height += typeSize / 3
}
