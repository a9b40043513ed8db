package words

import (
	"math"
	"strconv"

	"golang.org/x/text/number"

	"wellstowed/measure"
)

// decimal writes x with at most digits decimals, trailing zeros dropped.
func (p *Printer) decimal(x float64, digits int) string {
	scale := math.Pow10(digits)
	if math.Round(x*scale) == 0 {
		x = 0 // never "-0"
	}
	return p.text.Sprint(number.Decimal(x, number.MaxFractionDigits(digits)))
}

// Percent words a share: "42.1 %".
func (p *Printer) Percent(share float64) string { return p.say("%.1f %%", share*100) }

// Length words a length to the nearest 1/8 in, in feet from six feet on
// ("48 1/2 in", "8 ft", "8 ft 3 1/2 in"), or in metric to the centimetre from one metre on ("2.44 m")
// and to the millimetre below ("40.6 cm", "6 mm").
func (p *Printer) Length(l measure.Length) string {
	if l < 0 {
		return "-" + p.Length(-max(l, -math.MaxInt64))
	}
	if p.metric() {
		return p.metricLength(l)
	}
	eighths := int64(math.RoundToEven(l.In(measure.Inch) * 8))
	const foot = 12 * 8
	switch {
	case eighths < 6*foot:
		return p.say("%s in", mixed(eighths, 8))
	case eighths%foot == 0:
		return p.say("%d ft", eighths/foot)
	}
	return p.say("%d ft %s in", eighths/foot, mixed(eighths%foot, 8))
}

func (p *Printer) metricLength(l measure.Length) string {
	switch {
	case l >= measure.Metre-measure.Millimetre/2:
		return p.say("%s m", p.decimal(l.In(measure.Metre), 2))
	case l >= 10*measure.Centimetre:
		return p.say("%s cm", p.decimal(math.Round(l.In(measure.Millimetre))/10, 1))
	}
	return p.say("%s mm", p.decimal(l.In(measure.Millimetre), 0))
}

// ForTape is a printer of readings in the units of the tape they were taken with:
// inches where its smallest division is whole 64ths of an inch, else metric.
func (p *Printer) ForTape(division measure.Length) *Printer {
	tape := *p
	tape.units = measure.Metric
	if division%(measure.Inch/64) == 0 {
		tape.units = measure.Imperial
	}
	return &tape
}

// Reading words a length exactly, as a tape shows it: in inches, or in metric in
// centimetres, where it comes out to a 64th or a thousandth of an inch or to a tenth of a millimetre.
func (p *Printer) Reading(l measure.Length) string {
	const sixtyFourth, thousandth, tenth = measure.Inch / 64, measure.Inch / 1000, measure.Millimetre / 10
	switch {
	case p.metric() && l%tenth == 0:
		return p.say("%s cm", p.decimal(l.In(measure.Centimetre), 2))
	case l%sixtyFourth == 0:
		return p.say("%s in", mixed(int64(l/sixtyFourth), 64))
	case !p.metric() && l%thousandth == 0:
		return p.say("%s in", p.decimal(l.In(measure.Inch), 3))
	}
	return l.String()
}

// mixed writes n/parts as a whole number and a fraction in lowest terms with a
// plain slash: "1 1/3".
func mixed(n, parts int64) string {
	whole, rest := n/parts, n%parts
	if rest == 0 {
		return strconv.FormatInt(whole, 10)
	}
	for d := rest; d > 1; d-- {
		if rest%d == 0 && parts%d == 0 {
			rest, parts = rest/d, parts/d
		}
	}
	fraction := strconv.FormatInt(rest, 10) + "/" + strconv.FormatInt(parts, 10)
	if whole == 0 {
		return fraction
	}
	return strconv.FormatInt(whole, 10) + " " + fraction
}

// Volume words a volume in cubic feet or cubic metres, with no more decimals
// than a stack can be measured to: "123.2 ft³", "0.25 ft³", "3.49 m³".
func (p *Printer) Volume(v measure.Volume) string {
	switch {
	case p.InMetres() && p.small:
		return p.say("%s litres", p.bareVolume(v))
	case p.InMetres():
		return p.say("%s m³", p.bareVolume(v))
	}
	return p.say("%s ft³", p.bareVolume(v))
}

func (p *Printer) bareVolume(v measure.Volume) string {
	switch {
	case p.InMetres() && p.small:
		return p.decimal(v.In(measure.Litre), 1)
	case p.InMetres():
		return p.decimal(v.In(measure.CubicMetre), digitsBelow(v, measure.CubicMetre/10, 2))
	}
	return p.decimal(v.In(measure.CubicFoot), digitsBelow(v, measure.CubicFoot, 1))
}

// Column words a volume with two decimals always, to stand in a column.
func (p *Printer) Column(v measure.Volume) string {
	unit, key := measure.CubicFoot, "%.2f ft³"
	if p.InMetres() {
		unit, key = measure.CubicMetre, "%.4f m³"
	}
	return p.say(key, v.In(unit))
}

