package draw

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// heapGap is the room that the dimensions beside a heap take, on paper.
const heapGap = 24 * measure.Millimetre

// drawHeap draws a heap from its longer side, as the solid it is taken for.
func drawHeap(s stack.Heap, raised measure.Length, width measure.Length) Drawing {
	long, wide, high := max(s.Length, s.Width), min(s.Length, s.Width), s.Height-raised
	if wide <= 0 || high <= 0 {
		return Drawing{}
	}
	room := width - 2*margin - heapGap
	d := Drawing{
		Title:       measure.Say("The heap as measured"),
		Description: measure.Say("The heap seen from its longer side, drawn to scale as the shape it is taken for."),
		Width:       width, Height: margin,
		Scale: max(scaleFor(long, room), scaleFor(high, room)),
	}
	d.writeName([]measure.Text{measure.Say("%s wide", wide)})
	d.Height += lineHeight
	right, top := margin+scaled(long, d.Scale), d.Height+3*measure.Millimetre
	d.addAcross(margin, right, d.Height, measure.Say("%s", long), "length")
	base := top + scaled(high, d.Scale)
	var outline []Point
	for _, p := range heapOutline(s.Shape, long, wide, high) {
		outline = append(outline, Point{margin + scaled(p.X, d.Scale), base - scaled(p.Y, d.Scale)})
	}
	d.addArea(outline, Outline, "heap").Row = 1
	d.addWood(1, outline, nil)
	d.addDown(right+2*measure.Millimetre, top, base, measure.Say("%s", high), "height")
	d.Height = max(base, top+typeSize) + margin
	return d
}

// heapOutline is the side of the solid in real lengths, y up.
func heapOutline(shape stack.HeapForm, long, wide, high measure.Length) []Point {
	if shape == stack.RidgeHeap {
		return []Point{{0, 0}, {wide / 2, high}, {long - wide/2, high}, {long, 0}}
	}
	var points []Point
	for i := range crownSteps + 1 {
		turn := math.Pi * float64(i) / crownSteps
		points = append(points, Point{
			X: measure.Length(math.Round(float64(long) / 2 * (1 - math.Cos(turn)))),
			Y: measure.Length(math.Round(float64(high) * math.Sin(turn))),
		})
	}
	return points
}
