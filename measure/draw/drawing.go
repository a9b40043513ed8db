// Package draw makes the pictures of measure as display lists: lines, polygons
// and texts at places on paper, which web and PDF paint alike.
package draw

import "wellstowed/measure"

// A Point is a place on the drawing, from its top left corner, x to the right
// and y down, in lengths on paper.
type Point struct{ X, Y measure.Length }

// Style is how a line or an area is drawn; shape carries meaning, never colour.
type Style string

// The styles.
const (
	Outline Style = "outline" // solid, 0.5 mm
	Thin    Style = "thin"    // solid, 0.2 mm
	Light   Style = "light"   // hatch lines, 0.1 mm, grey
	Dashed  Style = "dashed"  // 0.3 mm dashes
	Band    Style = "band"    // area filled light grey with an outline
	Solid   Style = "solid"   // area filled with ink
	Empty   Style = "empty"   // area cut out: paper with a thin outline
	Wood    Style = "wood"    // area filled with the ends of pieces, without an outline
)

// A Line goes from A to B.
type Line struct {
	A, B  Point
	Style Style
	// Role names what it stands for, for programs and tests: "station", "top",
	// "sold", "short", "full", "tick", "hatch", …; Row and Index count from 1.
	Role       string
	Row, Index int
}

// A Polygon is a closed area.
type Polygon struct {
	Points     []Point
	Holes      [][]Point // left out of the area, of wood alone
	Style      Style
	Role       string
	Row, Index int
}

// Anchor is where a label is held.
type Anchor string

// The anchors.
const (
	Start  Anchor = "start"
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// A Label is a text whose baseline is held at At.
type Label struct {
	At     Point
	Anchor Anchor
	Size   measure.Length // of the type, on paper
	Bold   bool
	Text   measure.Text
	Role   string
}

// A Drawing is a display list, painted polygons first, then lines, then labels.
type Drawing struct {
	Title         measure.Text // what it shows, for those who cannot see it
	Description   measure.Text
	Width, Height measure.Length // on paper
	// Scale is real length per length on paper, in thousandths (16 000 is
	// 1:16); 0 where the drawing is not to scale.
	Scale int64
	// Piece is how large the end of a piece is on paper, where an area is wood.
	Piece    measure.Length
	Polygons []Polygon
	Lines    []Line
	Labels   []Label
}
