package storage

import "wellstowed/measure"

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

// Roofed tells whether there is a roof above such a place.
func (k PlaceKind) Roofed() bool { return k != Wall && k != Rack }

// OnBoards tells whether wood stands on a floor that something else carries.
func (k PlaceKind) OnBoards() bool { return k == Porch }

// backed tells whether there is a wall or fence behind.
func (k PlaceKind) backed() bool { return k != Rack }

// A Place is the room there is: along the back, away from it, and clear height.
// Width and depth are from 12 in to measure.MaxRowLength; Height is up to
// MaxClear, and 0 under the open sky, which only a wall or a rack stands under.
type Place struct {
	Kind                 PlaceKind
	Width, Depth, Height measure.Length
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

// wallGap is the air behind the first row.
func (p Place) wallGap() measure.Length {
	if p.Kind.backed() {
		return WallGap
	}
	return 0
}

// longest is the longest row that the place takes with a brace at each end.
func (p Place) longest() measure.Length {
	return wholeInches(min(p.Width-2*EndBrace, measure.MaxRowLength))
}

// deepest is how many rows of this piece length the place takes, at most MaxDeep.
func (p Place) deepest(piece measure.Length) int {
	return int(max(0, min((p.Depth-p.wallGap()+RowGap)/(piece+RowGap), MaxDeep)))
}

// tallest is the highest row that the place takes: free-standing with its top no
// higher than the shoulder, nor the row three piece lengths; braced up to MaxBraced; always under the clear
// height.
func (p Place) tallest(piece, shoulder measure.Length) measure.Length {
	high := min(shoulder-OffGround, MaxSlender*piece)
	if p.Braced {
		high = MaxBraced
	}
	if p.Height > 0 {
		high = min(high, p.Height-AirAbove-OffGround)
	}
	return wholeInches(high)
}

func wholeInches(l measure.Length) measure.Length { return max(0, l/wholeLength*wholeLength) }
