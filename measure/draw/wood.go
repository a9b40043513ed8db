package draw

import (
	"math"

	"wellstowed/measure"
)

// pieceAcross is how wide the end of a piece is: seven to a square foot of face, the middle
// of what the model takes where nobody counted (common practice, no source).
const pieceAcross = 115 * measure.Millimetre

// leastPiece is how small the end of a piece is drawn on paper; smaller ones run together.
const leastPiece = 2_200_000 * measure.Nanometre

// sketchedPiece is the end of a piece on a drawing that is not to scale.
const sketchedPiece = 4 * measure.Millimetre

// addWood fills an area with the ends of pieces, leaving holes out. Not to scale, or where
// they would be too small, they are as large as can be told apart.
func (d *Drawing) addWood(row int, area []Point, holes [][]Point) {
	d.Piece = sketchedPiece
	if d.Scale > 0 {
		d.Piece = max(scaled(pieceAcross, d.Scale), leastPiece)
	}
	wood := d.addArea(area, Wood, "wood")
	wood.Row, wood.Holes = row, holes
}

// A Tile is a piece of texture that repeats to all sides: open lines, which may reach over
// its edges.
type Tile struct {
	Width, Height measure.Length
	Grain         [][]Point // rings, thin
	Bark          [][]Point // the outline of pieces, with the bark on the far side of the heart
}

// Pieces of a tile, whose layers lie half a piece off each other.
const tileAcross, tileDown = 4, 4

// WoodTile is the ends of pieces so large, stacked: quarters with their heart at one corner,
// rings around it and bark on the far side, with halves and a round among them.
func WoodTile(piece measure.Length) Tile {
	high := piece * 9 / 10
	t := Tile{Width: piece * tileAcross, Height: high * tileDown}
	shapes := [tileDown][tileAcross]int{{0, 3, 4, 1}, {2, 1, 0, 5}, {3, 4, 2, 1}, {1, 0, 3, 4}}
	for row := range tileDown {
		for column := range tileAcross {
			x := float64(column) + float64(row%2)/2
			t.addPiece(shapes[row][column], x, float64(row), piece, high)
			if column == tileAcross-1 && row%2 == 1 { // it goes on where the tile begins again
				t.addPiece(shapes[row][column], x-tileAcross, float64(row), piece, high)
			}
		}
	}
	return t
}

// A grainPoint is a place in a tile, in pieces.
type grainPoint struct{ x, y float64 }

func (a grainPoint) to(b grainPoint, part float64) grainPoint {
	return grainPoint{a.x + (b.x-a.x)*part, a.y + (b.y-a.y)*part}
}

// addPiece draws the end of a piece: a quarter with its heart at one of the corners, a half
// that lies on its split, or a round.
func (t *Tile) addPiece(shape int, x, y float64, wide, high measure.Length) {
	const air = 0.05
	corner := func(i int) grainPoint {
		at := [4]grainPoint{{x + air, y + air}, {x + 1 - air, y + air}, {x + 1 - air, y + 1 - air}, {x + air, y + 1 - air}}
		return at[i%4]
	}
	middle := corner(0).to(corner(2), 0.5)
	switch {
	case shape < 4:
		h, one, far, other := corner(shape), corner(shape+1), corner(shape+2), corner(shape+3)
		outline := append([]grainPoint{h}, bow(one, far, other, 4)...)
		t.Bark = append(t.Bark, onTile(wide, high, append(outline, h)...))
		for _, ring := range ringsOf(wide) {
			t.Grain = append(t.Grain, onTile(wide, high, bow(h.to(one, ring), h.to(far, ring*0.9), h.to(other, ring), 3)...))
		}
	case shape == 4:
		left, right := corner(3), corner(2)
		for _, ring := range []float64{1, 0.55} {
			foot := left.to(right, 0.5)
			from, to, top := foot.to(left, ring), foot.to(right, ring), grainPoint{foot.x, foot.y - 1.75*ring*(1-2*air)}
			arc := bow(from, top, to, 5)
			if ring == 1 {
				t.Bark = append(t.Bark, onTile(wide, high, append(arc, from)...))
			} else {
				t.Grain = append(t.Grain, onTile(wide, high, arc...))
			}
		}
	default:
		t.Bark = append(t.Bark, onTile(wide, high, ringOf(middle, 0.5-air)...))
		t.Grain = append(t.Grain, onTile(wide, high, ringOf(middle, 0.26)...))
	}
}

// ringsOf are how far out the rings of a split of a size lie: one in a small one, none where
// they would run together.
func ringsOf(piece measure.Length) []float64 {
	switch {
	case piece < 5*measure.Millimetre/2:
		return nil
	case piece < 3*measure.Millimetre:
		return []float64{0.55}
	}
	return []float64{0.4, 0.7}
}

func ringOf(middle grainPoint, radius float64) []grainPoint {
	const steps = 9
	points := make([]grainPoint, steps+1)
	for i := range points {
		turn := 2 * math.Pi * float64(i) / steps
		points[i] = grainPoint{middle.x + radius*math.Cos(turn), middle.y + radius*math.Sin(turn)}
	}
	return points
}

// bow is a curve from a to b towards a corner, in so many points.
func bow(a, corner, b grainPoint, count int) []grainPoint {
	points := make([]grainPoint, count)
	for i := range points {
		part := float64(i) / float64(count-1)
		points[i] = a.to(corner, part).to(corner.to(b, part), part)
	}
	return points
}

func onTile(wide, high measure.Length, points ...grainPoint) []Point {
	out := make([]Point, len(points))
	for i, p := range points {
		out[i] = Point{hundredth(p.x * float64(wide)), hundredth(p.y * float64(high))}
	}
	return out
}

// hundredth is a length on paper to the hundredth of a millimetre: finer isn't seen.
func hundredth(nanometres float64) measure.Length {
	const step = measure.Millimetre / 100
	return measure.Length(math.Round(nanometres/float64(step))) * step
}
