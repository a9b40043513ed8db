// Package privacy erases names whose time is over: it plans what may go, asks each door
// why names of an order are still kept, takes them out of the file and logs that it did.
package privacy

import (
	"context"
	"slices"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/ledger"
)

// CautiousMonths is how long names are kept where the rules of sale state nothing: a
// cautious practice of our own, no rule.
const CautiousMonths = 12

// UnsoldMonths is how long the names of an order that was cancelled, or of a place that
// was dropped from the waiting list, are kept where nothing was measured or paid: long
// enough to notice a slip, a practice of our own.
const UnsoldMonths = 1

// NamesErased is the verb of an erasure.
const NamesErased act.Verb = "erase names"

// Erased lists what names are erased of, or were.
type Erased struct {
	Receipts []int64 `json:"receipts"`                   // in order
	Sheets   []int64 `json:"sheets,omitempty"`           // of the same orders
	Audits   []int64 `json:"audits,omitempty"`           // of the same orders, and of loads with no order here
	Orders   []int64 `json:"cancelled_orders,omitempty"` // those without a receipt
	Places   int     `json:"dropped_places,omitempty"`   // on the waiting list
	Records  int     `json:"own_records,omitempty"`      // of wood bought elsewhere
}

// An Erasure is names that were erased: who, when, and of what.
type Erasure struct {
	ID string    `json:"id"`
	By string    `json:"by"`
	At time.Time `json:"at"`
	Erased
	// Cleared tells that the file was rewritten since, so that nothing is left in it.
	Cleared bool `json:"cleared"`
	// Of are the records behind the list, those of an order's audits too.
	Of []orders.Record `json:"-"`
}

// A Plan is what of the names here may be erased now. Names are erased record
// by record: one receipt that is kept keeps the names of its order.
type Plan struct {
	Erased
	// Code tells this plan from any other; empty where there is nothing to erase.
	Code string `json:"plan,omitempty"`
	// Held are past it too and are held back.
	Held  []HeldBack `json:"held"`
	Later int        `json:"later"`         // receipts that are not past it
	Next  act.Date   `json:"next,omitzero"` // the first day that more are
	// LaterRecords are cancelled orders, dropped places, own records and audits that
	// are not past it, and NextRecord the first day that more are.
	LaterRecords int       `json:"later_records,omitempty"`
	NextRecord   act.Date  `json:"next_record,omitzero"`
	Done         []Erasure `json:"done"` // newest first

	// records are erased one by one, and with are audits that go with their orders.
	records, with []orders.Record
	delivered     int // of the records, how many are orders with receipts
}

// Count is how many receipts and other records are in the plan: the sheets and audits
// that go with an order are not counted.
func (p Plan) Count() int { return len(p.Receipts) + len(p.records) - p.delivered }

// NotReached says where names can stand that an erasure leaves.
func (p Plan) NotReached() []measure.Text {
	return []measure.Text{
		measure.Say("Paper copies, and copies of the database made before."),
		measure.Say("On receipts, under their seals: why one was corrected or made void, what another fee was for, and why no tax was charged."),
		measure.Say("Who worked with this program: who took an order, delivered, read a tape or a meter, or audited; and which seller was audited."),
		measure.Say("Names typed where they don’t belong: into the names and notes of batches, or of truck and trailer beds and vehicles."),
		measure.Say("Calendars that read deliveries by a link keep what they read."),
	}
}

// HeldBack are the receipts of an order that are past what is asked and kept still.
type HeldBack struct {
	Order    int64          `json:"order"` // its number
	OrderID  string         `json:"order_id"`
	Receipts []int64        `json:"receipts"`
	Why      []measure.Text `json:"why"`
}

// Uncleared tells that the file may hold bytes of names that were erased.
func (p Plan) Uncleared() bool {
	return slices.ContainsFunc(p.Done, func(e Erasure) bool { return !e.Cleared })
}

// A Request says which names are erased, as typed.
type Request struct {
	Plan      string `json:"plan"`      // the plan's code
	Confirmed string `json:"confirmed"` // its count
}

// Log erases names and keeps the log of it.
type Log interface {
	// Named are the records that have their names and whose business is over: orders
	// that have receipts or were cancelled, places that were dropped, buyers' own
	// records, and closed audits of no order whose names are here. Orders are by their
	// number, then the others by age.
	Named() ([]orders.Record, error)
	// EraseNames takes the names out of a record and what belongs to it, and raises its
	// version. What was hashed apart from them stays, and so do all hashes.
	EraseNames(r orders.Record, at time.Time) error
	// Erasures are all, newest first.
	Erasures() ([]Erasure, error)
	AddErasure(e Erasure) error
	// MarkCleared marks all erasures as cleared from the file.
	MarkCleared(at time.Time) error
}

