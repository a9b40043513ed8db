package receipts

import (
	"bytes"
	"math"
	"strconv"
	"sync"

	"github.com/jung-kurt/gofpdf"

	"wellstowed/measure/draw"
)

// Lines of the ends of pieces on paper, in millimetres.
const (
	grainLine = 0.1
	barkLine  = 0.18
)

// A grainTile is a tile of the ends of pieces that a file holds once and a page shows as
// often as it takes. What of a template the library doesn't ask for is left out.
type grainTile struct {
	gofpdf.Template
	id    string
	piece float64 // how large one is, in millimetres
	size  gofpdf.SizeType
	ways  []byte
}

func (t *grainTile) ID() string                                { return t.id }
func (t *grainTile) Size() (gofpdf.PointType, gofpdf.SizeType) { return gofpdf.PointType{}, t.size }
func (t *grainTile) Bytes() []byte                             { return t.ways }
func (t *grainTile) Images() map[string]*gofpdf.ImageInfoType  { return nil }
func (t *grainTile) Templates() []gofpdf.Template              { return nil }

// newGrainTile paints a tile, from its lower left corner in points.
func newGrainTile(t draw.Tile) *grainTile {
	out := bytes.NewBufferString("0 G .1 0 0 .1 0 0 cm\n") // in tenths of a point
	for _, part := range []struct {
		lines [][]draw.Point
		thick float64
	}{{t.Grain, grainLine}, {t.Bark, barkLine}} {
		out.WriteString(inPoints(10*part.thick, 0) + " w\n")
		for _, line := range part.lines {
			for i, at := range line {
				out.WriteString(inPoints(10*mm(at.X), 0) + " " + inPoints(10*mm(t.Height-at.Y), 0) + wayTo(i))
			}
			out.WriteString("S\n")
		}
	}
	return &grainTile{id: "wood" + strconv.Itoa(len(t.Grain)), piece: mm(t.Width) / 4, size: gofpdf.SizeType{Wd: mm(t.Width), Ht: mm(t.Height)}, ways: out.Bytes()}
}

// grainTiles are the tiles that papers are painted with, larger and smaller from these: one
// for each number of rings that a piece has room for.
var grainTiles = sync.OnceValue(func() (tiles []*grainTile) {
	for _, piece := range []float64{2.2, 2.7, 3.5} {
		tiles = append(tiles, newGrainTile(draw.WoodTile(onPaper(piece))))
	}
	return tiles
})

// tileFor is the tile to paint pieces of a size with, and how much larger.
func tileFor(piece float64) (tile *grainTile, scale float64) {
	const oneRing, twoRings = 2.5, 3 // millimetres, as draw has them
	tile = grainTiles()[0]
	switch {
	case piece >= twoRings:
		tile = grainTiles()[2]
	case piece >= oneRing:
		tile = grainTiles()[1]
	}
	return tile, piece / tile.piece
}

// grain fills an area of a drawing with the ends of pieces of a size, with the drawing's top
// left corner at x, y. The library is shown the tile once; the rest is written as it would.
func (w *paper) grain(p draw.Polygon, x, y, piece float64) {
	tile, scale := tileFor(piece)
	left, right, top, foot := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	var out bytes.Buffer
	out.WriteString("q ")
	for _, ring := range append([][]draw.Point{p.Points}, p.Holes...) {
		for i, at := range ring {
			out.WriteString(inPoints(x+mm(at.X), 2) + " " + inPoints(w.height-y-mm(at.Y), 2) + wayTo(i))
			left, right = min(left, mm(at.X)), max(right, mm(at.X))
			top, foot = min(top, mm(at.Y)), max(foot, mm(at.Y))
		}
		out.WriteString("h ")
	}
	out.WriteString("W* n\n")
	wide, high := scale*tile.size.Wd, scale*tile.size.Ht
	larger := strconv.FormatFloat(scale, 'f', 3, 64)
	for ty := math.Floor(top/high) * high; ty < foot; ty += high {
		for tx := math.Floor(left/wide) * wide; tx < right; tx += wide {
			out.WriteString("q " + larger + " 0 0 " + larger + " " + inPoints(x+tx, 1) + " " + inPoints(w.height-y-ty-high, 1) + " cm /TPL" + tile.id + " Do Q\n")
		}
	}
	out.WriteString("Q")
	w.pdf.RawWriteBuf(&out)
	if !w.grained[tile] {
		w.grained[tile] = true
		w.pdf.ClipRect(0, 0, 0, 0, false) // so that the library has the tile in the file; it is not seen
		w.pdf.UseTemplateScaled(tile, gofpdf.PointType{}, tile.size)
		w.pdf.ClipEnd()
	}
	w.forget()
}

// inPoints writes millimetres as points.
func inPoints(mm float64, decimals int) string {
	return strconv.FormatFloat(mm/pointInMM, 'f', decimals, 64)
}

// wayTo is how the i-th point of a way is gone to.
func wayTo(i int) string {
	if i == 0 {
		return " m "
	}
	return " l "
}
