package stack

import "wellstowed/measure"

// Limits of a tally. Going over one is an error that names it.
const (
	MaxRowLength    = 300 * measure.Foot
	MaxHeight       = 20 * measure.Foot
	MaxRows         = 60
	MaxStations     = 200 // in a row
	MaxPieces       = 500
	MaxTallyBytes   = 256_000
	TallyFormat     = 2 // that is written; format 1 is read as well
	ModelNumber     = 2
	MaxLengths      = 20 // of a row, besides the first
	defaultTapeMark = measure.Inch / 4
)

// A Tally is one set of readings as taken at the stack, parsed.
type Tally struct {
	Sold      *measure.Said  // nil when nothing was sold
	By        Party          // who reads
	Apart     Apart          // wood of this delivery that is not in the stack
	Look      int            // which look at this delivery, from 1
	Tape      measure.Length // the smallest division read
	TapeMade  TapeMade
	Rounded   Rounding // how readings fall between marks: RoundNearest, RoundDown, or not said
	Top       Top      // how the top of the wood was judged
	Stowed    Stowing
	Gaps      Gaps           // zero: none were counted
	Raised    measure.Length // what the heights include below the wood
	Stacked   Stacked
	StackedBy Stacker
	Condition string // as said: "green", "seasoned", … or empty
	// SoldCondition is what the wood was sold as: Green, Seasoned, Dry or empty.
	SoldCondition Condition
	Moisture      *Moisture  // nil: not measured
	Shrinkage     *Shrinkage // nil: not known
	// LooseCord is what the rule set that governs the sale defines as a loose
	// cord; 0 where it defines no loose measure. Only where it is set can wood sold
	// loose and measured loose be called short or full.
	LooseCord measure.Volume
	// Used tells that use of this wood since its delivery is on record elsewhere, such
	// as in an audit. Then Apart counts as not answered until it is an amount. It is
	// no part of the document.
	Used bool
	// MostShrinkage is the table's shrinkage of the species sold, percent of the green
	// volume; 0 is not known. It is no part of the document.
	MostShrinkage float64
	// Confirmed are the keys of the questions about readings that were answered: the
	// reading is as it was typed.
	Confirmed []string
	Stack     Stack // how the wood stands
}

// TapeMade is what the tape is made of; the zero TapeMade is not said.
type TapeMade string

// What tapes are made of.
const (
	SteelTape TapeMade = "steel"
	ClothTape TapeMade = "cloth" // or fibreglass
)

// Stowing is how it was looked at how tightly the wood is stowed; the zero Stowing is
// not said.
type Stowing string

// The ways of looking at it.
const (
	StowingChecked Stowing = "checked" // parallel, touching, no gap that takes a piece, ends upright, cribs restacked
	StowingCounted Stowing = "counted" // by the gaps that take a stick half as thick as an average piece
)

// Gaps are the gaps of a part of the face, or of all of it, that take a stick half as
// thick as an average piece, and the pieces in that part.
type Gaps struct{ Count, Pieces int }

// Party is who took the readings; advice differs by it, the scale does not.
type Party string

// The parties of a measurement; the zero Party is not said.
const (
	Seller    Party = "seller"
	Buyer     Party = "buyer"
	Inspector Party = "inspector"
)

// Top is how the top of the wood was judged.
type Top string

// How the top may be judged.
const (
	ByEye        Top = "by eye"
	Straightedge Top = "straightedge"
)

// Apart is the wood of a delivery that is not in the stack. Not said is not none.
type Apart struct {
	Answered bool
	Quantity measure.Quantity // zero Volume for "none"
}

// A Stack is wood standing in one of the kinds the registry lists.
type Stack interface {
	// Kind is the name used in the document: "rows", "load", "heap", "bin", "round"
	// or "packaged".
	Kind() string
	// Basis is what volumes of this kind are taken on.
	Basis() measure.Basis
	// estimate gives the volume and its doubt; the error is an *InputError.
	estimate(t *Tally) (estimate, error)
}

// Rows is a ranked stack.
type Rows struct {
	Pieces Pieces // the sample that serves every row without one of its own
	Rows   []Row
	Window Window // of the face, where pieces were counted; zero: none was
}

// A Row is one ranked row as read; heights are as read, before Raised is taken off.
type Row struct {
	Length    measure.Length   // the mean of Lengths where there are any
	Lengths   []measure.Length // every reading of it, where it was read at several heights; else empty
	Heights   []measure.Length // of the front face
	Back      []measure.Length // of the back face at the same stations; empty: not read
	Positions []measure.Length // of the heights along the row; empty: middles of equal parts
	Slope     Slope            // of the ground; zero: level, or not said
	Ends      [2]End           // first and second
	Voids     []Void
	Pieces    Pieces // the row's own; zero: the stack's
	// Photo is what the face was read from; nil: with a tape. Length and Heights are then
	// those of the outline, to be drawn, and no readings.
	Photo *RowPhoto
	// Beside is what a photo says of a row that was read with a tape too; nil: nothing.
	// What the tape says counts.
	Beside *RowPhoto
}

// Pieces is what is known of piece length: a sample, or a nominal length.
type Pieces struct {
	Sample  []measure.Length
	Nominal measure.Length
}

// EndKind is the shape of a row's end.
type EndKind string

// The kinds of end. The zero EndKind is not valid in a parsed tally.
const (
	Upright    EndKind = "upright"
	Shouldered EndKind = "shouldered" // inside the row length: Drop over Over
	Tapered    EndKind = "tapered"    // outside the row length, over Over
	Cribbed    EndKind = "cribbed"    // outside the row length, over Over

	EndNotSaid EndKind = "not said" // in a document; taken for Upright
)

// An End is one end of a row.
type End struct {
	Kind  EndKind
	Over  measure.Length // the run along the row
	Drop  measure.Length // shouldered only
	Share float64        // cribbed only: the share that is wood, a ratio 0 to 1
	// Judged tells that Share was given, not the default.
	Judged bool
	// Unsaid tells that nobody said the end is Upright, and it was taken for it.
	Unsaid bool
}

// A Void is a gap in the face that would take an average piece.
type Void struct{ Width, Height measure.Length }
