package audits

import (
	"encoding/json"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
	"wellstowed/orders/yard"
)

// State is where an audit stands.
type State string

// The states of an audit.
const (
	Open   State = "open"
	Closed State = "closed"
)

// An Audit is a check of one delivery by people who are neither its seller nor its
// buyer. What happens to it is appended, never changed; once closed it takes notes
// only. It never holds what a measurer has read: while the audit is open nobody but that
// measurer may see it, and afterwards the report holds it.
type Audit struct {
	ID       string    `json:"id"`     // UUIDv7
	Number   int64     `json:"number"` // of the case, counting without gaps
	Version  int64     `json:"version"`
	State    State     `json:"state"`
	Subject  Subject   `json:"subject"`
	Capacity Capacity  `json:"capacity"` // of who opened it
	OpenedBy string    `json:"opened_by" names:"staff"`
	Opened   time.Time `json:"opened"`
	// What follows is in the order it was written down; the last of each holds.
	Notices     []Notice       `json:"notices,omitempty"`
	Attendances []Attendance   `json:"attendances,omitempty"`
	Holds       []Hold         `json:"holds,omitempty"`
	Plans       []Plan         `json:"plans,omitempty"` // the first was fixed, the others amend it
	Measurers   []Measurer     `json:"measurers,omitempty"`
	Checklist   []Item         `json:"checklist"`
	Photos      []photos.Photo `json:"photos,omitempty"`
	Notes       []Note         `json:"notes,omitempty"`
	// ClosedAt, Word and Hash are of a closed audit only.
	ClosedAt time.Time  `json:"closed_at,omitzero"`
	Word     stack.Word `json:"word,omitempty"` // the finding
	Hash     string     `json:"hash,omitempty"` // SHA-256 of the report's bytes, hex
	// Erased is when its names were erased, and with them its report, readings, photos
	// and all that was recorded but the result; zero while it has them.
	Erased time.Time `json:"names_erased,omitzero"`
}

// A Subject is the delivery that is audited: that of a receipt, or a load with
// no order here.
type Subject struct {
	// Receipt, OrderID and Order are of a delivery with a receipt; zero for a load
	// with no order.
	Receipt     orders.ReceiptRef `json:"receipt,omitzero"`
	OrderID     string            `json:"order_id,omitempty"`
	Order       int64             `json:"order,omitempty"`
	Vendor      orders.Party      `json:"vendor" names:"seller"`
	Purchaser   orders.Party      `json:"purchaser"`
	RuleSet     orders.RuleSet    `json:"rule_set"`          // that governs the sale
	Ordered     *measure.Quantity `json:"ordered,omitempty"` // nil where it is not known
	Sold        measure.Quantity  `json:"sold"`              // what was said to be delivered
	PieceLength measure.Length    `json:"piece_length"`
	Species     string            `json:"species,omitempty" names:"sale"`
	Seasoning   yard.Seasoning    `json:"seasoning,omitempty"` // as stated by the seller
	DeliveredOn act.Date          `json:"delivered_on"`
	Place       string            `json:"place" names:"erased"` // where the wood stands
	// Zone is the time zone its times are in; empty: the shop's.
	Zone string `json:"zone,omitempty" names:"shop"`
	// TicketHas are the codes of required fields that the receipt holds.
	TicketHas []string `json:"ticket_has,omitempty" names:"program"`
}

// A Capacity is as what somebody audits.
type Capacity struct {
	Official bool   `json:"official"`
	Office   string `json:"office,omitempty" names:"staff"` // of an official
	Badge    string `json:"badge,omitempty" names:"staff"`  // badge or commission number
}

// A Notice is how the seller was told of the audit. How is empty where he was
// not told; then Note says why.
type Notice struct {
	How       string    `json:"how" names:"erased"` // "by phone", "in person", …, in plain words
	When      time.Time `json:"when,omitzero"`
	By        string    `json:"by" names:"erased"`  // who told him
	Appointed time.Time `json:"appointed,omitzero"` // when he was asked to come
	Note      string    `json:"note,omitempty" names:"erased"`
	Written   time.Time `json:"written"` // when it was written down
}

// An Attendance is whether the seller came.
type Attendance struct {
	Attended string    `json:"attended" names:"erased"` // "yes", "no" or "declined"
	Who      string    `json:"who,omitempty" names:"erased"`
	Note     string    `json:"note,omitempty" names:"erased"`
	Written  time.Time `json:"written"`
}

