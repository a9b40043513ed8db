package stack

import (
	"math"

	"wellstowed/measure"
)

// CrownShape is the shape of what stands above the heights of a load.
type CrownShape string

// The shapes of a crown.
const (
	ShapeNotSaid CrownShape = "not said"
	Peak         CrownShape = "peak"
	Ridge        CrownShape = "ridge"
	Rounded      CrownShape = "rounded"
	FlatTopped   CrownShape = "flat-topped"
)

// A Crown is what stands above the heights of a load: its shape and how high its
// crest stands over them, at one place or more. No crest is no crown.
type Crown struct {
	Shape CrownShape
	Crest []measure.Length
}

// factor is the crown's volume as a share of mean crest × length × width, a range:
// practice. The ranges hold the closed forms of the solids of those names.
func (s CrownShape) factor() (low, high float64) {
	switch s {
	case Peak: // pyramid 1/3, hip roof of 8 × 5 ft 0.396
		return 1. / 3, 0.45
	case Ridge: // hip roof twice as long as wide 0.417, prism 1/2
		return 0.40, 0.55
	case Rounded: // dome 4/9, parabola 2/3
		return 0.44, 0.67
	case FlatTopped: // parabola 2/3, half ellipse π/4 = 0.785
		return 0.65, 0.85
	}
	return 1. / 3, 0.85
}

func crownShapes() []string {
	return []string{string(Peak), string(Ridge), string(Rounded), string(FlatTopped), string(ShapeNotSaid)}
}

// Where a crown is read and what a grid in its place would leave: practice.
const (
	crestHalf   = 1.0 // ± inches on the mean crest of fewer than four readings
	gridSpread  = 0.3 // of the crest: a parabola's spread over an even grid
	gridPoints  = 12.0
	gridMinutes = 6
)

// addCrown takes in a crown over a floor of so many square inches.
func (b *budget) addCrown(c *Crown, floor float64) {
	if len(c.Crest) == 0 {
		return
	}
	low, high := c.Shape.factor()
	crest := meanFrom(c.Crest, crestHalf)
	box := (crest.value + b.tally.up(b.division, view{})) * floor
	b.value += (low + high) / 2 * box
	grid := cure{code: gridHeights, u: gridSpread * box / math.Sqrt(gridPoints), degrees: gridPoints - 1, minutes: gridMinutes}
	b.cure(CrownShapes, 0, rectangular((high-low)/2*box), grid)
	b.observe(CrestHeight, crest, (low+high)/2*floor, "", 0)
	b.roundHeights((low+high)/2*floor, crest.spread)
	b.note("The crown (%s) is taken as %.3g to %.3g of its crest over the whole floor, the crest as ± %s where it was read fewer than four times: common practice.",
		measure.Say(string(c.Shape)), low, high, measure.Length(crestHalf*float64(measure.Inch)))
	b.note("What a grid of heights would leave is worked out on a spread of %.3g of the crest: common practice.", gridSpread)
}
