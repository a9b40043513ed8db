package orders

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// SettleBy is what a shortage is made good with.
type SettleBy string

// The ways to settle.
const (
	SettleWood  SettleBy = "wood"
	SettleMoney SettleBy = "money"
)

// AgreedHow is how the buyer agreed.
type AgreedHow string

// The ways to agree.
const (
	ByWord    AgreedHow = "word"
	InWriting AgreedHow = "writing"
)

// A Settlement is what is owed of a delivery and how it is made good, as agreed with
// the buyer. It is never changed: what is done about it is added, and another view
// of it is a new one that names it.
type Settlement struct {
	ID      string           `json:"id"`
	OrderID string           `json:"order_id"`
	Receipt int64            `json:"receipt"`         // that it settles
	Sheet   int64            `json:"sheet,omitempty"` // the measurement sheet that found it; 0: granted without
	Owed    measure.Quantity `json:"owed"`
	// Pieces are about how many pieces Owed is.
	Pieces stack.PieceCount `json:"pieces"`
	// Worth is Owed at the price agreed, with its tax, rounded once each, half away
	// from zero.
	Worth     money.Money `json:"worth"`
	Choice    SettleBy    `json:"choice"`
	AgreedOn  act.Date    `json:"agreed_on"`
	AgreedHow AgreedHow   `json:"agreed_how"`
	Reason    string      `json:"reason,omitempty" names:"erased"` // in the seller's words; printed
	Replaces  string      `json:"replaces,omitempty"`              // id of the settlement that this one stands in place of
	By        string      `json:"by" names:"staff"`                // who chose
	Created   time.Time   `json:"created"`
	// Steps are what was done about it, oldest first.
	Steps []SettlementStep `json:"steps"`
	// Replaced tells that a later settlement stands in its place.
	Replaced bool `json:"replaced,omitempty"`
}

// A SettlementStep is one thing done about a settlement, with its receipt.
type SettlementStep struct {
	Receipt int64          `json:"receipt"`
	Brought measure.Volume `json:"brought,omitempty"` // on the basis owed
	Given   money.Money    `json:"given,omitzero"`
	Closes  bool           `json:"closes"`
	On      act.Date       `json:"on"`
	By      string         `json:"by" names:"staff"`
	Created time.Time      `json:"created"`
}

// Left is what is still owed in wood: nothing once it is closed.
func (s Settlement) Left() measure.Quantity {
	left := s.Owed
	if s.Closed() {
		left.Volume = 0
	}
	for _, step := range s.Steps {
		left.Volume -= step.Brought
	}
	left.Volume = max(left.Volume, 0)
	return left
}

// Closed tells whether nothing more is owed.
func (s Settlement) Closed() bool {
	return len(s.Steps) > 0 && s.Steps[len(s.Steps)-1].Closes
}

// Open tells whether it holds and something is still to be done about it.
func (s Settlement) Open() bool { return !s.Replaced && !s.Closed() }

// A SettleRequest is a settlement as typed.
type SettleRequest struct {
	Owed      string `json:"owed"` // quantity; empty: what the latest finding says is missing
	Choice    string `json:"choice"`
	AgreedOn  string `json:"agreed_on"`  // "2006-01-02"; empty: today in the shop's zone
	AgreedHow string `json:"agreed_how"` // "word" or "writing"
	Reason    string `json:"settle_reason"`
	// Replaces is the id of the latest settlement, which the new one stands in place
	// of; empty only for the first.
	Replaces string `json:"replaces"`
}

// A BringRequest is a second load against what is owed: a quantity, a body filled to
// its line, or a tally of the load.
type BringRequest struct {
	Brought string `json:"brought"`
	Body    string `json:"body"`   // id of a body; brought then says the same or nothing
	Tally   string `json:"tally"`  // a stack.Document as JSON text; the others then say nothing
	On      string `json:"on"`     // "2006-01-02"; empty: today in the shop's zone
	Enough  string `json:"enough"` // "yes": the buyer agrees that this closes it, though less was brought
}

// A GiveRequest is money that closes a settlement.
type GiveRequest struct {
	Given     string `json:"given"`     // empty: all that the wood owed is worth
	Method    string `json:"given_by"`  // "balance": taken off what the customer owes; or a way of paying
	Reference string `json:"reference"` // as in PaymentRequest
	On        string `json:"on"`
}

// OffBalance tells money that is taken off what the customer owes.
const OffBalance = "balance"

// SettlesFact is what a receipt that settles another says of it.
type SettlesFact struct {
	Owed    measure.Quantity `json:"owed"`              // at first
	Before  measure.Volume   `json:"before,omitempty"`  // brought with earlier receipts
	Brought measure.Volume   `json:"brought,omitempty"` // with this one
	Body    *yard.BodyFact   `json:"body,omitempty"`    // that it came in, filled to its line
	Tallied bool             `json:"tallied,omitempty"` // it was measured
	Tally   *LoadTally       `json:"tally,omitempty"`   // as it was measured
	Left    measure.Volume   `json:"left,omitempty"`    // still owed
	// Given is the money given for it, and Method how: "balance", or a way of paying.
	Given     money.Money `json:"given,omitzero"`
	Method    string      `json:"method,omitempty" names:"program"`
	Choice    SettleBy    `json:"choice"`
	AgreedOn  act.Date    `json:"agreed_on"`
	AgreedHow AgreedHow   `json:"agreed_how"`
	On        act.Date    `json:"on"`
	Closes    bool        `json:"closes"`
}

// shortBy is what the latest finding says is missing, with the sheet that says so;
// nothing where it is not short.
func shortBy(tallies []Tally) (measure.Volume, int64) {
	if len(tallies) == 0 {
		return 0, 0
	}
	last := tallies[len(tallies)-1]
	if f := last.Result.Finding; f != nil && f.Word == stack.Short {
		return -f.Margin, last.Sheet
	}
	return 0, 0
}

// piecesOf counts the pieces of wood owed: as those of the latest tally were
// counted, else by common practice.
func piecesOf(o Order, tallies []Tally, owed measure.Quantity) stack.PieceCount {
	if owed.Basis != measure.Ranked {
		return stack.PieceCount{}
	}
	count := stack.UsualPieces(o.PieceLength)
	for _, t := range tallies {
		if t.Result.Pieces.PieceLength > 0 {
			count = t.Result.Pieces
		}
	}
	count.Low, count.High = count.Of(owed.Volume)
	return count
}

// worthOf is what a part of an order's wood costs at the price agreed, with its tax.
func worthOf(o Order, v measure.Volume) money.Money {
	wood := o.Price.Wood.ForVolume(v, o.Quantity.Volume)
	if t := o.Price.Tax; t != nil && t.On.Wood {
		return wood.Add(t.due(wood))
	}
	return wood
}

// Offer is what would be owed if the latest finding were settled as it is: a
// settlement that nobody has agreed to. Owed is nothing where no finding is short.
func (h History) Offer() Settlement {
	short, sheet := shortBy(h.Tallies)
	owed := measure.Quantity{Volume: short, Basis: h.Order.Quantity.Basis}
	return Settlement{OrderID: h.Order.ID, Sheet: sheet, Owed: owed, Pieces: piecesOf(h.Order, h.Tallies, owed), Worth: worthOf(h.Order, short)}
}

// Settlement is the settlement that holds, nil without one.
func (h History) Settlement() *Settlement {
	if len(h.Settlements) == 0 {
		return nil
	}
	return &h.Settlements[len(h.Settlements)-1]
}
