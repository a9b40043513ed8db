package draw

import (
	"fmt"
	"math"

	"wellstowed/measure"
)

// A gaugeUnit is what a stick counts in.
type gaugeUnit struct {
	text    measure.Text
	volume  measure.Volume
	eighths bool // ticks are eighths below one, numbers fractions
}

// unitFor is the unit that suits an amount: the unit of sale, and below an eighth
// of a cord, where packages are sold, cubic feet or litres.
func unitFor(v, unit measure.Volume) gaugeUnit {
	small := v < measure.Cord/8
	switch {
	case unit == measure.CubicMetre && small:
		return gaugeUnit{text: measure.Say("litres"), volume: measure.Litre}
	case unit == measure.CubicMetre:
		return gaugeUnit{text: measure.Say("m³"), volume: measure.CubicMetre}
	case unit == measure.CubicFoot || small:
		return gaugeUnit{text: measure.Say("cu ft"), volume: measure.CubicFoot}
	}
	return gaugeUnit{text: measure.Say("cords"), volume: measure.Cord, eighths: true}
}

// steps are the distances between ticks that a unit may have, rising.
func (u gaugeUnit) steps() []measure.Volume {
	var steps []measure.Volume
	if u.eighths {
		steps = []measure.Volume{u.volume / 8, u.volume / 4, u.volume / 2}
	} else {
		for _, per := range []measure.Volume{1000, 500, 200, 100, 50, 20, 10, 5, 2} {
			if u.volume != measure.CubicMetre || per <= 10 {
				steps = append(steps, u.volume/per)
			}
		}
	}
	for ten := measure.Volume(1); ten <= 10_000; ten *= 10 {
		steps = append(steps, ten*u.volume, 2*ten*u.volume, 5*ten*u.volume)
	}
	return steps
}

// name writes a tick's number.
func (u gaugeUnit) name(v measure.Volume) string {
	whole, part := v/u.volume, v%u.volume
	switch {
	case part == 0:
		return fmt.Sprint(int64(whole))
	case !u.eighths:
		return trimZeros(fmt.Sprintf("%.3f", v.In(u.volume)))
	}
	over, under := part/(u.volume/8), measure.Volume(8)
	for over%2 == 0 {
		over, under = over/2, under/2
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d", over, under)
	}
	return fmt.Sprintf("%d %d/%d", whole, over, under)
}

func trimZeros(s string) string {
	for s[len(s)-1] == '0' {
		s = s[:len(s)-1]
	}
	return s
}

// A stick is a scale of volumes laid along the paper.
type stick struct {
	unit   gaugeUnit
	step   measure.Volume // between numbers
	minor  measure.Volume // between ticks
	lo, hi measure.Volume // at the first and last tick
	x0, x1 measure.Length // of the first and last tick
}

// leastSteps is how many steps a stick shows at least, so that doubt is seen
// against more than one tick.
const leastSteps = 2

// newStick makes a stick that shows the range with air on both sides, its
// numbers as close as they go without touching.
func newStick(lo, hi measure.Volume, width measure.Length, sale measure.Volume) stick {
	unit := unitFor(hi, sale)
	s := stick{unit: unit, x0: margin + 6*measure.Millimetre}
	s.x1 = width - margin - textWidth(unit.text, typeSize) - 8*measure.Millimetre
	air := (hi - lo) / 3
	from, to := max(lo-air, 0), hi+air
	for _, step := range unit.steps() {
		s.step = step
		s.lo = from / step * step
		s.hi = max((to+step-1)/step*step, s.lo+leastSteps*step)
		if s.numbersFit() {
			break
		}
	}
	s.minor = s.minorStep()
	return s
}

// numbersFit tells whether no two numbers touch.
func (s stick) numbersFit() bool {
	count := (s.hi - s.lo) / s.step
	if count > 200 {
		return false
	}
	room := (s.x1 - s.x0) / measure.Length(count)
	for v := s.lo; v <= s.hi; v += s.step {
		if textWidth(measure.Say("%s", s.unit.name(v)), typeSize)+typeSize/2 > room {
			return false
		}
	}
	return true
}

// minorStep is the finest step that divides the numbers' step and can be told
// apart on paper.
func (s stick) minorStep() measure.Volume {
	for _, step := range s.unit.steps() {
		if s.step%step != 0 {
			continue
		}
		count := measure.Length((s.hi - s.lo) / step)
		if (s.x1-s.x0)/count >= leastMinor {
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
	for v := s.lo; v <= s.hi; v += s.minor {
		t := tick{value: v}
		if (v-s.lo)%s.step == 0 {
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

// A gaugePlaces is where the marks of a finding stand.
type gaugePlaces struct{ full, measured, short, sold measure.Length }

// places puts the marks where their volumes are. Where rounding would bring two
// different volumes together, they are moved apart by a nanometre or two, so that
// the order on paper is exactly that of the volumes.
func (s stick) places(f measure.Finding, v measure.Volume) gaugePlaces {
	p := gaugePlaces{measured: s.at(v), full: s.at(f.FullBelow), short: s.at(f.ShortAbove), sold: s.at(f.Due)}
	if f.FullBelow < v {
		p.full = min(p.full, p.measured-2)
	}
	if f.ShortAbove > v {
		p.short = max(p.short, p.measured+2)
	}
	for _, mark := range []struct {
		volume measure.Volume
		at     measure.Length
	}{{v, p.measured}, {f.FullBelow, p.full}, {f.ShortAbove, p.short}} {
		switch {
		case f.Due == mark.volume:
			p.sold = mark.at
		case f.Due < mark.volume:
			p.sold = min(p.sold, mark.at-1)
		default:
			p.sold = max(p.sold, mark.at+1)
		}
	}
	return p
}
