package draw

import "wellstowed/measure"

// Pile is a small picture of wood that lies in one of the ways there are: "rows", "heap",
// "load", "bin", "round" or "packaged"; bare ground for any other. It is not to scale.
func Pile(kind string, width measure.Length) Drawing {
	p := pile{Drawing: Drawing{Title: pileTitle(kind), Description: measure.Say("A picture to compare with, not to scale."),
		Width: paperWidth(width), Height: paperWidth(width) * 6 / 10}}
	switch kind {
	case "rows":
		p.face(8, 20, 92, 90, func(x, y int) bool { return true })
		p.outline(8, 90, 8, 20, 92, 20, 92, 90)
	case "heap":
		p.face(6, 30, 94, 90, func(x, y int) bool { return (x-50)*(x-50)*60 < (y-30)*44*44 })
	case "load":
		p.face(12, 18, 80, 70, func(x, y int) bool { return y > 34 || x > 24 && x < 68 })
		p.outline(10, 34, 10, 70, 82, 70, 82, 34)
		p.rule(82, 64, 97, 64)
		p.wheel(30)
		p.wheel(60)
	case "bin":
		p.face(14, 26, 86, 82, func(x, y int) bool { return true })
		for _, x := range []int{10, 86} {
			p.outline(x, 88, x, 14, x+4, 14, x+4, 88)
		}
		p.rule(8, 82, 92, 82)
	case "round":
		p.face(20, 10, 80, 90, func(x, y int) bool { return y > 40 || (x-50)*(x-50) < (y-10)*30 })
		p.outline(20, 90, 20, 38, 32, 18, 44, 9, 56, 9, 68, 18, 80, 38, 80, 90)
	case "packaged":
		for _, x := range []int{8, 38, 68} {
			p.face(x+2, 38, x+22, 88, func(x, y int) bool { return true })
			p.outline(x, 90, x, 36, x+8, 26, x+4, 16, x+20, 16, x+16, 26, x+24, 36, x+24, 90)
		}
	}
	p.rule(2, 90, 98, 90)
	return p.Drawing
}

func pileTitle(kind string) measure.Text {
	switch kind {
	case "rows":
		return measure.Say("Wood in a row")
	case "heap":
		return measure.Say("Wood in a heap")
	case "load":
		return measure.Say("Wood on a trailer")
	case "bin":
		return measure.Say("Wood in a bin")
	case "round":
		return measure.Say("Wood in a round stack")
	case "packaged":
		return measure.Say("Wood in bags")
	}
	return measure.Say("The ground")
}

// A pile is drawn on a grid of a hundred each way.
type pile struct{ Drawing }

func (p *pile) at(x, y int) Point {
	return Point{p.Width * measure.Length(x) / 100, p.Height * measure.Length(y) / 100}
}

// face fills a part of the picture with the ends of pieces, where they lie.
func (p *pile) face(left, top, right, foot int, lies func(x, y int) bool) {
	const wide, high = 6, 10
	for layer, y := 0, foot-high; y >= top; layer, y = layer+1, y-high {
		for i, x := 0, left; x+wide <= right; i, x = i+1, x+wide {
			if !lies(x+wide/2, y+high/2) {
				continue
			}
			from, to := p.at(x, y), p.at(x+wide, y+high)
			p.addArea(pieceEnd(from.X, from.Y, to.X-from.X, to.Y-from.Y, (layer*3+i)%4), Thin, "piece")
		}
	}
}

// outline draws an open line through places, x and y in turn.
func (p *pile) outline(xy ...int) {
	var points []Point
	for i := 0; i+1 < len(xy); i += 2 {
		points = append(points, p.at(xy[i], xy[i+1]))
	}
	p.outlineOf("edge", points...)
}

func (p *pile) rule(x0, y0, x1, y1 int) { p.add(p.at(x0, y0), p.at(x1, y1), Outline, "edge") }

func (p *pile) wheel(x int) {
	middle := p.at(x, 80)
	p.addArea(circleAt(middle, p.Width/18), Outline, "wheel")
	p.addArea(circleAt(middle, p.Width/60), Solid, "hub")
}
