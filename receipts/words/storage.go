//go:build !wasm

package words

import (
	"math"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/storage"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
)

// Pressures words a range of floor pressures in both units, whole psf and tenths
// of a kilopascal: "140 to 180 psf (6.7 to 8.6 kPa)".
func (p *Printer) Pressures(r storage.Range[storage.Pressure]) string {
	psf := func(x storage.Pressure) float64 { return x.In(storage.PoundPerSquareFoot) }
	kpa := func(x storage.Pressure) float64 { return x.In(storage.Kilopascal) }
	return p.say("%s to %s psf (%s to %s kPa)",
		p.decimal(psf(r.Low), 0), p.decimal(psf(r.High), 0), p.decimal(kpa(r.Low), 1), p.decimal(kpa(r.High), 1))
}

// Mass words a weight to about two figures: "1,320 lb", "600 kg".
func (p *Printer) Mass(m wood.Mass) string {
	if p.metric() {
		return p.say("%s kg", p.decimal(roundTo(m.In(wood.Kilogram)), 0))
	}
	return p.say("%s lb", p.decimal(roundTo(m.In(wood.Pound)), 0))
}

// Masses words a range of weights.
func (p *Printer) Masses(r storage.Range[wood.Mass]) string {
	unit, key := wood.Pound, "%s to %s lb"
	if p.metric() {
		unit, key = wood.Kilogram, "%s to %s kg"
	}
	return p.say(key, p.decimal(roundTo(r.Low.In(unit)), 0), p.decimal(roundTo(r.High.In(unit)), 0))
}

// roundTo keeps about three figures of a weight, in whole fives from a hundred on.
func roundTo(x float64) float64 {
	switch {
	case x < 100:
		return math.Round(x)
	case x < 1000:
		return math.Round(x/5) * 5
	}
	return math.Round(x/10) * 10
}

// Heats words a range of heat: "68 to 75 million Btu (72 to 79 GJ)".
func (p *Printer) Heats(r storage.Range[wood.Heat]) string {
	btu := func(h wood.Heat) string { return p.decimal(h.In(wood.MillionBtu), 1) }
	joule := func(h wood.Heat) string { return p.decimal(h.In(wood.Gigajoule), 1) }
	if btu(r.Low) == btu(r.High) {
		return p.say("about %s million Btu (%s GJ)", btu(r.Low), joule(r.Low))
	}
	return p.say("%s to %s million Btu (%s to %s GJ)", btu(r.Low), btu(r.High), joule(r.Low), joule(r.High))
}

// Cordwood words a range of ranked wood: "0.7 to 1.4 cords", "2.6 to 5.1 m³".
func (p *Printer) Cordwood(r storage.Range[measure.Volume]) string {
	unit, key := p.GaugeUnit(), "%s to %s ft³ stacked"
	switch unit {
	case measure.Cord:
		key = "%s to %s cords"
	case measure.CubicMetre:
		key = "%s to %s m³ stacked"
	}
	digits := 1
	if r.Low < unit/2 {
		digits = 2
	}
	low, high := p.decimal(r.Low.In(unit), digits), p.decimal(r.High.In(unit), digits)
	if low != high {
		return p.say(key, low, high)
	}
	return p.say("about %s", p.Quantity(measure.Quantity{Volume: r.Low, Basis: measure.Ranked}))
}

// ranked words a volume of ranked wood.
func (p *Printer) ranked(v measure.Volume) string {
	return p.Quantity(measure.Quantity{Volume: v, Basis: measure.Ranked})
}

// Fits is the answer to whether wood finds room, in a sentence.
func (p *Printer) Fits(a storage.Answer) string {
	switch {
	case a.Fits:
		return p.say("%s finds room here.", p.ranked(a.Request.Volume))
	case len(a.Layouts) == 0:
		return p.say("No row finds room here.")
	}
	return p.say("%s finds room here; %s does not.", p.ranked(a.Capacity), p.ranked(a.Left()))
}

// FitsAll is the answer for several places, in a sentence.
func (p *Printer) FitsAll(all []storage.Answer) string {
	if len(all) == 1 {
		return p.Fits(all[0])
	}
	last := all[len(all)-1]
	if last.Fits {
		return p.say("%s finds room: %s.", p.ranked(all[0].Request.Volume), p.shares(all))
	}
	stowed := all[0].Request.Volume - last.Left()
	if stowed == 0 {
		return p.say("No row finds room here.")
	}
	return p.say("%s finds room: %s; %s does not.", p.ranked(stowed), p.shares(all), p.ranked(last.Left()))
}

// shares say what stands where.
func (p *Printer) shares(all []storage.Answer) string {
	text := ""
	for _, a := range all {
		v := min(a.Capacity, a.Request.Volume)
		if v == 0 {
			continue
		}
		share := p.say("%s %s", p.ranked(v), a.Request.Place.Kind.Name())
		if text != "" {
			share = p.say("%s, %s", text, share)
		}
		text = share
	}
	return text
}

