package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

func TestPiecesJudge(t *testing.T) {
	inf, root3 := math.Inf(1), math.Sqrt(3)
	for _, c := range []struct {
		name             string
		pieces           Pieces
		mean, u, degrees float64
		source           Source
	}{
		{"one piece", Pieces{Sample: in(16)}, 16, 2.5 / root3, inf, PieceSpread},
		{"three within 2 in", Pieces{Sample: in(16, 15, 17)}, 16, 2 / root3, inf, PieceSpread},
		{"three over 6 in", Pieces{Sample: in(12, 15, 18)}, 15, 6 / root3, inf, PieceSpread},
		{"four, by their spread", Pieces{Sample: in(15, 17, 15, 17)}, 16, math.Sqrt(4./3) / 2, 3, PieceSpread},
		{"nominal", Pieces{Nominal: 16 * measure.Inch}, 15.5, 1.5 / root3, inf, NominalLength},
		{"measured goes before nominal", Pieces{Sample: in(15, 15), Nominal: 16 * measure.Inch}, 15, 2 / root3, inf, PieceSpread},
	} {
		l := c.pieces.judge(measure.Inch / 4)
		assert.InDelta(t, c.mean, l.mean, 1e-12, c.name)
		assert.InDelta(t, c.u, l.u, 1e-12, c.name)
		assert.Equal(t, c.degrees, l.degrees, c.name)
		assert.Equal(t, c.source, l.source, c.name)
	}
}

// Five more pieces of the same spread: s/√(n+5) on n + 4 degrees. With fewer than
// four a spread of at least 0.4 in is expected of them (common practice, no source).
func TestPiecesAfterFiveMore(t *testing.T) {
	for _, c := range []struct {
		pieces     Pieces
		u, degrees float64
	}{
		{Pieces{Sample: in(15, 17, 15, 17)}, math.Sqrt(4./3) / 3, 8},
		{Pieces{Sample: in(16, 16, 16)}, 0.4 / math.Sqrt(8), 7},
		{Pieces{Sample: in(14, 18)}, math.Sqrt(8) / math.Sqrt(7), 6},
		{Pieces{Nominal: 16 * measure.Inch}, 0.4 / math.Sqrt(5), 4},
	} {
		l := c.pieces.judge(measure.Inch / 4)
		assert.InDelta(t, c.u, l.afterU, 1e-12)
		assert.Equal(t, c.degrees, l.afterNu)
	}
}
