package audits

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A StackedTally is a tally of a delivery that was read more than once.
type StackedTally struct {
	Delivery string // of which the tallies are
	Order    int64  // its order's number; 0 for a buyer's case
	Receipt  int64  // that a buyer's case is about; 0 for an order's own tallies
	Look     int
	Document []byte
	Created  time.Time
}

// StackingStore finds tallies of wood that was read again.
type StackingStore interface {
	// StackedTallies gives all tallies of each order and of each buyer's case of which one
	// says whether its wood was stacked again, in the order of their checks.
	StackedTallies() ([]StackedTally, error)
}

// A StowingPair is two tallies of one delivery, the second saying whether the wood was
// stacked again.
type StowingPair struct {
	Order   int64         `json:"order,omitempty"`
	Receipt int64         `json:"receipt,omitempty"`
	Audit   int64         `json:"audit,omitempty"`
	First   int           `json:"first"`  // check of this delivery, from 1
	Second  int           `json:"second"` // the later one
	At      time.Time     `json:"at"`     // when the later was kept
	Stacked stack.Stacked `json:"stacked"`
	By      stack.Stacker `json:"stacked_by,omitempty"`
	stack.Restack
	// Left is why the constant isn't worked out from it; empty where it counts.
	Left Left `json:"left_out,omitempty"`
}

// Left is why a pair doesn't count.
type Left string

// Why it doesn't.
const (
	LeftSame    Left = "same stack"
	LeftHands   Left = "same hands"
	LeftUnnamed Left = "who isn't said"
	LeftApart   Left = "other wood"
)

// StowingEvidence is what is known here of how tightly people stack.
type StowingEvidence struct {
	Pairs   []StowingPair `json:"pairs"`   // by when the later was kept
	Counted int           `json:"counted"` // of them
	Enough  int           `json:"enough"`  // so many must count before Share is worked out
	// Share is the standard uncertainty of how tightly one person stacks, a ratio of the
	// volume; nil while too few pairs count.
	Share *float64 `json:"share,omitempty"`
}

// Stackers are who can have stacked wood again.
func Stackers() []stack.Stacker {
	return []stack.Stacker{stack.StackedAsBefore, stack.Stacker(stack.Buyer), stack.Stacker(stack.Seller), stack.Stacker(stack.Inspector), stack.StackedByOther}
}

// Stowing gives every pair of tallies of which the second says whether the wood was
// stacked again, and how tightly people stack by those that tell. It changes nothing of
// how a result is worked out.
func (s *Service) Stowing(ctx context.Context, who act.Actor) (e StowingEvidence, err error) {
	if err := act.Allow(who, act.ToAudit); err != nil {
		return e, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		tallies, err := tx.StackedTallies()
		if err != nil {
			return err
		}
		if e.Pairs, err = stowingPairs(tallies); err != nil {
			return err
		}
		audited, err := auditedPairs(tx)
		e.Pairs = append(e.Pairs, audited...)
		return err
	})
	if err != nil {
		return StowingEvidence{}, act.Fail(err)
	}
	slices.SortStableFunc(e.Pairs, func(a, b StowingPair) int { return a.At.Compare(b.At) })
	e.sum()
	return e, nil
}

func (e *StowingEvidence) sum() {
	e.Enough = stack.EnoughRestacks
	e.Pairs = append([]StowingPair{}, e.Pairs...) // never null
	var counted []stack.Restack
	for _, p := range e.Pairs {
		if p.Left == "" {
			counted = append(counted, p.Restack)
		}
	}
	e.Counted = len(counted)
	if share, ok := stack.StowingOf(counted); ok {
		e.Share = &share
	}
}

