package audits

import (
	"encoding/json"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/procedure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
)

// ReportFormat is the number of the report's data format.
const ReportFormat = 2

// A Report is all that the paper of a closed audit prints: a snapshot in plain
// data, stored as canonical JSON bytes with their hash and never recomputed.
type Report struct {
	Format   int          `json:"format"`
	Number   int64        `json:"number"` // of the case
	Issued   time.Time    `json:"issued"` // UTC, when it was closed
	Language string       `json:"language"`
	Paper    orders.Paper `json:"paper"`
	Units    act.Units    `json:"units"`
	Zone     string       `json:"zone"`
	Model    int          `json:"model"`
	Layout   int          `json:"layout"`

	Opened   time.Time `json:"opened"`
	OpenedBy string    `json:"opened_by"`
	ClosedBy string    `json:"closed_by"`
	Capacity Capacity  `json:"capacity"`
	Subject  Subject   `json:"subject"` // parties, rule set, what was sold, when, where
	Days     int       `json:"days"`    // from delivery to closing

	// What follows is in the order it was written down; the last of each holds.
	Notices     []Notice       `json:"notices"`
	Attendances []Attendance   `json:"attendances"`
	Holds       []Hold         `json:"holds"`
	Plans       []Plan         `json:"plans"`
	Checklist   []Item         `json:"checklist"`
	Photos      []photos.Photo `json:"photos,omitempty"`
	Notes       []Note         `json:"notes,omitempty"` // written before closing

	Measurers []Tally `json:"measurers"` // in the order they were added
	// Together is what several measurers come to; nil with one measurer.
	Together *stack.Combined `json:"together,omitempty"`
	// Result is Together's, or that of the one measurer.
	Result stack.Result `json:"result"`

	// Limits are what weakens the result, what holds a word back first.
	Limits []Limit `json:"limits,omitempty"`
	// Dates say what has dates out of their order.
	Dates []measure.Text `json:"dates,omitempty"`
	// Keeper is in whose database the audit is kept; zero where that was not kept.
	Keeper Keeper `json:"keeper,omitzero"`
	// Departures say where the readings are not as planned.
	Departures []measure.Text `json:"departures,omitempty"`
	// Favour lists what was reckoned in the seller's favour.
	Favour []measure.Text `json:"favour"`
	// Statement is the finding in the words of who closed it, beside the model's.
	Statement string `json:"statement,omitempty"`
	// Rules are the rules of the sale as they stood on the day, each with its source,
	// without the terms they bar (rules.Set.Unbarred); nil where they were not kept.
	Rules *rules.Set `json:"rules,omitempty"`
	// Shares are stated shares of species held against pieces counted; nil where none
	// were counted.
	Shares *wood.Shares `json:"shares,omitempty"`
}

// UnmarshalJSON reads a report as it is written, and one of format 1, which called a
// measurer a hand.
func (r *Report) UnmarshalJSON(b []byte) error {
	type report Report
	was := struct {
		*report
		Hands []Tally `json:"hands"`
	}{report: (*report)(r)}
	err := json.Unmarshal(b, &was)
	if len(r.Measurers) == 0 {
		r.Measurers = was.Hands
	}
	return err
}

// A Tally is what one measurer read and what it came to.
type Tally struct {
	Name     string    `json:"name"`
	HandedIn time.Time `json:"handed_in"`
	Seal     string    `json:"seal,omitempty"` // empty where it was read before readings were sealed
	// Circumstances are when, as what and with which tape it was read; zero where that
	// was not asked yet.
	Circumstances Circumstances  `json:"circumstances,omitzero"`
	Openings      []LinkOpening  `json:"openings,omitempty"` // of its links, oldest first
	Tally         stack.Document `json:"tally"`
	Result        stack.Result   `json:"result"`
	// Procedure is the procedure's own result of the same readings.
	Procedure procedure.Result `json:"procedure"`
	Struck    []StruckTally    `json:"struck,omitempty"` // oldest first
}

// A StruckTally is what a measurer had handed in and struck through by a correction. It
// stays legible.
type StruckTally struct {
	HandedIn      time.Time        `json:"handed_in"`
	Seal          string           `json:"seal,omitempty"`
	Circumstances Circumstances    `json:"circumstances,omitzero"`
	Tally         stack.Document   `json:"tally"`
	Volume        measure.Quantity `json:"volume"`
	Struck        time.Time        `json:"struck"`
	Reason        string           `json:"reason"`
}

// A Keeper is in whose database an audit is kept.
type Keeper struct {
	Name   string `json:"name"`             // of the shop; empty where it has none yet
	Seller bool   `json:"seller,omitempty"` // it is the seller that was audited
}

// A Picture is the shown copy of a photo, for print.
type Picture struct {
	Photo photos.Photo
	JPEG  []byte // without what was hidden in the original
}

// A Printer paints the report of an audit. hash is SHA-256 of the report's
// bytes in hex, printed so that paper and bytes can be held against each other; the
// pictures are those of r.Photos, in their order. The same data give the same bytes.
// The error is an *Error of Kind Invalid naming the field when a text cannot be
// printed.
type Printer interface {
	act.Font
	// Layout is the number of the layout it prints.
	Layout() int
	Audit(r Report, hash string, pictures []Picture) ([]byte, error)
}
