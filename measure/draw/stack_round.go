package draw

import (
	"math"

	"wellstowed/measure"
)

// drawRound draws a round stack from its side.
func drawRound(s measure.Round, raised measure.Length, r measure.Result, width measure.Length) Drawing {
	across := meanLength(s.Diameters)
	if s.Circumference > 0 {
		across = measure.Length(math.Round(float64(s.Circumference) / math.Pi))
	}
	b := body{
		name: []measure.Text{measure.Say("%s across", rounded(across))},
		row:  measure.Row{Length: across, Heights: s.Heights},
	}
	if s.Cone > 0 {
		b.above = crownShape{crest: s.Cone, at: crownOutline(measure.Peak), style: Outline}
		b.name = append(b.name, measure.Say("cone %s high", s.Cone))
	}
	return drawBodies(measure.Say("The round stack as measured"),
		measure.Say("The round stack seen from its side, drawn to scale, with the heights of its wall."), []body{b}, raised, r, width)
}
