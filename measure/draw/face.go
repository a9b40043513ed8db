package draw

import (
	"cmp"
	"math"
	"slices"

	"wellstowed/measure"
	"wellstowed/measure/face"
)

// Face draws the face of a row as its photo shows it, straightened and to scale: the wood
// within its outline, the references (role "reference") with the sticks they are on, and,
// where due is above 0, the height at which the row would hold what is due: what is missing
// below it is solid, gaps too. width is that of the drawing on paper. A face without an area
// gives a Drawing of no size.
func Face(f *face.Face, due, width measure.Length) Drawing {
	if f.Area <= 0 || width <= 2*margin {
		return Drawing{}
	}
	var p facePaper
	p.within(f, due)
	room := width - 2*margin
	p.scale = max(scaleFor(p.right-p.left, room), scaleFor(p.high-p.low, measure.Length(float64(width)*handHigh)))
	d := Drawing{Title: measure.Say("The face, straightened"), Description: measure.Say("The face of the row as its photo shows it, straightened and drawn to scale."), Width: width, Scale: p.scale}
	p.x = (width - scaled(p.right-p.left, p.scale)) / 2
	p.base = margin + scaled(p.high-p.low, p.scale)
	d.Height = p.base + margin
	wood := p.all(f.Outline)
	if due > 0 {
		for _, gap := range missing(f.Outline, due.In(measure.Inch)) {
			d.addArea(p.all(gap), Solid, "missing")
		}
	}
	var gaps [][]Point
	for _, g := range f.Gaps {
		gap := p.all(g)
		d.addArea(gap, Solid, "gap")
		gaps = append(gaps, gap)
	}
	for i, at := range wood {
		d.add(at, wood[(i+1)%len(wood)], Outline, "outline")
	}
	d.addHatch(0, wood, gaps, rising)
	d.addReferences(p, f.References)
	if due > 0 {
		y := p.at(face.Pixel{Y: due.In(measure.Inch)}).Y
		d.add(Point{margin / 2, y}, Point{width - margin/2, y}, Dashed, "due")
	}
	return d
}

// missing is what an outline lacks below a height, cut upright at each of its points and
// where it crosses that height. Places are inches.
func missing(outline []face.Pixel, due float64) (parts [][]face.Pixel) {
	var xs []float64
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		xs = append(xs, a.X)
		if (a.Y < due) != (b.Y < due) {
			xs = append(xs, a.X+(due-a.Y)/(b.Y-a.Y)*(b.X-a.X))
		}
	}
	slices.Sort(xs)
	for i := 1; i < len(xs); i++ {
		x0, x1 := xs[i-1], xs[i]
		if x1-x0 < 1e-6 {
			continue
		}
		sides := sidesOver(outline, x0, x1)
		for k := 1; k < len(sides); k += 2 { // the wood ends going up, and begins again or doesn't
			above := [2]float64{due, due}
			if k+1 < len(sides) {
				above = sides[k+1]
			}
			if sides[k][0]+sides[k][1] < min(above[0]+above[1], 2*due)-1e-9 {
				parts = append(parts, []face.Pixel{{X: x0, Y: sides[k][0]}, {X: x1, Y: sides[k][1]}, {X: x1, Y: min(above[1], due)}, {X: x0, Y: min(above[0], due)}})
			}
		}
	}
	return parts
}

// sidesOver are the heights at both ends of a stretch of the sides that go over it, from the
// lowest up.
func sidesOver(outline []face.Pixel, x0, x1 float64) (sides [][2]float64) {
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if min(a.X, b.X) > x0+1e-9 || max(a.X, b.X) < x1-1e-9 {
			continue
		}
		at := func(x float64) float64 { return a.Y + (x-a.X)/(b.X-a.X)*(b.Y-a.Y) }
		sides = append(sides, [2]float64{at(x0), at(x1)})
	}
	slices.SortFunc(sides, func(a, b [2]float64) int { return cmp.Compare(a[0]+a[1], b[0]+b[1]) })
	return sides
}

// A facePaper is where a face lies on its drawing: its places are inches along the row and
// up.
type facePaper struct {
	left, right, low, high measure.Length // what is drawn
	scale                  int64
	x, base                measure.Length
}

// within makes room for the wood, the references and the due height.
func (p *facePaper) within(f *face.Face, due measure.Length) {
	inch := func(x float64) measure.Length { return measure.Length(math.Round(x * float64(measure.Inch))) }
	p.left, p.right, p.high = inch(f.Outline[0].X), inch(f.Outline[0].X), due
	for _, q := range append(append([]face.Pixel{}, f.Outline...), f.References...) {
		p.left, p.right = min(p.left, inch(q.X)), max(p.right, inch(q.X))
		p.low, p.high = min(p.low, inch(q.Y)), max(p.high, inch(q.Y))
	}
}

func (p *facePaper) at(q face.Pixel) Point {
	inch := float64(measure.Inch)
	return Point{p.x + scaled(measure.Length(q.X*inch)-p.left, p.scale), p.base - scaled(measure.Length(q.Y*inch)-p.low, p.scale)}
}

func (p *facePaper) all(places []face.Pixel) []Point {
	points := make([]Point, len(places))
	for i, q := range places {
		points[i] = p.at(q)
	}
	return points
}

// addReferences marks each reference with a cross, and draws a line where two stand upright
// above each other.
func (d *Drawing) addReferences(p facePaper, references []face.Pixel) {
	const arm = measure.Millimetre
	for i, q := range references {
		at := p.at(q)
		d.add(Point{at.X - arm, at.Y}, Point{at.X + arm, at.Y}, Outline, "reference").Index = i + 1
		d.add(Point{at.X, at.Y - arm}, Point{at.X, at.Y + arm}, Outline, "reference").Index = i + 1
		for _, other := range references[:i] {
			if other.X == q.X {
				d.add(p.at(other), at, Outline, "stick")
			}
		}
	}
}
