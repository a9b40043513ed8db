package draw_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/draw"
)

// The ends of pieces are drawn at the drawing's scale, from one tile however many rows there
// are, so that what a page is sent while somebody types stays small.
func TestEndsOfPiecesAreToScaleAndDrawnOnce(t *testing.T) {
	tally := shortTally()
	for _, width := range []measure.Length{phone, paper} {
		d := draw.Stack(tally, measured(t, tally), width)
		const perSquareFoot = 7 // the middle of 5.5 to 8.5; common practice, no source
		across := (float64(d.Piece) * float64(d.Scale) / 1000) / float64(measure.Foot)
		require.InDelta(t, perSquareFoot, 1/(across*across), 0.1)
		s := svg(t, d)
		require.Equal(t, 1, strings.Count(s, "<pattern "))
		require.Equal(t, 3, strings.Count(s, `data-role="wood"`))
		require.NotContains(t, s, `data-role="hatch"`)
		require.Less(t, len(s), 26_000)
	}
}

// A tile goes on at its edges: whatever leaves it on the right comes in on the left, and
// nothing leaves it above or below.
func TestATileGoesOnAtItsEdges(t *testing.T) {
	for _, piece := range []measure.Length{2_200_000, 3_700_000} {
		tile := draw.WoodTile(piece)
		lines := append(append([][]draw.Point{}, tile.Grain...), tile.Bark...)
		out := 0
		for _, line := range lines {
			low, high := line[0].X, line[0].X
			for _, p := range line {
				low, high = min(low, p.X), max(high, p.X)
				assert.True(t, p.Y >= 0 && p.Y <= tile.Height)
			}
			if high <= tile.Width {
				continue
			}
			out++
			again := make([]draw.Point, len(line))
			for i, p := range line {
				again[i] = draw.Point{X: p.X - tile.Width, Y: p.Y}
			}
			assert.True(t, holds(lines, again), "%v doesn’t come in again", line)
		}
		assert.Positive(t, out)
	}
}

// holds tells whether a line is among others, to the hundredth of a millimetre that they are
// rounded to.
func holds(lines [][]draw.Point, of []draw.Point) bool {
	const near = measure.Millimetre / 50
	for _, line := range lines {
		same := len(line) == len(of)
		for i := 0; same && i < len(of); i++ {
			same = abs(line[i].X-of[i].X) <= near && abs(line[i].Y-of[i].Y) <= near
		}
		if same {
			return true
		}
	}
	return false
}

func abs(l measure.Length) measure.Length { return max(l, -l) }