// A Tx is what erasing needs of a transaction.
type Tx interface {
	orders.Tx
	cases.Tx
	audits.Tx
	Log
}

// A Store can be cleared of what was erased.
type Store interface {
	act.Store[Tx]
	// Clear rewrites the data's file, so that nothing that was erased is left in it.
	Clear(ctx context.Context) error
}

// An Eraser erases names.
type Eraser struct {
	store   Store
	acts    act.Doer[Tx]
	book    rules.Book
	reasons []Reason
	now     func() time.Time
}

// New makes an Eraser over a store, by the rules of a book and a clock.
func New(store Store, book rules.Book, clock func() time.Time) *Eraser {
	now := act.Clock(clock)
	return &Eraser{store: store, acts: act.Doer[Tx]{Store: store, Now: now}, book: book, now: now,
		reasons: []Reason{
			func(tx Tx, o orders.Order, filed []orders.StoredReceipt) ([]measure.Text, error) {
				return orders.OpenReasons(tx, o, filed)
			},
			func(tx Tx, o orders.Order, filed []orders.StoredReceipt) ([]measure.Text, error) {
				return cases.Reasons(tx, o, filed)
			},
		}}
}

// Plan gives what may be erased now, what is held back and why, and what was
// erased before.
func (s *Eraser) Plan(ctx context.Context, who act.Actor) (plan Plan, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return Plan{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		plan, err = s.plan(tx)
		return err
	})
	return plan, act.Fail(err)
}

func (s *Eraser) plan(tx Tx) (plan Plan, err error) {
	shop, err := tx.Shop()
	if err != nil {
		return plan, err
	}
	if plan.Done, err = tx.Erasures(); err != nil {
		return plan, err
	}
	plan.Receipts, plan.Held = []int64{}, []HeldBack{} // written as lists
	records, err := tx.Named()
	if err != nil {
		return plan, err
	}
	p := planner{service: s, tx: tx, plan: &plan, shop: shop, today: act.DayIn(s.now(), shop.Zone)}
	for _, r := range records {
		if err := p.place(r); err != nil {
			return plan, err
		}
	}
	slices.Sort(plan.Receipts)
	slices.Sort(plan.Sheets)
	slices.Sort(plan.Audits)
	plan.Code = codeOf(plan.records)
	return plan, nil
}

// codeOf is a short hash of records.
func codeOf(records []orders.Record) string {
	if len(records) == 0 {
		return ""
	}
	var b strings.Builder
	for _, r := range records {
		b.WriteString(string(r.Kind) + " " + r.ID + "\n")
	}
	return ledger.Hash([]byte(b.String()))[:16]
}

func numbersOf(filed []orders.StoredReceipt) []int64 {
	numbers := make([]int64, len(filed))
	for i, r := range filed {
		numbers[i] = r.Number
	}
	return numbers
}

// kept is how long the papers of an order are kept.
type kept struct {
	last    act.Date // the last day that is asked for
	months  int      // the longest of its receipts that count
	zone    string
	unknown []measure.Text // rule sets that are not known here
}

// until makes room for a paper of a day.
func (k *kept) until(day act.Date, months int) {
	if last := act.DateOf(day.Midnight().AddDate(0, months, 0)); k.last.IsZero() || last.After(k.last) {
		k.last = last
	}
}

// keptOf reads how long receipts are kept, each by the rules it was issued under: from
// the day it was issued or of its delivery, whichever is later. One that was made void
// or corrected, and the one that did it, are kept as voided tickets are.
func (s *Eraser) keptOf(filed []orders.StoredReceipt) (k kept, err error) {
	for _, r := range filed {
		f, err := r.Facts()
		if err != nil {
			return k, err
		}
		k.zone = f.Zone
		months, voided := CautiousMonths, CautiousMonths
		set, err := s.book.Get(f.RuleSet.Code)
		if err != nil {
			k.unknown = append(k.unknown, measure.Say("receipt %d was issued under rules that the program was not started with: %s", int(r.Number), f.RuleSet.Name))
		} else {
			months, voided = KeptMonths(set)
		}
		k.months = max(k.months, months)
		if r.Ended != nil || r.Kind.Ends() {
			months = voided
		}
		k.until(act.DayIn(r.Issued, f.Zone), months)
		if !f.DeliveredOn.IsZero() {
			k.until(f.DeliveredOn, months)
		}
	}
	return k, nil
}

// KeptMonths are the months that a set asks receipts and voided ones to be kept, and
// CautiousMonths where it states none.
func KeptMonths(set rules.Set) (months, voided int) {
	r := set.Retention
	if r == nil {
		return CautiousMonths, CautiousMonths
	}
	return r.Months, max(r.Months, r.VoidedMonths)
}
