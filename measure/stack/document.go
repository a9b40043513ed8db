package stack

import "encoding/json"

// A Document is a tally as data, format 2 or 1, every reading still text as typed.
// It is what is stored, sent by the page and read by the command line.
type Document struct {
	Format   int     `json:"format"`
	Sold     Reading `json:"sold,omitempty"`
	By       Reading `json:"by,omitempty"`
	Apart    Reading `json:"apart,omitempty"`
	Look     int     `json:"look,omitempty"`
	Tape     Reading `json:"tape,omitempty"`
	TapeMade Reading `json:"tape_made,omitempty"` // "steel" or "cloth"
	Rounded  Reading `json:"rounded,omitempty"`   // "nearest" or "down"
	Top      Reading `json:"top,omitempty"`
	Stowed   Reading `json:"stowed,omitempty"` // "checked" or "counted"
	// Gaps are given where the stowing was counted.
	Gaps      *GapsDocument `json:"gaps,omitempty"`
	Raised    Reading       `json:"raised,omitempty"`
	Condition Reading       `json:"condition,omitempty"`
	// SoldCondition, Moisture and Shrinkage are for the drying allowance.
	SoldCondition Reading            `json:"sold_condition,omitempty"` // "green", "seasoned" or "dry"
	Moisture      *MoistureDocument  `json:"moisture,omitempty"`
	Shrinkage     *ShrinkageDocument `json:"shrinkage,omitempty"`
	// LooseCord is given only where the rule set of the sale defines loose measure:
	// what its loose cord holds.
	LooseCord Reading `json:"loose_cord,omitempty"`
	// Stacked and StackedBy are of a further check of a delivery: whether the stack is
	// the one read before, or the wood was stacked again, and by whom.
	Stacked   Reading `json:"stacked,omitempty"`    // "same" or "again"
	StackedBy Reading `json:"stacked_by,omitempty"` // "before", "buyer", "seller", "inspector" or "other"
	// Confirmed are the keys of questions about readings that are as typed.
	Confirmed []Reading       `json:"confirmed,omitempty"`
	Stack     json.RawMessage `json:"stack"`
}

// A GapsDocument is the gaps that take a stick half as thick as an average piece, and
// the pieces of the face they were looked for among.
type GapsDocument struct {
	Count  *int `json:"count"` // 0 is a count too
	Pieces int  `json:"pieces"`
}

// A MoistureDocument is moisture as measured.
type MoistureDocument struct {
	Percent *float64 `json:"percent"`           // of the weight that basis names
	Highest *float64 `json:"highest,omitempty"` // the top of its interval; ± 2 where it is left out
	Basis   Reading  `json:"basis"`             // "dry": of the oven-dry weight; "wet": of the weight as it is
	Pieces  int      `json:"pieces"`
	Method  Reading  `json:"method"` // "meter", "oven", …
}

// A ShrinkageDocument is how much the wood shrinks from green to oven-dry: one of
// the two.
type ShrinkageDocument struct {
	Percent      *float64 `json:"percent,omitempty"`       // of the green volume, as tabulated
	BasicGravity *float64 `json:"basic_gravity,omitempty"` // a ratio, oven-dry weight to green volume
}

// A WindowDocument is a part of the face in which pieces were counted.
type WindowDocument struct {
	Width  Reading `json:"width"`
	Height Reading `json:"height"`
	Pieces int     `json:"pieces"`
}

// A RowsDocument is the "stack" of a document whose kind is "rows".
type RowsDocument struct {
	Kind    string          `json:"kind"`
	Pieces  []Reading       `json:"pieces,omitempty"`
	Nominal Reading         `json:"nominal,omitempty"`
	Rows    []RowDocument   `json:"rows"`
	Window  *WindowDocument `json:"window,omitempty"`
}

// A RowDocument is one row of a RowsDocument.
type RowDocument struct {
	Length    Reading        `json:"length,omitempty"`
	Lengths   []Reading      `json:"lengths,omitempty"` // the same length read at other heights
	Heights   []Reading      `json:"heights,omitempty"`
	Back      []Reading      `json:"back,omitempty"` // heights of the back face, station by station
	Positions []Reading      `json:"positions,omitempty"`
	Ends      []EndDocument  `json:"ends,omitempty"`
	Voids     []VoidDocument `json:"voids,omitempty"`
	Pieces    []Reading      `json:"pieces,omitempty"`
	Nominal   Reading        `json:"nominal,omitempty"`
	Slope     *SlopeDocument `json:"slope,omitempty"`
	// Photo stands in place of all before it but the pieces; beside a length and heights it
	// is a second reading, held against theirs.
	Photo *PhotoDocument `json:"photo,omitempty"`
}

// A SlopeDocument is how the ground along a row slopes, and how its heights were
// held: "perpendicular" to the slope, which needs no more, or "vertical", with rise
// and run or with degrees.
type SlopeDocument struct {
	Heights Reading  `json:"heights"`
	Rise    Reading  `json:"rise,omitempty"`
	Run     Reading  `json:"run,omitempty"`
	Degrees *float64 `json:"degrees,omitempty"`
}

// An EndDocument is one end of a row.
type EndDocument struct {
	Kind  string   `json:"kind"`
	Over  Reading  `json:"over,omitempty"`
	Drop  Reading  `json:"drop,omitempty"`
	Share *float64 `json:"share,omitempty"` // a ratio, 0 to 1
}

// A VoidDocument is one void of a row.
type VoidDocument struct {
	Width  Reading `json:"width"`
	Height Reading `json:"height"`
}

// A Reading is text as typed. A bare JSON number is kept as its digits, so that
// parsing can refuse it by name.
type Reading string

// KeepsNumbers says that it takes a bare number too.
func (Reading) KeepsNumbers() {}

// UnmarshalJSON keeps a string's text, and any other token as it stands.
func (r *Reading) UnmarshalJSON(b []byte) error {
	if len(b) > 0 && b[0] == '"' {
		var s string
		if err := json.Unmarshal(b, &s); err != nil {
			return err
		}
		*r = Reading(s)
		return nil
	}
	*r = Reading(b)
	return nil
}
