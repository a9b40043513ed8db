package orders

import (
	"context"
	"slices"
	"strconv"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
)

// CautiousMonths is how long names are kept where the rules of sale state nothing: a
// cautious practice of our own, no rule.
const CautiousMonths = 12

// What stands where a name was and a row cannot be without one.
const (
	ErasedName   = "Names erased"
	ErasedReader = "the buyer"
)

// NamesErased is the verb of an erasure.
const NamesErased Verb = "erase names"

// An Erasure is names that were erased: who, when, and of which papers.
type Erasure struct {
	ID       string    `json:"id"`
	By       string    `json:"by"`
	At       time.Time `json:"at"`
	Receipts []int64   `json:"receipts"`
	Sheets   []int64   `json:"sheets,omitempty"`
	// Cleared tells that the file was rewritten since, so that nothing is left in it.
	Cleared bool `json:"cleared"`
}

// An ErasurePlan is what of the names here may be erased now. Names are erased order by
// order: one receipt that is kept keeps the names of its order.
type ErasurePlan struct {
	Receipts []int64 `json:"receipts"`         // past what is asked, in order
	Sheets   []int64 `json:"sheets,omitempty"` // of the same orders
	// Held are past it too and are held back.
	Held  []HeldBack `json:"held"`
	Later int        `json:"later"`         // receipts that are not past it
	Next  Date       `json:"next,omitzero"` // the first day that more are
	Done  []Erasure  `json:"done"`          // newest first

	orders []string
}

// HeldBack are the receipts of an order that are past what is asked and kept still.
type HeldBack struct {
	Order    int64          `json:"order"` // its number
	OrderID  string         `json:"order_id"`
	Receipts []int64        `json:"receipts"`
	Why      []measure.Text `json:"why"`
}

// Uncleared tells that the file may hold bytes of names that were erased.
func (p ErasurePlan) Uncleared() bool {
	return slices.ContainsFunc(p.Done, func(e Erasure) bool { return !e.Cleared })
}

// An EraseRequest says which names are erased, as typed.
type EraseRequest struct {
	Receipts  string `json:"receipts"`  // the plan's, as JoinNumbers writes them
	Confirmed string `json:"confirmed"` // how many receipts that are
}

// JoinNumbers writes numbers one after the other: "1, 2, 3".
func JoinNumbers(numbers []int64) string {
	texts := make([]string, len(numbers))
	for i, n := range numbers {
		texts[i] = strconv.FormatInt(n, 10)
	}
	return strings.Join(texts, ", ")
}

// ErasureStore erases names and keeps the log of it.
type ErasureStore interface {
	// Named are the ids of orders that have receipts and their names, by their first
	// receipt.
	Named() ([]string, error)
	// EraseNames takes the names out of an order, its customer, receipts, sheets,
	// tallies, case, links and place on the waiting list, and raises its version. What
	// was hashed apart from them stays, and so do all hashes.
	EraseNames(orderID string, at time.Time) error
	// Erasures are all, newest first.
	Erasures() ([]Erasure, error)
	AddErasure(e Erasure) error
	// MarkCleared marks all erasures as cleared from the file.
	MarkCleared(at time.Time) error
	// NamesBack are the numbers of orders that were erased and have names again.
	NamesBack() ([]int64, error)
}

// ErasurePlan gives what may be erased now, what is held back and why, and what was
// erased before.
func (s *Service) ErasurePlan(ctx context.Context, who Actor) (plan ErasurePlan, err error) {
	if err := allow(who, toManage); err != nil {
		return ErasurePlan{}, err
	}
	err = s.store.Read(ctx, func(tx Tx) error {
		plan, err = s.erasurePlan(tx)
		return err
	})
	return plan, fail(err)
}

