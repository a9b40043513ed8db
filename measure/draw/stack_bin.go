package draw

import (
	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// drawBin draws a bin from its side.
func drawBin(s stack.Bin, raised measure.Length, r stack.Result, width measure.Length) Drawing {
	b := body{
		name:  []measure.Text{measure.Say("%s long inside,", s.Box.Length), measure.Say("%s wide", s.Box.Width)},
		row:   stack.Row{Length: s.Box.Length, Heights: s.Box.Heights, Positions: s.Box.Positions},
		walls: true,
	}
	return drawBodies(measure.Say("The bin as measured"),
		measure.Say("The inside of the bin seen from its side, drawn to scale, with each height where it was read."), []body{b}, raised, r, width)
}
