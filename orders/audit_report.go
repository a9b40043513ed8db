package orders

import (
	"encoding/json"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
)

// AuditReportFormat is the number of the report's data format.
const AuditReportFormat = 2

// An AuditReport is all that the paper of a closed audit prints: a snapshot in plain
// data, stored as canonical JSON bytes with their hash and never recomputed.
type AuditReport struct {
	Format   int       `json:"format"`
	Number   int64     `json:"number"` // of the case
	Issued   time.Time `json:"issued"` // UTC, when it was closed
	Language string    `json:"language"`
	Paper    Paper     `json:"paper"`
	Units    act.Units `json:"units"`
	Zone     string    `json:"zone"`
	Model    int       `json:"model"`
	Layout   int       `json:"layout"`

	Opened   time.Time     `json:"opened"`
	OpenedBy string        `json:"opened_by"`
	ClosedBy string        `json:"closed_by"`
	Capacity AuditCapacity `json:"capacity"`
	Subject  AuditSubject  `json:"subject"` // parties, rule set, what was sold, when, where
	Days     int           `json:"days"`    // from delivery to closing

	// What follows is in the order it was written down; the last of each holds.
	Notices     []AuditNotice     `json:"notices"`
	Attendances []AuditAttendance `json:"attendances"`
	Holds       []AuditHold       `json:"holds"`
	Plans       []AuditPlan       `json:"plans"`
	Checklist   []AuditItem       `json:"checklist"`
	Photos      []AuditPhoto      `json:"photos,omitempty"`
	Notes       []AuditNote       `json:"notes,omitempty"` // written before closing

	Measurers []AuditTally `json:"measurers"` // in the order they were added
	// Together is what several measurers come to; nil with one measurer.
	Together *stack.Combined `json:"together,omitempty"`
	// Result is Together's, or that of the one measurer.
	Result stack.Result `json:"result"`

	// Limits are what weakens the result, what holds a word back first.
	Limits []AuditLimit `json:"limits,omitempty"`
	// Dates say what has dates out of their order.
	Dates []measure.Text `json:"dates,omitempty"`
	// Keeper is in whose database the audit is kept; zero where that was not kept.
	Keeper AuditKeeper `json:"keeper,omitzero"`
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
func (r *AuditReport) UnmarshalJSON(b []byte) error {
	type report AuditReport
	was := struct {
		*report
		Hands []AuditTally `json:"hands"`
	}{report: (*report)(r)}
	err := json.Unmarshal(b, &was)
	if len(r.Measurers) == 0 {
		r.Measurers = was.Hands
	}
	return err
}

// An AuditTally is what one measurer read and what it came to.
type AuditTally struct {
	Name     string    `json:"name"`
	HandedIn time.Time `json:"handed_in"`
	Seal     string    `json:"seal,omitempty"` // empty where it was read before readings were sealed
	// Circumstances are when, as what and with which tape it was read; zero where that
	// was not asked yet.
	Circumstances AuditCircumstances `json:"circumstances,omitzero"`
	Openings      []LinkOpening      `json:"openings,omitempty"` // of its links, oldest first
	Tally         stack.Document     `json:"tally"`
	Result        stack.Result       `json:"result"`
	// Procedure is the procedure's own result of the same readings.
	Procedure stack.ProcedureResult `json:"procedure"`
	Struck    []StruckTally         `json:"struck,omitempty"` // oldest first
}

// A StruckTally is what a measurer had handed in and struck through by a correction. It
// stays legible.
type StruckTally struct {
	HandedIn      time.Time          `json:"handed_in"`
	Seal          string             `json:"seal,omitempty"`
	Circumstances AuditCircumstances `json:"circumstances,omitzero"`
	Tally         stack.Document     `json:"tally"`
	Volume        measure.Quantity   `json:"volume"`
	Struck        time.Time          `json:"struck"`
	Reason        string             `json:"reason"`
}

// An AuditKeeper is in whose database an audit is kept.
type AuditKeeper struct {
	Name   string `json:"name"`             // of the shop; empty where it has none yet
	Seller bool   `json:"seller,omitempty"` // it is the seller that was audited
}

// An AuditPicture is the shown copy of a photo, for print.
type AuditPicture struct {
	Photo AuditPhoto
	JPEG  []byte // without what was hidden in the original
}

// An AuditPrinter paints the report of an audit. hash is SHA-256 of the report's
// bytes in hex, printed so that paper and bytes can be held against each other; the
// pictures are those of r.Photos, in their order. The same data give the same bytes.
// The error is an *Error of Kind Invalid naming the field when a text cannot be
// printed.
type AuditPrinter interface {
	Audit(r AuditReport, hash string, pictures []AuditPicture) ([]byte, error)
}