func (s *Service) erasurePlan(tx Tx) (plan ErasurePlan, err error) {
	shop, err := tx.Shop()
	if err != nil {
		return plan, err
	}
	today := dayIn(s.now(), shop.Zone)
	if plan.Done, err = tx.Erasures(); err != nil {
		return plan, err
	}
	plan.Receipts, plan.Held = []int64{}, []HeldBack{} // written as lists
	ids, err := tx.Named()
	if err != nil {
		return plan, err
	}
	for _, id := range ids {
		if err := s.planOrder(tx, &plan, id, today); err != nil {
			return plan, err
		}
	}
	slices.Sort(plan.Receipts)
	slices.Sort(plan.Sheets)
	return plan, nil
}

// planOrder puts an order where it belongs in the plan.
func (s *Service) planOrder(tx Tx, plan *ErasurePlan, id string, today Date) error {
	filed, err := tx.OrderReceipts(id)
	if err != nil {
		return err
	}
	k, err := s.keptOf(filed)
	if err != nil {
		return err
	}
	tallies, err := tx.Tallies(id)
	if err != nil {
		return err
	}
	var sheets []int64
	for _, t := range tallies {
		sheets = append(sheets, t.Sheet)
		k.until(dayIn(t.Created, k.zone), k.months)
	}
	if !today.After(k.last) {
		plan.Later += len(filed)
		if plan.Next.IsZero() || plan.Next.After(k.last.AddDays(1)) {
			plan.Next = k.last.AddDays(1)
		}
		return nil
	}
	why := k.unknown
	o, err := tx.Order(id)
	if err != nil {
		return err
	}
	for _, reason := range []func(Tx, Order, []StoredReceipt) ([]measure.Text, error){
		openOrderHolds, moneyHolds, settlementHolds, caseHolds,
	} {
		more, err := reason(tx, o, filed)
		if err != nil {
			return err
		}
		why = append(why, more...)
	}
	more, err := auditHolds(tx, id, k, today)
	if err != nil {
		return err
	}
	if why = append(why, more...); len(why) > 0 {
		plan.Held = append(plan.Held, HeldBack{Order: o.Number, OrderID: id, Receipts: numbersOf(filed), Why: why})
		return nil
	}
	plan.orders = append(plan.orders, id)
	plan.Receipts, plan.Sheets = append(plan.Receipts, numbersOf(filed)...), append(plan.Sheets, sheets...)
	return nil
}

func numbersOf(filed []StoredReceipt) []int64 {
	numbers := make([]int64, len(filed))
	for i, r := range filed {
		numbers[i] = r.Number
	}
	return numbers
}

// kept is how long the papers of an order are kept.
type kept struct {
	last    Date // the last day that is asked for
	months  int  // the longest of its receipts that count
	zone    string
	unknown []measure.Text // rule sets that are not known here
}

// until makes room for a paper of a day.
func (k *kept) until(day Date, months int) {
	if last := DateOf(day.Midnight().AddDate(0, months, 0)); k.last.IsZero() || last.After(k.last) {
		k.last = last
	}
}

// keptOf reads how long receipts are kept, each by the rules it was issued under: from
// the day it was issued or of its delivery, whichever is later. One that was made void
// or corrected, and the one that did it, are kept as voided tickets are.
func (s *Service) keptOf(filed []StoredReceipt) (k kept, err error) {
	for _, r := range filed {
		f, err := r.facts()
		if err != nil {
			return k, err
		}
		k.zone = f.Zone
		months, voided := CautiousMonths, CautiousMonths
		set, err := s.rules.Get(f.RuleSet.Code)
		if err != nil {
			k.unknown = append(k.unknown, measure.Say("receipt %d was issued under rules that the program was not started with: %s", int(r.Number), f.RuleSet.Name))
		} else {
			months, voided = KeptMonths(set)
		}
		k.months = max(k.months, months)
		if r.Ended != nil || r.Kind.Ends() {
			months = voided
		}
		k.until(dayIn(r.Issued, f.Zone), months)
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

// dayIn is the day of an instant in a zone, in UTC where that is not known.
func dayIn(t time.Time, zone string) Date {
	place, err := time.LoadLocation(zone)
	if err != nil {
		place = time.UTC
	}
	return DateOf(t.In(place))
}
