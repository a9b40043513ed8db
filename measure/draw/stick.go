package draw

import (
	"fmt"
	"math"
	"strings"

	"wellstowed/measure"
)

// A scaleUnit is what a stick counts in.
type scaleUnit struct {
	text   measure.Text
	volume measure.Volume
	finest int64 // step that is shown, in thousandths of the unit
}

// unitFor is the unit that suits an amount under a unit of sale: cubic metres or cubic
// feet, and below an eighth of a cord, where packages are sold, litres.
func unitFor(v, unit measure.Volume) scaleUnit {
	switch {
	case unit == measure.CubicMetre && v < measure.Cord/8:
		return scaleUnit{measure.Say("litres"), measure.Litre, 100}
	case unit == measure.CubicMetre:
		return scaleUnit{measure.Say("m³"), measure.CubicMetre, 10}
	}
	return scaleUnit{measure.Say("ft³"), measure.CubicFoot, 1}
}

// steps are the distances between ticks that a unit may have, in thousandths, rising.
func (u scaleUnit) steps() []int64 {
	var steps []int64
	for ten := int64(1); ten <= 10_000_000_000; ten *= 10 {
		for _, step := range []int64{ten, 2 * ten, 5 * ten} {
			if step >= u.finest {
				steps = append(steps, step)
			}
		}
	}
	return steps
}

// name writes a tick's number from thousandths: "1.25", "1".
func (u scaleUnit) name(thousandths int64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%d.%03d", thousandths/1000, thousandths%1000), "0"), ".")
}

// value is the volume of so many thousandths.
func (u scaleUnit) value(thousandths int64) measure.Volume {
	return measure.Volume(math.Round(float64(u.volume) / 1000 * float64(thousandths)))
}

// A stick is a scale of volumes laid along the paper.
type stick struct {
	unit   scaleUnit
	step   int64          // between numbers, in thousandths of the unit
	minor  int64          // between ticks
	lo, hi measure.Volume // at x0 and x1
	x0, x1 measure.Length
}

// leastSteps is how many steps a stick shows at least, so that doubt is seen
// against more than one tick.
const leastSteps = 2

// newStick makes a stick that shows the range with air on both sides, its
// numbers as close as they go without touching.
func newStick(lo, hi measure.Volume, width measure.Length, sale measure.Volume) stick {
	unit := unitFor(hi, sale)
	s := stick{unit: unit}
	s.x1 = width - margin - textWidth(measure.Say("cords"), typeSize) - 8*measure.Millimetre
	air := (hi - lo) / 3
	from, to := thousandths(max(lo-air, 0), unit), thousandths(hi+air, unit)+1
	for _, step := range unit.steps() {
		first := from / step * step
		last := max((to+step-1)/step*step, first+leastSteps*step)
		s.step, s.lo, s.hi = step, unit.value(first), unit.value(last)
		s.x0 = max(margin+3*measure.Millimetre, margin/2+textWidth(measure.Say("%s", unit.name(first)), typeSize)/2)
		if s.numbersFit() {
			break
		}
	}
	s.minor = s.minorStep()
	return s
}

// thousandths is how many thousandths of a unit a volume has, rounded down.
func thousandths(v measure.Volume, unit scaleUnit) int64 {
	return int64(math.Floor(float64(v) / float64(unit.volume) * 1000))
}

// inCords is the same stick counted in cords, its numbers as close as they go without
// touching.
func (s stick) inCords() stick {
	c := s
	c.unit = scaleUnit{measure.Say("cords"), measure.Cord, 1}
	for _, step := range c.unit.steps() {
		if c.step = step; c.numbersFit() {
			break
		}
	}
	c.minor = c.minorStep()
	return c
}

// numbersFit tells whether no two numbers touch.
func (s stick) numbersFit() bool {
	if s.between(s.step)*200 < s.x1-s.x0 {
		return false
	}
	for _, v := range s.multiples(s.step) {
		if textWidth(measure.Say("%s", s.unit.name(v)), typeSize)+typeSize/2 > s.between(s.step) {
			return false
		}
	}
	return true
}

// between is the room between two ticks a step apart.
func (s stick) between(step int64) measure.Length {
	return measure.Length(float64(s.unit.value(step)) / float64(s.hi-s.lo) * float64(s.x1-s.x0))
}

// multiples are the multiples of a step that the stick shows.
func (s stick) multiples(step int64) []int64 {
	var all []int64
	n := (thousandths(s.lo, s.unit) + step - 1) / step * step
	for ; s.unit.value(n) <= s.hi; n += step {
		if s.unit.value(n) >= s.lo {
			all = append(all, n)
		}
	}
	return all
}

// minorStep is the finest step that divides the numbers' step and can be told
// apart on paper.
func (s stick) minorStep() int64 {
	for _, step := range s.unit.steps() {
		if s.step%step == 0 && s.between(step) >= leastMinor {
			return step
		}
	}
	return s.step
}

// A tick is a mark of a stick; one without a number has no name.
type tick struct {
	value measure.Volume
	name  string
}

func (s stick) ticks() []tick {
	var ticks []tick
	for _, v := range s.multiples(s.minor) {
		t := tick{value: s.unit.value(v)}
		if v%s.step == 0 {
			t.name = s.unit.name(v)
		}
		ticks = append(ticks, t)
	}
	return ticks
}

// at is the place of a volume, to the nanometre.
func (s stick) at(v measure.Volume) measure.Length {
	part := float64(v-s.lo) / float64(s.hi-s.lo)
	return s.x0 + measure.Length(math.RoundToEven(part*float64(s.x1-s.x0)))
}