// A Hold is the wood kept unmoved, and what of the delivery is elsewhere.
type Hold struct {
	Since  time.Time `json:"since,omitzero"`
	By     string    `json:"by" names:"erased"`             // who answers for it
	Broken bool      `json:"broken"`                        // it was moved or used meanwhile
	Used   bool      `json:"used,omitempty"`                // it was used
	Note   string    `json:"note,omitempty" names:"erased"` // what was moved or used
	// StackedBy is who stacked it again meanwhile; empty where nobody did or that isn't
	// known.
	StackedBy stack.Stacker `json:"stacked_by,omitempty"`
	Apart     stack.Apart   `json:"apart"` // of this delivery, not in the stack; holds for every measurer
	Written   time.Time     `json:"written"`
}

// Faces tells which faces of the stack are read.
type Faces string

// The faces.
const (
	FrontFace Faces = "front"
	BothFaces Faces = "both"
)

// A Plan is how the wood is to be measured, fixed before the tape comes out.
type Plan struct {
	Kind      string         `json:"kind" names:"erased"` // of stack, as in the tally document
	Measurers int            `json:"measurers"`           // 1 to stack.MaxHands
	Lengths   int            `json:"lengths,omitempty"`   // of each row, at so many heights; 0 for other kinds
	Stations  int            `json:"stations"`            // heights in each row, 0 for other kinds
	Pieces    int            `json:"pieces"`              // to be taped
	Tape      measure.Length `json:"tape"`                // the smallest division read
	Top       stack.Top      `json:"top"`
	Faces     Faces          `json:"faces"`
	Stop      string         `json:"stop" names:"erased"` // when measuring ends, in plain words
	Look      int            `json:"look"`                // which look at this delivery, from 1
	// Reason is why the plan before was amended; empty on the first.
	Reason string    `json:"reason,omitempty" names:"erased"`
	By     string    `json:"by" names:"erased"`
	Fixed  time.Time `json:"fixed"`
}

// UnmarshalJSON reads a plan as it is written, and as it was when a measurer was called
// a hand.
func (p *Plan) UnmarshalJSON(b []byte) error {
	type plan Plan
	was := struct {
		*plan
		Hands int `json:"hands"`
	}{plan: (*plan)(p)}
	err := json.Unmarshal(b, &was)
	if p.Measurers == 0 {
		p.Measurers = was.Hands
	}
	return err
}

// A Measurer is somebody who measures, blind to the others until the audit is
// closed.
type Measurer struct {
	ID      string    `json:"id"`
	Name    string    `json:"name" names:"erased"`
	Added   time.Time `json:"added"`
	Renewed time.Time `json:"renewed,omitzero"` // when the link was last renewed
	// Openings are when its links were opened, oldest first.
	Openings  []LinkOpening `json:"openings,omitempty"`
	Drafts    int           `json:"drafts"`             // saved before handing in
	HandedIn  time.Time     `json:"handed_in,omitzero"` // first
	Corrected time.Time     `json:"corrected,omitzero"` // last
	// Circumstances are of the readings that count; zero before they are handed in.
	Circumstances Circumstances `json:"circumstances,omitzero"`
	Struck        int           `json:"struck,omitempty"` // readings crossed out by corrections
	Seal          string        `json:"seal,omitempty"`   // of the readings that count; empty before they are handed in
}

// Answer is what was said to an item of the checklist.
type Answer string

// The answers; the zero Answer is none yet.
const (
	AnswerYes     Answer = "yes"
	AnswerNo      Answer = "no"
	AnswerNotSeen Answer = "not seen" // with a note why
)

// An Item is one item of the checklist of evidence.
type Item struct {
	Code     string       `json:"code" names:"erased"` // "tape", "ticket.price", …
	Question measure.Text `json:"question"`            // answered with yes, no or not seen
	Answer   Answer       `json:"answer,omitempty"`
	Note     string       `json:"note,omitempty" names:"erased"`
	// Filled tells that the answer was read off the receipt, by nobody's hand.
	Filled  bool      `json:"filled,omitempty"`
	By      string    `json:"by,omitempty" names:"erased"`
	Written time.Time `json:"written,omitzero"`
}

// NoteKind is what a note on a closed or open audit is.
type NoteKind string

// The kinds of note.
const (
	PlainNote    NoteKind = "note"
	SellerAnswer NoteKind = "answer" // what the seller said to it
	CopyGiven    NoteKind = "copy"   // who got a copy of the report
)

// A Note is appended to an audit, also after it was closed.
type Note struct {
	Kind    NoteKind  `json:"kind"`
	Who     string    `json:"who,omitempty" names:"erased"` // who answered or got the copy
	Text    string    `json:"text,omitempty" names:"erased"`
	By      string    `json:"by" names:"erased"` // who wrote it down
	Written time.Time `json:"written"`
}
