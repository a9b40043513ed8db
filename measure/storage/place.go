package storage

import (
	"math/big"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A PlaceKind is where wood is to stand.
type PlaceKind string

// The kinds of place.
const (
	Wall    PlaceKind = "wall"    // along a wall or fence, outdoors
	Porch   PlaceKind = "porch"   // on a porch or deck
	Alcove  PlaceKind = "alcove"  // a niche with walls behind and at both sides
	Carport PlaceKind = "carport" // along the side of a carport
	Shed    PlaceKind = "shed"    // a free-standing shed
	Rack    PlaceKind = "rack"    // an open frame
)

// PlaceKinds are all of them, in the order to offer them in.
func PlaceKinds() []PlaceKind { return []PlaceKind{Wall, Porch, Alcove, Carport, Shed, Rack} }

// Name is what people call the place.
func (k PlaceKind) Name() measure.Text {
	switch k {
	case Porch:
		return measure.Say("on a porch or deck")
	case Alcove:
		return measure.Say("in an alcove")
	case Carport:
		return measure.Say("along the side of a carport")
	case Shed:
		return measure.Say("in a free-standing shed")
	case Rack:
		return measure.Say("in an open frame")
	}
	return measure.Say("along a wall or fence")
}

// Traits are what sets one kind of place apart from the others.
type Traits struct {
	Roof   bool // always over it; a porch may have one
	Wall   bool // a wall, a fence or posts behind, which wood keeps off
	Ends   bool // walls at both ends
	Front  bool // closed in front: a door or hatch lets wood out
	Airy   bool // air gets behind the wood: past open ends, or between boards
	Behind bool // one can walk behind it
	Boards bool // something else than the ground carries its floor
	Across bool // rows may run from front to back, side by side
}

// Traits of the kind.
func (k PlaceKind) Traits() Traits {
	switch k {
	case Porch:
		return Traits{Wall: true, Airy: true, Boards: true, Across: true}
	case Alcove:
		return Traits{Roof: true, Wall: true, Ends: true, Across: true}
	case Carport:
		return Traits{Roof: true, Wall: true, Airy: true, Behind: true}
	case Shed:
		return Traits{Roof: true, Wall: true, Ends: true, Front: true, Airy: true, Across: true}
	case Rack:
		return Traits{Airy: true, Behind: true, Across: true}
	}
	return Traits{Wall: true, Airy: true}
}

// Facts say what is taken for granted of such a place.
func (k PlaceKind) Facts() measure.Text {
	switch k {
	case Porch:
		return measure.Say("A wall behind, open at the ends and in front; joists carry the floor. Leave the door and the way out free.")
	case Alcove:
		return measure.Say("Walls behind and at both ends, open in front: air hardly reaches the back.")
	case Carport:
		return measure.Say("Posts or an open side behind, so that air gets there; the car keeps its room in front.")
	case Shed:
		return measure.Say("Walls all round, boarded with gaps that let air through, and a hatch in front.")
	case Rack:
		return measure.Say("Open all round: wood is taken from both sides.")
	}
	return measure.Say("A wall or fence behind, open at the ends and in front, under the open sky; not under the drip of the eaves.")
}

// A Place is the room there is: along the back, away from it, and clear height.
// Width and depth are from 12 in to stack.MaxRowLength; heights are up to
// MaxClear, and 0 where there is no roof.
type Place struct {
	Kind                 PlaceKind
	Width, Depth, Height measure.Length
	// Back is the clear height at the back where the roof slopes; 0: as in front.
	Back measure.Length
	// Braced says that the ends and the back are built to hold the push of wood:
	// framed and fixed, not just boarded.
	Braced bool
}

// Bounds of a place.
const (
	MinRoom  = 12 * measure.Inch
	MaxClear = 20 * measure.Foot
)

// Room left in a place that has a roof: common practice, no source.
const AirAbove = 6 * measure.Inch

// MaxBraced is the highest row planned even where ends and back are built to hold
// it: what can be reached from the ground. Common practice, no source.
const MaxBraced = 7 * measure.Foot

// A hatch near waist height: where its sill is and how large it is. Common
// practice, no source.
const (
	HatchSill   = 30 * measure.Inch
	HatchWidth  = 30 * measure.Inch
	HatchHeight = 30 * measure.Inch
)

// wallGap is the air behind the wood.
func (p Place) wallGap() measure.Length {
	if p.Kind.Traits().Wall {
		return WallGap
	}
	return 0
}

// sideGap is the air between rows from front to back and a wall at their side.
func (p Place) sideGap() measure.Length {
	if p.Kind.Traits().Ends {
		return WallGap
	}
	return 0
}

// Rows from front to back: the most side by side, the shortest, and how high one may
// be for its length even where the place is braced, since nothing but its own brace
// holds its front end. Common practice, no source.
const (
	MaxAcross   = 12
	MinAcross   = 2 * measure.Foot
	AcrossSteep = 2
)

// shortest is the shortest row that is worth stacking.
func shortest(across bool) measure.Length {
	if across {
		return MinAcross
	}
	return wholeLength
}

// longest is the longest row that the place takes with a brace at each end.
func (p Place) longest(across bool) measure.Length {
	room := p.Width
	if across {
		room = p.Depth - p.wallGap()
	}
	return wholeInches(min(room-2*EndBrace, stack.MaxRowLength))
}

// rows is how many rows of this piece length the place takes.
func (p Place) rows(piece measure.Length, across bool) int {
	room, most := p.Depth-p.wallGap(), MaxDeep
	if across {
		room, most = p.Width-2*p.sideGap(), MaxAcross
	}
	return int(max(0, min((room+RowGap)/(piece+RowGap), measure.Length(most))))
}

// footprint is the floor that rows take, along the back and away from it, gaps and
// braces with them.
func (p Place) footprint(rows int, length, piece measure.Length, across bool) (width, depth measure.Length) {
	side := measure.Length(rows)*piece + measure.Length(rows-1)*RowGap
	if across {
		return side + 2*p.sideGap(), p.wallGap() + length + 2*EndBrace
	}
	return length + 2*EndBrace, p.wallGap() + side
}

// tallest is the highest row that may stand where the roof is clear high:
// free-standing with its top no higher than the shoulder, nor the row three piece
// lengths; braced up to MaxBraced.
func (p Place) tallest(piece, shoulder, clear measure.Length) measure.Length {
	high := min(shoulder-OffGround, MaxSlender*piece)
	if p.Braced {
		high = MaxBraced
	}
	if clear > 0 {
		high = min(high, clear-AirAbove-OffGround)
	}
	return wholeInches(high)
}

// clearOver is the least clear height over the i-th row from the back, 0 under the open
// sky. Rows from front to back are all under the whole slope.
func (p Place) clearOver(w way, i int, length, piece measure.Length) measure.Length {
	if p.Height == 0 || p.Back == 0 || p.Depth == 0 {
		return p.Height
	}
	from := p.wallGap() + measure.Length(i)*(piece+RowGap)
	to := from + piece
	if w.across {
		from, to = p.wallGap(), p.wallGap()+length+2*EndBrace
	}
	return min(p.roof(from), p.roof(to))
}

// roof is the clear height so far from the back, rounded down.
func (p Place) roof(from measure.Length) measure.Length {
	rise := new(big.Int).Mul(big.NewInt(int64(p.Height-p.Back)), big.NewInt(int64(from)))
	return p.Back + measure.Length(rise.Div(rise, big.NewInt(int64(p.Depth))).Int64())
}

func wholeInches(l measure.Length) measure.Length { return max(0, l/wholeLength*wholeLength) }
