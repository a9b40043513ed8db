// Package rules holds what a jurisdiction allows and asks for, as data files
// built into the program. A set is a reading of the law, not legal advice, and
// every item of it says where it comes from and how it is known.
package rules

import "wellstowed/measure"

// A Status says how an item is known.
type Status string

// The statuses, from the surest down.
const (
	Read       Status = "read"        // in a copy of the publisher's own text
	SecondHand Status = "second-hand" // where others restate that text
	FromMemory Status = "from memory" // to be checked against the text
)

// Known is where an item comes from and how it is known. Both are always there.
type Known struct {
	Source string `json:"source"`
	Status Status `json:"status"`
}

// A Set is one jurisdiction's rules for selling firewood, in our own words.
type Set struct {
	Code string `json:"code"` // "us-model": small letters, digits and hyphens
	Name string `json:"name"`
	// Extends is the code of a set that a shop's own file adds to; empty: the file
	// stands by itself.
	Extends string `json:"extends,omitempty"`
	Edition string `json:"edition"` // of the law
	Date    string `json:"date"`    // of this reading, YYYY-MM-DD
	// Nation is the code of the nation whose rules on moving wood hold as well, one of
	// Nations; empty: none are built in. They are read into Moving.
	Nation string `json:"nation,omitempty"`
	Known

	Units []Unit `json:"units"` // that a sale may be made in
	// Barred are terms that may not stand for a quantity: nothing prints them outside the
	// set's own list. Undefined are terms that the law gives no size and bars nobody from
	// using; Defined are terms that it gives a size and does not name for selling by.
	// Said of an order, any of them is read back in a unit of sale.
	Barred    []Term  `json:"barred"`
	Undefined []Term  `json:"undefined,omitempty"`
	Defined   []Term  `json:"defined,omitempty"`
	Required  []Field `json:"required"` // of a receipt
	// Ranked is what a stacked cord is where that hangs on the wood; without it a
	// cord is 128 ft³. Loose is what a loose cord is; without it there is none.
	Ranked []CordMeasure `json:"ranked,omitempty"`
	Loose  []CordMeasure `json:"loose,omitempty"`

	Reading   *Reading   `json:"reading,omitempty"`   // nil: none stated
	Tolerance *Tolerance `json:"tolerance,omitempty"` // of a quantity; nil: none stated
	Shares    *Limit     `json:"shares,omitempty"`    // of stated shares of species; nil: none stated
	Moisture  *Moisture  `json:"moisture,omitempty"`  // what is said of dryness; nil: none stated
	Retention *Retention `json:"retention,omitempty"` // nil: none stated
	Tax       *Statement `json:"tax,omitempty"`       // what is said of tax on firewood; nil: none stated

	Pieces *Pieces `json:"pieces,omitempty"` // what firewood is by the length of its pieces; nil: none stated

	Seasoned *Seasoned `json:"seasoned,omitempty"` // what “seasoned” is; nil: none stated
	Moving   []Moving  `json:"moving,omitempty"`   // where wood may be moved
	Printed  []Printed `json:"printed,omitempty"`  // texts that a receipt carries

	Label *Label `json:"label,omitempty"` // how a package is labelled; nil: none stated

	Lots *Lots `json:"lots,omitempty"` // how packaged lots are judged; nil: none stated

	Notices []Statement `json:"notices,omitempty"` // to be shown with the set

	// Procedure is the checking procedure of an office, from a file of its own; nil
	// without one.
	Procedure *Procedure `json:"procedure,omitempty"`
	// Gaps are what was looked for in the law and not found, or not read, in our own words.
	Gaps []string `json:"gaps,omitempty"`
}

// NotAdvice goes with every set wherever it is shown.
func (s Set) NotAdvice() measure.Text {
	return measure.Say("A reading of the law, not legal advice.")
}

// A Unit is one that a sale may be made in.
type Unit struct {
	Name  string        `json:"name"`
	Unit  UnitCode      `json:"unit"`
	Basis measure.Basis `json:"basis"`
	Only  string        `json:"only,omitempty"` // what it is limited to; empty: any sale
	Known
}

// A CordMeasure is what a set takes a cord for, of wood in pieces of some lengths
// and no other.
type CordMeasure struct {
	Name string `json:"name"`
	// Of is the wood it is for, where the length of the pieces alone does not tell.
	Of string `json:"of,omitempty"`
	// Preparation is that wood as it is asked for; empty: however it is prepared.
	Preparation measure.Preparation `json:"preparation,omitempty"`
	PieceFrom   measure.Length      `json:"piece_from"`
	PieceTo     measure.Length      `json:"piece_to"`
	Volume      Amount              `json:"volume"`
	Known
}

// An Amount is a volume that a file gives with its unit: "180 cu ft".
type Amount struct{ measure.Volume }

// UnmarshalText reads a volume with its unit; the error is a *measure.InputError.
func (a *Amount) UnmarshalText(b []byte) error {
	v, err := measure.ParseVolume(string(b))
	a.Volume = v
	return err
}

// MarshalText writes the volume exactly.
func (a Amount) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// A Pieces is the length that pieces sold as firewood have to be over.
type Pieces struct {
	Statement
	Over measure.Length `json:"over"`
}

// A Label is how high the letters and figures of the quantity on a package are at least.
type Label struct {
	Statement
	Height measure.Length `json:"height"`
}

// A Reading is how finely lengths are read and which way they are rounded.
type Reading struct {
	Increment measure.Length `json:"increment"`
	Rounding  string         `json:"rounding"` // "up", "down" or "nearest"
	Known
}

// Retention is how long copies of receipts are kept.
type Retention struct {
	Months int `json:"months"`
	// VoidedMonths is how long voided tickets are kept where that is longer; 0: as
	// long as the others.
	VoidedMonths int `json:"voided_months,omitempty"`
	Known
}

// A Statement is one rule in our own words.
type Statement struct {
	Words string `json:"words"`
	Known
}

// Text gives the words to be said.
func (s Statement) Text() measure.Text { return measure.Say(s.Words) }
