package cases

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// A Case is a buyer's record of one delivery: what was bought, what was measured, and
// what buyer and seller said to each other. Nothing in it is overwritten.
type Case struct {
	ID      string    `json:"id"`                // UUIDv7
	Receipt int64     `json:"receipt,omitempty"` // of this shop; 0: bought elsewhere
	Account Statement `json:"account"`           // the latest
	Tallies []Tally   `json:"tallies"`           // oldest first
	Entries []Entry   `json:"entries"`           // oldest first
	Created time.Time `json:"created"`
}

// A Statement is what the buyer says of a delivery. Each change is kept beside those
// before it. Of a case on a receipt, all but the answers is what the receipt says.
type Statement struct {
	Version     int64            `json:"version"`          // counts up in the case
	Words       string           `json:"-" names:"erased"` // the quantity as said; stays inside
	RuleSet     string           `json:"rule_set" names:"program"`
	Quantity    measure.Quantity `json:"quantity"`                      // 0 where only the words are kept
	AsWords     bool             `json:"as_words,omitempty"`            // the words name no measure that the buyer agreed to
	PieceLength measure.Length   `json:"piece_length,omitempty"`        // 0: not said
	Wood        string           `json:"wood,omitempty" names:"erased"` // what it was, and what was said of it
	Seller      orders.Party     `json:"seller" names:"erased"`
	Buyer       orders.Party     `json:"buyer" names:"erased"`
	DeliveredOn act.Date         `json:"delivered_on"`
	Price       money.Money      `json:"price,omitzero"` // of no currency: not said
	// Slip tells whether a ticket or receipt was left. Has and Lacks are the codes of
	// required fields that were looked for on it.
	Slip  YesNo    `json:"slip,omitempty"`
	Has   []string `json:"has,omitempty" names:"program"`
	Lacks []string `json:"lacks,omitempty" names:"program"`
	Answers
	At time.Time `json:"at"` // when this was said
}

// Answers are what a weights and measures office asks besides what a receipt says.
type Answers struct {
	Vehicle string               `json:"vehicle,omitempty" names:"erased"` // plate, colour, what it was
	Payment orders.PaymentMethod `json:"payment,omitempty"`
	Used    YesNo                `json:"used,omitempty"`    // has any been burned, moved or mixed
	Stacked YesNo                `json:"stacked,omitempty"` // does it stand ranked, touching and parallel
}

// YesNo is an answer; the zero YesNo is not said.
type YesNo string

// The answers.
const (
	Yes YesNo = "yes"
	No  YesNo = "no"
)

// A Tally is a tally of the buyer's, held against what was sold.
type Tally struct {
	Look     int          `json:"look"`           // which look of the buyer's, from 1
	Document []byte       `json:"-" names:"sale"` // as read and completed
	Result   stack.Result `json:"result" names:"program"`
	By       string       `json:"by" names:"erased"` // who read
	Created  time.Time    `json:"created"`
}

// EntryKind is what is said in an exchange.
type EntryKind string

// The kinds of entry.
const (
	Claim  EntryKind = "claim"  // the buyer says what is wrong
	Answer EntryKind = "answer" // the seller answers
	Reply  EntryKind = "reply"  // the buyer accepts it or not
	Office EntryKind = "office" // the buyer has asked an office
)

// Remedy is what a buyer asks for and a seller offers; the zero Remedy is not said.
type Remedy string

// The remedies. A seller may also disagree.
const (
	BringWood Remedy = "wood"
	GiveMoney Remedy = "money"
	Together  Remedy = "together" // come and measure together
	Disagree  Remedy = "disagree"
)

// An Entry is one thing said in the exchange between buyer and seller.
type Entry struct {
	ID      string      `json:"id"`
	Kind    EntryKind   `json:"kind"`
	Party   stack.Party `json:"party"`                      // whose words they are
	By      string      `json:"by,omitempty" names:"staff"` // who wrote them down; empty for the buyer, who stands in the account
	Text    string      `json:"text" names:"erased"`        // may be empty where the rest says enough
	Remedy  Remedy      `json:"remedy,omitempty"`           // asked for, or offered
	Accepts YesNo       `json:"accepts,omitempty"`
	At      time.Time   `json:"at"`
}

// A File is a case as somebody opens it, with what it is printed by.
type File struct {
	Case     Case
	Party    stack.Party // as whom: the buyer or the seller
	Language string
	Units    act.Units
	Paper    orders.Paper
	Zone     string
	Set      rules.Set
	Unit     rules.UnitCode // of quantities
	Currency string
	Today    act.Date       // in Zone
	Issued   *orders.Issued // the receipt; nil for wood bought elsewhere
	Link     *Link          // for the seller: the one that holds
	Tallies  []orders.Tally // for the seller: those of the order
	Lacking  []Lacked       // what an office would ask that is not said
	Step     Step           // what comes next
	// Erased is when its names were erased; zero while it has them.
	Erased time.Time
}

// Days is how many days ago the wood was delivered, 0 for today.
func (f File) Days() int { return f.Case.Account.DeliveredOn.DaysTo(f.Today) }

// Latest is the buyer's last tally; nil before the first.
func (c Case) Latest() *Tally {
	if len(c.Tallies) == 0 {
		return nil
	}
	return &c.Tallies[len(c.Tallies)-1]
}

// Last is the last entry of a kind, nil without one.
func (c Case) Last(kind EntryKind) *Entry {
	for i := len(c.Entries) - 1; i >= 0; i-- {
		if c.Entries[i].Kind == kind {
			return &c.Entries[i]
		}
	}
	return nil
}
