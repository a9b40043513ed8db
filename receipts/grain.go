package receipts

import (
	"bytes"
	"math"
	"strconv"

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
	id   string
	size gofpdf.SizeType
	ways []byte
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
	return &grainTile{id: "wood" + strconv.Itoa(int(t.Width)), size: gofpdf.SizeType{Wd: mm(t.Width), Ht: mm(t.Height)}, ways: out.Bytes()}
}

// grain fills an area of a drawing with the ends of pieces, with the drawing's top left
// corner at x, y.
func (w *paper) grain(p draw.Polygon, x, y float64, tile *grainTile) {
	left, right, top, foot := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	var area bytes.Buffer
	area.WriteString("q ")
	for _, ring := range append([][]draw.Point{p.Points}, p.Holes...) {
		for i, at := range ring {
			area.WriteString(inPoints(x+mm(at.X), 2) + " " + inPoints(w.height-y-mm(at.Y), 2) + wayTo(i))
			left, right = min(left, mm(at.X)), max(right, mm(at.X))
			top, foot = min(top, mm(at.Y)), max(foot, mm(at.Y))
		}
		area.WriteString("h ")
	}
	area.WriteString("W* n")
	w.pdf.RawWriteBuf(&area)
	for ty := math.Floor(top/tile.size.Ht) * tile.size.Ht; ty < foot; ty += tile.size.Ht {
		for tx := math.Floor(left/tile.size.Wd) * tile.size.Wd; tx < right; tx += tile.size.Wd {
			w.pdf.UseTemplateScaled(tile, gofpdf.PointType{X: x + tx, Y: y + ty}, tile.size)
		}
	}
	w.pdf.RawWriteStr("Q")
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