// Weights are what all of the wood weighs, green and dry, in a sentence.
func (p *Printer) Weights(r storage.Request) string {
	green, dry := r.Weights()
	return p.say("It weighs %s green, %s at 20 %% dry basis.", p.Masses(green), p.Masses(dry))
}

// Burns says when wood burns well: by dates where the day it is stacked is said, else
// after so many months.
func (p *Printer) Burns(b storage.Burning) string {
	switch {
	case b.Already():
		return p.say("It burns well as it is, by the figure given: measure to be sure.")
	case b.Stacked.IsZero():
		return p.say("It burns well after %s", p.Drying(b.Forecast))
	}
	return p.say("It burns well from about %s: from %s at the soonest, %s at the latest. A plan: then measure.",
		p.part(b.Ready.Likely), p.part(b.Ready.Soonest), p.part(b.Ready.Latest))
}

// StackBy says by when wood is to be stacked to burn well in the month it is wanted in;
// empty where none is said.
func (p *Printer) StackBy(b storage.Burning) []string {
	if b.Wanted.IsZero() || b.Already() {
		return nil
	}
	lines := []string{p.say("To burn well by %s, stack it by %s; by %s to be sure. Stacked after %s it will not be dry.",
		p.month(act.DateOf(b.Wanted)), p.part(b.StackBy.Likely), p.part(b.StackBy.Soonest), p.part(b.StackBy.Latest))}
	switch {
	case b.TooLate:
		lines = append(lines, p.say("It is too late for that with green wood: get wood that was measured dry."))
	case b.Tight:
		lines = append(lines, p.say("The likely day is past: green wood may still dry in time, and likely will not. Get wood that is part dry already, or measured dry."))
	}
	return lines
}

// part words a third of a month, which is as much as a forecast can tell: "mid-August
// 2027".
func (p *Printer) part(t time.Time) string {
	switch {
	case t.Day() <= 10:
		return p.say("early %s", p.month(act.DateOf(t)))
	case t.Day() <= 20:
		return p.say("mid-%s", p.month(act.DateOf(t)))
	}
	return p.say("late %s", p.month(act.DateOf(t)))
}

// Layout words one way to stow: its rows in a sentence.
func (p *Printer) Layout(l storage.Layout) string {
	switch {
	case l.Across && l.Rows == 1:
		return p.say("One row from front to back, %s long and %s high.", l.RowLength, l.Height)
	case l.Across:
		return p.say("%d rows from front to back, each %s long and %s high.", l.Rows, l.RowLength, l.Height)
	}
	if len(l.Heights) > 0 {
		return p.say("%d rows, each %s long; from the back %s high.", l.Rows, l.RowLength, p.lengths(l.Heights))
	}
	return p.rows(l.Plan)
}

// lengths lists lengths: "3 ft, 3 ft 6 in and 4 ft".
func (p *Printer) lengths(list []measure.Length) string {
	said := make([]string, len(list))
	for i, l := range list {
		said[i] = p.Length(l)
	}
	last := len(said) - 1
	if last == 0 {
		return said[0]
	}
	return p.say("%s and %s", strings.Join(said[:last], ", "), said[last])
}

// LayoutFacts are the room a layout takes, its gaps, reach, drying, weight and
// pressure, one line each.
func (p *Printer) LayoutFacts(l storage.Layout) []string {
	room := []string{
		p.say("Takes %s by %s of floor, with %s at each end for the brace.", l.Width, l.Depth, measure.Length(storage.EndBrace)),
		p.gaps(l),
	}
	return append(room, p.BesideDrawing(l)...)
}

// BesideDrawing are the facts of a layout that its drawing does not show.
func (p *Printer) BesideDrawing(l storage.Layout) []string {
	facts := []string{
		p.reach(l), p.drying(l),
		p.say("Weight: green %s, at 20 %% dry basis %s.", p.Masses(l.GreenMass), p.Masses(l.DryMass)),
		p.say("On the floor under the row: green %s, at 20 %% dry basis %s. That is up to %s times the 40 psf (1.9 kPa) that decks are commonly designed for.",
			p.Pressures(l.Green), p.Pressures(l.Dry), p.decimal(l.Green.High.In(storage.DeckLoad), 1)),
	}
	switch {
	case l.Across:
		facts = append(facts, p.say("Take it from the front ends, top first, so that what is left stays braced."))
	case l.Place.Traits().Behind && l.Rows > 1:
		facts = append(facts, p.say("It can be taken from behind too."))
	}
	return facts
}