// digitsBelow is digits, and one more for a volume smaller than edge.
func digitsBelow(v, edge measure.Volume, digits int) int {
	if v < edge && v > -edge {
		return digits + 1
	}
	return digits
}

// Cords words a volume in cords: "0.96 cord", "1.33 cords".
func (p *Printer) Cords(v measure.Volume) string { return p.cords(v, p.bareCords(v, 2)) }

func (p *Printer) bareCords(v measure.Volume, digits int) string {
	return p.decimal(v.In(measure.Cord), digitsBelow(v, measure.Cord/100, digits))
}

// cords puts the unit to a number of cords that is already worded.
func (p *Printer) cords(v measure.Volume, worded string) string {
	if v.In(measure.Cord) < 1.005 {
		return p.say("%s cord", worded)
	}
	return p.say("%s cords", worded)
}

// Quantity words a quantity in units that a sale may be made in, with its basis:
// "1 1/3 cords (171 ft³)", "180 ft³ loose", "4.83 m³ stacked".
func (p *Printer) Quantity(q measure.Quantity) string {
	switch {
	case q.Basis == measure.Loose:
		return p.say("%s loose", q.Volume)
	case q.Basis == measure.Container:
		return p.say("%s in its container", q.Volume)
	case q.Volume < leastInCord && q.Volume > 0:
		small := *p
		small.small = true
		return small.Volume(q.Volume)
	case !p.InCords():
		return p.say("%s stacked", q.Volume)
	}
	n, parts, whole := cordParts(q.Volume)
	if !whole {
		return p.say("%s (%s)", p.Cords(q.Volume), q.Volume)
	}
	feet := p.decimal(q.Volume.In(measure.CubicFoot), 0)
	return p.say("%s (%s)", p.cords(q.Volume, mixed(n, parts)), p.say("%s ft³", feet))
}

// cordParts writes v as n parts of a cord, where halves, thirds, quarters, sixths
// or eighths come out to the nanolitre a part; below two cords also the finer
// parts that rows of common piece lengths make.
func cordParts(v measure.Volume) (n, parts int64, ok bool) {
	all := []int64{1, 2, 3, 4, 6, 8, 9, 12, 16, 24}
	if v > 2*measure.Cord {
		all = all[:6]
	}
	for _, parts := range all {
		part := measure.Cord / measure.Volume(parts)
		n := int64(math.Round(v.In(part)))
		if off := v - measure.Volume(n)*part; n > 0 && off <= measure.Volume(n) && off >= -measure.Volume(n) {
			return n, parts, true
		}
	}
	return 0, 0, false
}

// leastDifference is the least difference of ranked wood that is given in cords: what is
// less would be next to nothing of one, or nothing at all.
const leastDifference = measure.Cord / 200

// amount words a difference on a basis: "0.04 cord (4.8 ft³)", "0.05 ft³", "0.14 m³".
func (p *Printer) amount(v measure.Volume, basis measure.Basis) string {
	if !p.InCords() || basis != measure.Ranked || v < leastDifference && v > -leastDifference {
		return p.Volume(v)
	}
	return p.say("%s (%s)", p.Cords(v), v)
}

// main words an amount on a basis in its main unit alone.
func (p *Printer) main(v measure.Volume, basis measure.Basis) string {
	if !p.InCords() || basis != measure.Ranked || v < leastDifference && v > -leastDifference {
		return p.Volume(v)
	}
	return p.Cords(v)
}

// due words a ranked quantity in its main unit, with its fraction: "1 cord", "2/3 cord",
// "3.6 m³".
func (p *Printer) due(v measure.Volume) string {
	if n, parts, exact := cordParts(v); exact && p.InCords() {
		return p.cords(v, mixed(n, parts))
	}
	return p.main(v, measure.Ranked)
}

// apart words two amounts with enough decimals to tell them from each other, the
// first with its unit.
func (p *Printer) apart(a, b measure.Volume, basis measure.Basis) (first, second string) {
	unit := measure.Cord
	put := func(s string) string { return p.cords(a, s) }
	switch {
	case p.InMetres() && p.small:
		unit, put = measure.Litre, func(s string) string { return p.say("%s litres", s) }
	case p.InMetres():
		unit, put = measure.CubicMetre, func(s string) string { return p.say("%s m³", s) }
	case !p.InCords() || basis != measure.Ranked:
		unit, put = measure.CubicFoot, func(s string) string { return p.say("%s ft³", s) }
	}
	digits := 2
	if unit == measure.CubicFoot || unit == measure.Litre {
		digits = digitsBelow(min(a, b), unit, 1)
	}
	for ; digits < 5 && p.decimal(a.In(unit), digits) == p.decimal(b.In(unit), digits); digits++ {
	}
	return put(p.decimal(a.In(unit), digits)), p.decimal(b.In(unit), digits)
}
