package storage_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/measure/storage"
)

func TestAlongWallKnownLayouts(t *testing.T) {
	// Run of row that one cord makes 44 in high, so that its top on 4 in runners is
	// at 4 ft: 221 184 in³ / (44 in × piece length), arithmetic. 16 in pieces:
	// 314.2 in, in two rows; 24 in: 209.5 in, over 16 ft; 18 in: 279.3 in; 48 in:
	// 104.7 in.
	tests := []struct {
		piece  measure.Length
		rows   int
		length measure.Length
	}{
		{16 * measure.Inch, 2, 158 * measure.Inch},
		{24 * measure.Inch, 2, 105 * measure.Inch},
		{18 * measure.Inch, 2, 140 * measure.Inch},
		{48 * measure.Inch, 1, 105 * measure.Inch},
	}
	for _, tt := range tests {
		p, err := storage.AlongWall(measure.Cord, tt.piece)
		require.NoError(t, err)
		assert.Equal(t, tt.rows, p.Rows, "rows of %d in pieces", tt.piece/measure.Inch)
		assert.Equal(t, tt.length, p.RowLength, "row length of %d in pieces", tt.piece/measure.Inch)
		assert.Equal(t, 4*measure.Foot, p.OffGround+p.Height, "the top")
	}
}

func TestAlongWallFootprint(t *testing.T) {
	p, err := storage.AlongWall(measure.Cord, 16*measure.Inch)
	require.NoError(t, err)
	assert.Equal(t, 166*measure.Inch, p.Width, "row, and a brace at each end")
	assert.Equal(t, 40*measure.Inch, p.Depth, "gap 4, row 16, gap 4, row 16")
	assert.Len(t, p.Cautions, 4)
}

func TestAlongWallShortPiecesStayLow(t *testing.T) {
	p, err := storage.AlongWall(measure.Cord/4, 12*measure.Inch)
	require.NoError(t, err)
	assert.Equal(t, 36*measure.Inch, p.Height, "three piece lengths")
	assert.Equal(t, 128*measure.Inch, p.RowLength, "32 ft³ / (1 ft × 3 ft) is 10 ft 8 in")
}

func TestAlongWallSmallAmountIsNoTower(t *testing.T) {
	p, err := storage.AlongWall(3*measure.CubicFoot/4, 16*measure.Inch)
	require.NoError(t, err)
	assert.Equal(t, 9*measure.Inch, p.Height, "√(1296 in³ / 16 in)")
	assert.Equal(t, 9*measure.Inch, p.RowLength)
}

func TestAlongWallRefuses(t *testing.T) {
	tests := []struct {
		v           measure.Volume
		piece       measure.Length
		field, code string
	}{
		{0, 16 * measure.Inch, "volume", "not-positive"},
		{-measure.Cord, 16 * measure.Inch, "volume", "not-positive"},
		{measure.MaxQuantity + 1, 16 * measure.Inch, "volume", "too-large"},
		{measure.Cord, 0, "piece_length", "too-small"},
		{measure.Cord, 4*measure.Inch - 1, "piece_length", "too-small"},
		{measure.Cord, measure.MaxPieceLength + 1, "piece_length", "too-large"},
	}
	for _, tt := range tests {
		_, err := storage.AlongWall(tt.v, tt.piece)
		var in *measure.InputError
		require.ErrorAs(t, err, &in)
		assert.Equal(t, tt.field, in.Field)
		assert.Equal(t, tt.code, in.Code)
		assert.NotEmpty(t, in.Accepts.Key)
	}
}

func TestAlongWallAlwaysSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := measure.Volume(rapid.Int64Range(1, int64(measure.MaxQuantity)).Draw(t, "volume"))
		piece := measure.Length(rapid.Int64Range(int64(storage.MinPiece), int64(measure.MaxPieceLength)).Draw(t, "piece"))
		p, err := storage.AlongWall(v, piece)
		require.NoError(t, err)

		holds := piece.In(measure.Foot) * p.Height.In(measure.Foot) * p.RowLength.In(measure.Foot) * float64(p.Rows)
		assert.GreaterOrEqual(t, holds*(1+1e-12), v.In(measure.CubicFoot), "holds the volume")
		assert.LessOrEqual(t, p.OffGround+p.Height, 4*measure.Foot, "the top is at or below the shoulder")
		assert.LessOrEqual(t, p.Height, 3*piece, "never slenderer than that")
		assert.GreaterOrEqual(t, p.RowLength, p.Height, "never higher than it is long")
		assert.Zero(t, p.RowLength%measure.Inch, "a whole inch")
		assert.GreaterOrEqual(t, p.Rows, 1)
		assert.Equal(t, p.RowLength+2*storage.EndBrace, p.Width)
		assert.Equal(t, p.WallGap+measure.Length(p.Rows)*(piece+p.RowGap)-p.RowGap, p.Depth)
		if p.Rows < storage.MaxDeep {
			assert.LessOrEqual(t, p.RowLength, storage.LongRow)
		}
	})
}