// stowingPairs are the tallies that say whether the wood was stacked again, each with the
// one before it of the same delivery.
func stowingPairs(tallies []StackedTally) (pairs []StowingPair, err error) {
	for i := 1; i < len(tallies); i++ {
		before, now := tallies[i-1], tallies[i]
		if before.Delivery != now.Delivery {
			continue
		}
		p := StowingPair{Order: now.Order, Receipt: now.Receipt, First: before.Look, Second: now.Look, At: now.Created}
		second, err := stack.ParseTally(now.Document)
		if err != nil {
			return nil, fmt.Errorf("check %d of %s: %w", now.Look, now.Delivery, err)
		}
		if second.Stacked == "" {
			continue
		}
		ok, err := p.hold(before.Document, second)
		if err != nil {
			return nil, fmt.Errorf("check %d of %s: %w", before.Look, now.Delivery, err)
		}
		if ok {
			pairs = append(pairs, p)
		}
	}
	return pairs, nil
}

// hold holds a tally against the one before it; ok is false where the two are not of
// stacked wood, and tell nothing.
func (p *StowingPair) hold(before []byte, second stack.Tally) (ok bool, err error) {
	first, err := stack.ParseTally(before)
	if err != nil {
		return false, err
	}
	if p.Restack, err = stack.Restacked(first, second); err != nil {
		return false, nil
	}
	p.Stacked, p.By = second.Stacked, second.StackedBy
	switch {
	case p.Stacked == stack.SameStack:
		p.Left = LeftSame
	case p.By == "":
		p.Left = LeftUnnamed
	case p.By == stack.StackedAsBefore:
		p.Left = LeftHands
	case !first.Apart.Answered || first.Apart != second.Apart:
		p.Left = LeftApart
	}
	return true, nil
}

// auditedPairs holds what closed audits measured against the last tally of the order
// before they were opened, where they tell whether the wood was stacked again.
func auditedPairs(tx Tx) (pairs []StowingPair, err error) {
	ids, err := tx.AuditIDs()
	if err != nil {
		return nil, err
	}
	for _, id := range ids {
		line, err := tx.AuditLine(id.ID)
		if err != nil {
			return nil, err
		}
		if line.State != Closed {
			continue
		}
		p, ok, err := auditedPair(tx, id)
		if err != nil {
			return nil, fmt.Errorf("audit %d: %w", id.Number, err)
		}
		if ok {
			pairs = append(pairs, p)
		}
	}
	return pairs, nil
}

func auditedPair(tx Tx, id ID) (p StowingPair, ok bool, err error) {
	stored, err := tx.StoredAuditReport(id.ID)
	if err != nil || len(stored.Bytes) == 0 { // its names were erased
		return p, false, err
	}
	var r Report
	if err := json.Unmarshal(stored.Bytes, &r); err != nil {
		return p, false, err
	}
	stacked, by := r.stackedAgain()
	if r.Subject.OrderID == "" || stacked == "" {
		return p, false, nil
	}
	tallies, err := tx.Tallies(r.Subject.OrderID)
	if err != nil {
		return p, false, err
	}
	tallies = slices.DeleteFunc(tallies, func(t orders.Tally) bool { return t.Created.After(r.Opened) })
	if len(tallies) == 0 {
		return p, false, nil
	}
	before := tallies[len(tallies)-1]
	said, err := json.Marshal(r.Measurers[0].Tally)
	if err != nil {
		return p, false, err
	}
	second, err := stack.ParseTally(said)
	if err != nil {
		return p, false, err
	}
	second.Stacked, second.StackedBy = stacked, by
	p = StowingPair{Order: r.Subject.Order, Audit: id.Number, First: before.Look, Second: r.Plans[len(r.Plans)-1].Look, At: r.Issued}
	ok, err = p.hold(before.Document, second)
	return p, ok, err
}

// stackedAgain is whether the wood was stacked again before it was measured, and by
// whom; empty where that isn't said.
func (r *Report) stackedAgain() (stack.Stacked, stack.Stacker) {
	if len(r.Holds) == 0 {
		return "", ""
	}
	switch h := r.Holds[len(r.Holds)-1]; {
	case h.StackedBy != "":
		return stack.StackedAgain, h.StackedBy
	case !h.Broken:
		return stack.SameStack, ""
	}
	return "", ""
}
