package stack

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"wellstowed/measure"
)

// A cord of 16 in pieces is 96 ft² of face; 7 ± 1.5 pieces a square foot is common
// practice, no source.
func TestPiecesByPractice(t *testing.T) {
	p := measured(t, plain(3, 8*measure.Foot, 4*measure.Foot, 16*measure.Inch)).Pieces
	assert.Equal(t, PieceCount{Low: 528, High: 816, LowFace: 5.5, HighFace: 8.5, PieceLength: 16 * measure.Inch}, p)
	low, high := p.Of(-measure.Cord / 16)
	assert.Equal(t, 33, low)
	assert.Equal(t, 51, high)
	assert.Contains(t, p.Text().String(), "common practice")
}

// 36 pieces in 2 × 2 ft are 9 ± 1.5 a square foot.
func TestPiecesCounted(t *testing.T) {
	tally := plain(3, 8*measure.Foot, 4*measure.Foot, 16*measure.Inch)
	s := tally.Stack.(Rows)
	s.Window = Window{2 * measure.Foot, 2 * measure.Foot, 36}
	tally.Stack = s
	p := measured(t, tally).Pieces
	assert.True(t, p.Counted)
	assert.InDelta(t, 7.5, p.LowFace, 1e-12)
	assert.InDelta(t, 10.5, p.HighFace, 1e-12)
	assert.Equal(t, 720, p.Low)
	assert.Equal(t, 1008, p.High)
	assert.NotContains(t, p.Text().String(), "common practice")
}

func TestPiecesOnlyOfRankedWoodOfKnownLength(t *testing.T) {
	assert.Zero(t, measured(t, loadTally()).Pieces)
	assert.Zero(t, measured(t, carefully(Load{Arrangement: measure.Ranked, Box: body()})).Pieces)
	p := measured(t, carefully(Load{Arrangement: measure.Ranked, Box: body(), Lie: Along, Pieces: Pieces{Sample: in(16, 16, 16, 16, 16)}})).Pieces
	assert.Equal(t, int(math.Floor(50*5.5)), p.Low, "66.67 ft³ of 16 in pieces are 50 ft² of face")
	low, high := PieceCount{}.Of(measure.Cord)
	assert.Zero(t, low+high)
}
