package face

import (
	"cmp"
	"math"
	"slices"

	"wellstowed/measure"
)

// What is judged of a photo: practice, no source. Lengths are inches, the rest ratios.
const (
	tapShare   = 0.002 // of the photo's longer side, at zoom 1
	tapLeast   = 2.0   // pixels, however far it is zoomed
	footHalf   = 0.25  // where a foot stands, along the row and up
	eyeLean    = 1.0   // of the top of a stick that was set by eye
	levelLean  = 0.25  // of one that was set with a level
	depthHalf  = 0.5   // of the face against the references, and of how proud they stand
	lensHalf   = 0.005 // of the area
	stickApart = 6.0   // references nearer than this along the row are of one stick
)

// Practice says what is judged of a photo, none of it from a published source.
func Practice() measure.Text {
	in := func(x float64) measure.Length { return measure.Length(x * float64(measure.Inch)) }
	return measure.Say("Of a face read from a photo, each tap is taken as %.3g of the picture’s longer side at its own size, where a stick stands as ± %s, its top as ± %s out of plumb, or ± %s where it was set with a level, the depth of the face and of the sticks as ± %s each, and the lens as ± %.3g of the area: common practice.",
		tapShare, in(footHalf), in(eyeLean), in(levelLean), in(depthHalf), lensHalf)
}

// doubt puts in the parts of the doubt, each by first differences of the area.
func (s *scene) doubt(p Photo, f *Face) {
	net := float64(f.Area)
	part := func(source Source, u float64) { f.Parts = append(f.Parts, Part{source, SquareInches(u)}) }
	part(Taps, s.taps(p))
	foot, lean := s.sticks(p.Plumb)
	part(Feet, foot)
	part(Lean, lean)
	d := p.Distance.In(measure.Inch) - p.Proud.In(measure.Inch)
	part(Depth, rectangular(2*depthHalf/d*net)*math.Sqrt2) // the face itself, and Proud as typed
	part(Lens, rectangular(lensHalf)*net)
	f.Habit = SquareInches(s.habit())
}

func rectangular(half float64) float64 { return half / math.Sqrt(3) }

// LevelShare is how much of Lean is left once the sticks are set with a level, a ratio.
const LevelShare = levelLean / eyeLean

// TapU is the standard uncertainty of a tap on either axis, in pixels, and TapUAt the same
// at another zoom.
func (p Photo) TapU() float64 { return p.TapUAt(p.Zoom) }

// TapUAt is TapU for a zoom of 1 or more.
func (p Photo) TapUAt(zoom float64) float64 {
	return max(tapLeast, tapShare*float64(max(p.Width, p.Height))/max(1, zoom))
}

// taps is the doubt of all taps together, each of its own.
func (s *scene) taps(p Photo) float64 {
	u := p.TapU()
	var squares float64
	add := func(points []point) {
		for i := range points {
			for _, axis := range []*float64{&points[i].X, &points[i].Y} {
				d := s.slope(u, axis) * u
				squares += d * d
			}
		}
	}
	add(s.seen)
	h := through(s.seen, s.places)
	s.fixed = &h
	defer func() { s.fixed = nil }()
	add(s.outline)
	for _, v := range s.voids {
		add(v)
	}
	return math.Sqrt(squares)
}

// slope is the derivative of the net area by what to points at, by central differences
// over a step either way.
func (s *scene) slope(step float64, to ...*float64) float64 {
	move := func(by float64) {
		for _, x := range to {
			*x += by
		}
	}
	move(step)
	up, _ := s.area()
	move(-2 * step)
	down, _ := s.area()
	move(step)
	return (up - down) / (2 * step)
}

// sticks is the doubt of the feet and of the tops of the sticks; where no reference is above
// another nothing leans.
func (s *scene) sticks(plumb Plumb) (foot, lean float64) {
	half := eyeLean
	if plumb == PlumbLevel {
		half = levelLean
	}
	var feet, tops float64
	for _, stick := range s.grouped() {
		var xs, ys, top []*float64
		high := 0.0
		for _, i := range stick {
			xs, ys = append(xs, &s.places[i].X), append(ys, &s.places[i].Y)
			high = max(high, s.places[i].Y)
		}
		for _, i := range stick {
			if s.places[i].Y == high && len(stick) > 1 {
				top = append(top, &s.places[i].X)
			}
		}
		along, up := s.slope(footHalf, xs...), s.slope(footHalf, ys...)
		feet += along*along + up*up
		if len(top) > 0 {
			d := s.slope(half, top...)
			tops += d * d
		}
	}
	return rectangular(footHalf) * math.Sqrt(feet), rectangular(half) * math.Sqrt(tops)
}

// grouped are the references by the stick that they are on, each by its index.
func (s *scene) grouped() (sticks [][]int) {
	order := make([]int, len(s.places))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(s.places[a].X, s.places[b].X) })
	for n, i := range order {
		if n == 0 || s.places[i].X-s.places[order[n-1]].X > stickApart {
			sticks = append(sticks, nil)
		}
		last := len(sticks) - 1
		sticks[last] = append(sticks[last], i)
	}
	return sticks
}

// habit is the area's slope by all lengths between references growing together: those
// along the row from the leftmost stick, those up from the lowest reference.
func (s *scene) habit() float64 {
	low := boxOf(s.places)
	var grows []*float64
	for i := range s.places {
		if s.places[i].X > low.left+stickApart {
			grows = append(grows, &s.places[i].X)
		}
		if s.places[i].Y > low.low+stickApart {
			grows = append(grows, &s.places[i].Y)
		}
	}
	return s.slope(0.25, grows...)
}
