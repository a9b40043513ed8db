// Package face measures the face of a row from one photo: references whose places in the
// face are known, tapped in the picture, give a homography, and the outline of the wood
// as tapped is mapped by it to the face. It does no input or output and reads no clock.
package face

import (
	"math"
	"slices"
	"strconv"

	"wellstowed/measure"
)

// What a photo may hold.
const (
	MinReferences, MaxReferences = 4, 12
	MinOutline, MaxOutline       = 3, 100
	MaxVoids, MaxVoidPoints      = 30, 30
	MinPixels, MaxPixels         = 200, 40_000 // along a side of the picture
	MaxZoom                      = 32
	MinDistance                  = 3 * measure.Foot
	MaxDistance                  = 100 * measure.Foot
	MaxPlace                     = 300 * measure.Foot // of a reference from the row's left end, either way
	MaxProud                     = 2 * measure.Foot
)

// A Pixel is a place in the picture, x to the right and y down from its upper left corner.
type Pixel struct{ X, Y float64 }

// A Reference is a point of the face that can be seen in the picture, with where it is in
// the face: x along the row from its left end, y up from the underside of the lowest
// pieces. Both may be negative.
type Reference struct {
	Pixel Pixel
	X, Y  measure.Length
}

// Plumb is how the sticks of the references were set upright.
type Plumb string

// The ways of setting them; the zero Plumb is by eye.
const (
	PlumbByEye Plumb = "by eye"
	PlumbLevel Plumb = "level"
)

// A Photo is what was read of a picture, parsed.
type Photo struct {
	Width, Height int // pixels
	References    []Reference
	Outline       []Pixel   // of the wood, round it either way
	Voids         [][]Pixel // outlines of gaps that would take an average piece
	// Proud is how much nearer to the camera than the face the references stand;
	// Distance is from the camera to the face.
	Proud, Distance measure.Length
	Zoom            float64 // that points were tapped at, a ratio of 1 to MaxZoom
	Plumb           Plumb
}

// SquareInches is an area of the face, or a doubt of one.
type SquareInches float64

// A Source is what a part of the doubt comes from.
type Source string

// The parts of a photo's doubt, besides the rounding of the lengths between references.
const (
	Taps  Source = "taps"
	Feet  Source = "feet"  // where a stick's foot stands
	Lean  Source = "lean"  // sticks out of plumb
	Depth Source = "depth" // of the face against the references
	Lens  Source = "lens"
)

// A Part is one part of the doubt, as a standard uncertainty.
type Part struct {
	Source Source
	U      SquareInches
}

// A Face is the face of a row as its photo shows it.
type Face struct {
	Area   SquareInches // voids taken off
	Voids  SquareInches // that were taken off
	Length measure.Length
	Parts  []Part
	// Habit is by how much the area grows for each inch that all lengths between
	// references grow together.
	Habit SquareInches
	// Outline and References are in the face, inches from the row's left end and up from
	// the underside of its lowest pieces, to be drawn.
	Outline, References []Pixel
	Gaps                [][]Pixel
	// FewPoints and OneEnd tell what keeps the photo from carrying an accusation: fewer
	// than FitOutline points, or references that do not reach both ends of the row.
	FewPoints, OneEnd bool
}

// What a photo must have to carry an accusation.
const (
	FitOutline = 8
	fitReach   = 0.1 // of the row's length, the most that it may go on past the references
)

// maxReach is how far an outline may reach past the references, a share of their span.
const maxReach = 0.5

// Measure maps the outline to the face. The error is measure.InputErrors, with fields
// that stand under path.
func Measure(p Photo, path string) (Face, error) {
	errs := p.check(path)
	if len(errs) > 0 {
		return Face{}, errs
	}
	s := p.scene()
	h, fault := s.mapping()
	if fault != nil {
		fault.Field = path + "." + fault.Field
		return Face{}, measure.InputErrors{fault}
	}
	if errs := s.mapped(&h, path); len(errs) > 0 {
		return Face{}, errs
	}
	return s.face(p, &h), nil
}

// A scene is a photo as numbers: pixels and inches.
type scene struct {
	seen, places []point // of the references
	outline      []point // pixels
	voids        [][]point
	grow         float64     // of the area, for references that stand proud
	fixed        *homography // while no reference moves; nil: it is worked out again
}

func (p Photo) scene() scene {
	s := scene{outline: points(p.Outline), grow: 1}
	for _, r := range p.References {
		s.seen = append(s.seen, point(r.Pixel))
		s.places = append(s.places, point{r.X.In(measure.Inch), r.Y.In(measure.Inch)})
	}
	for _, v := range p.Voids {
		s.voids = append(s.voids, points(v))
	}
	d, proud := p.Distance.In(measure.Inch), p.Proud.In(measure.Inch)
	s.grow = d / (d - proud) * d / (d - proud)
	return s
}

func points(pixels []Pixel) []point {
	all := make([]point, len(pixels))
	for i, p := range pixels {
		all[i] = point(p)
	}
	return all
}