func (p *Printer) gaps(l storage.Layout) string {
	switch {
	case l.SideGap > 0:
		return p.say("%s off the ground, %s of air behind, at the sides and between rows.", l.OffGround, l.WallGap)
	case l.WallGap > 0 && l.Rows > 1:
		return p.say("%s off the ground, %s of air behind and %s between rows.", l.OffGround, l.WallGap, l.RowGap)
	case l.WallGap > 0:
		return p.say("%s off the ground, %s of air behind.", l.OffGround, l.WallGap)
	case l.Rows > 1:
		return p.say("%s off the ground, %s of air between rows.", l.OffGround, l.RowGap)
	}
	return p.say("%s off the ground.", l.OffGround)
}

func (p *Printer) reach(l storage.Layout) string {
	under := ""
	if l.Clear > 0 {
		under = " " + p.say("%s of air under the roof.", l.Air)
	}
	if l.Easy {
		return p.say("Top %s up: at or below the shoulder.", l.Top) + under
	}
	return p.say("Top %s up: above the shoulder, hard to stack and to reach.", l.Top) + under
}

func (p *Printer) drying(l storage.Layout) string {
	switch {
	case l.Drying == storage.Open:
		return p.say("One row: air reaches both faces, and it dries best.")
	case l.Drying == storage.Fair && l.Rows == 1:
		return p.say("One row: its front is open, and air hardly reaches its back. It dries more slowly.")
	case l.Drying == storage.Fair:
		return p.say("Two rows: each has one open face.")
	case l.Place.Traits().Airy:
		return p.say("Rows in the middle dry late: put the driest wood there.")
	}
	return p.say("Air hardly reaches this wood: count on the latest date, or dry it elsewhere first.")
}

// Grounds word figures that an answer rests on, and how each is known.
func (p *Printer) Grounds(grounds []storage.Ground) []string {
	lines := make([]string, len(grounds))
	for i, g := range grounds {
		lines[i] = p.say("%s (%s)", g.Text, p.say(string(g.Status)))
		if g.Source != "" {
			lines[i] = p.say("%s (%s: %s)", g.Text, p.say(string(g.Status)), g.Source)
		}
	}
	return lines
}

// GroundsInShort words the figures in one paragraph: those known in one way that
// follow each other are said together.
func (p *Printer) GroundsInShort(grounds []storage.Ground) string {
	var parts []string
	for i := 0; i < len(grounds); i++ {
		together := p.Say(grounds[i].Text)
		for i+1 < len(grounds) && grounds[i+1].Status == grounds[i].Status && grounds[i+1].Source == grounds[i].Source {
			i++
			together += " " + p.Say(grounds[i].Text)
		}
		parts = append(parts, p.Grounds([]storage.Ground{{Text: measure.Say("%s", together), Source: grounds[i].Source, Status: grounds[i].Status}})...)
	}
	return strings.Join(parts, " ")
}

// Thrown says what thrown wood was reckoned at; empty where none was.
func (p *Printer) Thrown(r storage.Request) string {
	if r.Thrown == 0 {
		return ""
	}
	return p.say("%s loose is taken at the most it may make when it is ranked, %s.", r.Thrown, p.ranked(r.Volume))
}

// Trips is the answer to how often a vehicle goes, in a sentence.
func (p *Printer) Trips(t storage.Trips) string {
	if t.Trips == 1 {
		return p.say("One trip.")
	}
	if t.Decides == "weight" {
		return p.say("%d trips: weight decides.", t.Trips)
	}
	return p.say("%d trips: room decides.", t.Trips)
}

// TripFacts are the figures behind the trips, one line each.
func (p *Printer) TripFacts(t storage.Trips) []string {
	facts := []string{
		p.say("A load: %s, taken at %s.", p.ranked(t.Load), p.Mass(t.Heavy)),
		p.say("By weight: %s of wood may be carried, by the %s; that is %s of the heaviest.", p.Mass(t.Carries), p.say(string(t.By)), p.ranked(t.Lifts)),
		p.say("By room: the bed holds %s level with its sides, that is %s.", t.Bed, p.ranked(t.Room)),
		p.say("All of it: %s, from dry and light to green with bark and snow.", p.Masses(t.All)),
	}
	if t.ByVolume != t.ByWeight {
		facts = append(facts, p.say("If only room counted it would be %d, if only weight %d.", t.ByVolume, t.ByWeight))
	}
	return facts
}

// Need is the answer to how much wood a winter takes, in a sentence.
func (p *Printer) Need(n storage.Need) string {
	if n.Winter.Fuel == storage.Fires {
		return p.say("%s for these fires.", upper(p.Cordwood(n.Wood)))
	}
	return p.say("%s for the winter.", upper(p.Cordwood(n.Wood)))
}

func upper(text string) string {
	if text != "" && 'a' <= text[0] && text[0] <= 'z' {
		return string(text[0]-'a'+'A') + text[1:]
	}
	return text
}

// Lines words texts, one line each.
func (p *Printer) Lines(texts []measure.Text) []string { return p.texts(texts) }
