package draw

import (
	"math"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// drawRound draws a round stack from its side.
func drawRound(s stack.Round, raised measure.Length, r stack.Result, width measure.Length) Drawing {
	across := meanLength(s.Diameters)
	if s.Circumference > 0 {
		across = measure.Length(math.Round(float64(s.Circumference) / math.Pi))
	}
	b := body{
		name: []measure.Text{measure.Say("%s across", rounded(across))},
		row:  stack.Row{Length: across, Heights: s.Heights},
	}
	if s.Cone > 0 {
		b.above = crownShape{crest: s.Cone, at: crownOutline(stack.Peak), style: Outline}
		b.name = append(b.name, measure.Say("cone %s high", s.Cone))
	}
	return drawBodies(measure.Say("The round stack as measured"),
		measure.Say("The round stack seen from its side, drawn to scale, with the heights of its wall."), []body{b}, raised, r, width)
}