// mapping is the homography of the references, or what is wrong with them.
func (s *scene) mapping() (homography, *measure.InputError) {
	bad := func(code string, reason, accepts measure.Text) (homography, *measure.InputError) {
		return homography{}, &measure.InputError{Field: "references", Code: code, Reason: reason, Accepts: accepts}
	}
	if !spread(s.places) || !spread(s.seen) {
		return bad("references-on-a-line", measure.Say("the references lie on a line, or nearly"), measure.Say("four points, such as the feet and tops of two sticks, no three of them on a line"))
	}
	h := through(s.seen, s.places)
	positive, mirrored := 0, 0
	for i, p := range s.seen {
		if _, w := h.apply(p); w > 0 {
			positive++
		}
		for j := range i {
			for k := range j {
				if !lined(s.places[i], s.places[j], s.places[k]) && turn(p, s.seen[j], s.seen[k])*turn(s.places[i], s.places[j], s.places[k]) > 0 {
					mirrored++
				}
			}
		}
	}
	switch {
	case positive != 0 && positive != len(s.seen):
		return bad("references-crossed", measure.Say("the references can’t lie so in a flat face: two of them may be in each other’s place"), measure.Say("each point tapped where it is typed to be"))
	case mirrored > 0:
		return bad("mirrored", measure.Say("left and right are the wrong way round: the picture is mirrored, or references are in each other’s place"), measure.Say("the picture as it was taken, and each point tapped where it is typed to be"))
	}
	return h, nil
}

// mapped checks the outline and the gaps by what they are in the face.
func (s *scene) mapped(h *homography, path string) (errs measure.InputErrors) {
	_, front := h.apply(s.seen[0])
	reach := boxOf(s.places).grown(maxReach)
	whole := s.check(h, front, s.outline, path+".outline", &errs)
	for _, q := range whole {
		if !reach.holds(q) {
			errs.Add(path+".outline", "outside-references", "", measure.Say("the outline reaches more than half a span past the references"), measure.Say("references near both ends of the row and as high as the wood"))
			break
		}
	}
	var gaps [][]point
	for i, v := range s.voids {
		at := path + ".voids[" + strconv.Itoa(i) + "]"
		gap := s.check(h, front, v, at, &errs)
		if gap == nil {
			continue
		}
		if slices.ContainsFunc(gaps, func(other []point) bool { return overlap(gap, other) }) {
			errs.Add(at, "gaps-overlap", "", measure.Say("the gap overlaps another one, and the same room would be taken off twice"), measure.Say("each gap once, apart from the others"))
		}
		gaps = append(gaps, gap)
		if len(whole) > 0 && !within(gap, whole) {
			errs.Add(at, "outside-outline", "", measure.Say("the gap reaches out of the outline of the wood"), measure.Say("a gap within the outline: where that has a dent, the gap ends at it"))
		}
	}
	return errs
}

// check maps an outline to the face; nothing where it has a fault of its own.
func (s *scene) check(h *homography, front float64, outline []point, at string, errs *measure.InputErrors) []point {
	out := make([]point, len(outline))
	for i, p := range outline {
		q, w := h.apply(p)
		if w*front <= 0 {
			errs.Add(at, "past-horizon", "", measure.Say("a point lies past the horizon of the face"), measure.Say("points on the face of the row"))
			return nil
		}
		out[i] = q
	}
	if crosses(out) {
		errs.Add(at, "crosses-itself", "", measure.Say("the outline crosses itself"), measure.Say("points in order, round the wood"))
		return nil
	}
	return out
}

// area is the net area of what was tapped, mapped by the references.
func (s *scene) area() (net, voids float64) {
	h := s.fixed
	if h == nil {
		again := through(s.seen, s.places)
		h = &again
	}
	size := func(outline []point) float64 {
		var sum float64
		last, _ := h.apply(outline[len(outline)-1])
		for _, p := range outline {
			q, _ := h.apply(p)
			sum += last.X*q.Y - q.X*last.Y
			last = q
		}
		return math.Abs(sum) / 2
	}
	for _, v := range s.voids {
		voids += size(v) * s.grow
	}
	return size(s.outline)*s.grow - voids, voids
}

// face puts together what the photo shows.
func (s *scene) face(p Photo, h *homography) Face {
	net, voids := s.area()
	f := Face{Area: SquareInches(net), Voids: SquareInches(voids)}
	scale := math.Sqrt(s.grow)
	f.Outline = flat(s.outline, h)
	for _, v := range s.voids {
		f.Gaps = append(f.Gaps, flat(v, h))
	}
	for _, q := range s.places {
		f.References = append(f.References, Pixel(q))
	}
	wood, sticks := boxOf(points(f.Outline)), boxOf(s.places)
	f.Length = measure.Length(math.Round((wood.right - wood.left) * scale * float64(measure.Inch)))
	over := fitReach * (wood.right - wood.left)
	f.FewPoints = len(p.Outline) < FitOutline
	f.OneEnd = sticks.left > wood.left+over || sticks.right < wood.right-over
	s.doubt(p, &f)
	return f
}

func flat(outline []point, h *homography) []Pixel {
	out := make([]Pixel, len(outline))
	for i, p := range outline {
		q, _ := h.apply(p)
		out[i] = Pixel(q)
	}
	return out
}
