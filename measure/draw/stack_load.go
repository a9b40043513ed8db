package draw

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// drawLoad draws a body from its side; where nothing but its volume up to a line is
// known there is nothing to draw to scale.
func drawLoad(s stack.Load, raised measure.Length, r stack.Result, width measure.Length) Drawing {
	x, wells := s.Box, s.Wells
	name := []measure.Text{measure.Say("%s long, %s wide", x.Length, x.Width)}
	switch {
	case s.Calibrated != nil && s.Calibrated.Box.Length > 0:
		x, wells = s.Calibrated.Box, s.Calibrated.Wells
		name = []measure.Text{measure.Say("%s long, up to its line", x.Length), measure.Say("%s wide", x.Width)}
		raised = 0
	case s.Calibrated != nil:
		return drawLine(s.Calibrated.Volume, width)
	case len(s.Grid) > 0:
		x.Heights = acrossGrid(s.Grid)
		name = append(name, measure.Say("heights are means across the load"))
	}
	b := body{name: name, wells: wells, walls: true,
		row: stack.Row{Length: x.Length, Heights: x.Heights, Positions: x.Positions}}
	if crest := meanLength(s.Crown.Crest); crest > 0 {
		b.above = crownShape{crest: crest, at: crownOutline(s.Crown.Shape), style: Dashed}
		b.name = append(b.name, measure.Say("crown %s higher, shape said", rounded(crest)))
	}
	return drawBodies(measure.Say("The load as measured"),
		measure.Say("The load seen from its side, drawn to scale, with each height where it was read."), []body{b}, raised, r, width)
}

// acrossGrid is the mean height at each place along a grid.
func acrossGrid(grid [][]measure.Length) []measure.Length {
	heights := make([]measure.Length, len(grid[0]))
	for i := range heights {
		var across []measure.Length
		for _, line := range grid {
			if i < len(line) {
				across = append(across, line[i])
			}
		}
		heights[i] = rounded(meanLength(across))
	}
	return heights
}

// drawLine sketches a body of which only the volume up to a line is known; it is
// not to scale.
func drawLine(v measure.Volume, width measure.Length) Drawing {
	if v <= 0 {
		return Drawing{}
	}
	d := Drawing{
		Title:       measure.Say("A bed filled to its line"),
		Description: measure.Say("A sketch of a bed filled to its line, not to scale: its sides are not known."),
		Width:       width, Height: margin,
	}
	d.writeName([]measure.Text{measure.Say("%s up to the line", v), measure.Say("a sketch, not to scale")})
	left, right, top := margin, width-margin, d.Height+2*measure.Millimetre
	bottom := top + (right-left)/4
	fill := rect(left, top+(bottom-top)/4, right, bottom)
	d.addWood(1, fill, nil)
	d.addArea(rect(left, top, right, bottom), Outline, "wall")
	d.add(fill[0], fill[1], Dashed, "line")
	d.Height = bottom + margin
	return d
}
