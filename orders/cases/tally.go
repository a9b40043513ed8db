package cases

import (
	"cmp"
	"context"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// TryCaseTally measures a buyer's tally as SaveCaseTally would and saves nothing.
func (s *Service) TryCaseTally(ctx context.Context, who act.Actor, key Key, doc []byte) (stack.Tally, stack.Result, error) {
	f, err := s.CaseFile(ctx, who, key)
	if err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	m, err := f.sale().Measure(f.Set, doc)
	return m.Tally, m.Result, act.Fail(err)
}

// SaveCaseTally measures a buyer's tally against what was bought and keeps it. The
// document is completed: sold is what was bought, look counts the buyer's own tallies
// of this delivery, and by is the buyer. It is Invalid with measure's faults by their
// places in the document, Conflict where the seller asks.
func (s *Service) SaveCaseTally(ctx context.Context, by act.Act, key Key, r orders.TallyRequest) (File, error) {
	return s.onCase(ctx, by, key, CaseMeasured, r, func(tx Tx, f File) error {
		if err := f.forBuyer(); err != nil {
			return err
		}
		m, err := f.sale().Measure(f.Set, r.Document)
		if err != nil {
			return err
		}
		var faults act.Fields
		reader := r.ReadBy
		if reader == "" {
			reader = f.Case.Account.Buyer.Name
		}
		t := Tally{Look: f.sale().Check, Document: m.Bytes, Result: m.Result, Created: s.now()}
		if t.By = s.printed(&faults, f, "read_by", reader, false); t.By == "" && len(faults.Faults) == 0 {
			faults.Missing("read_by", measure.Say("the name of who read"))
		}
		s.printed(&faults, f, "condition", string(m.Document.Condition), true)
		if err := cmp.Or(faults.Err(), m.Answered()); err != nil {
			return err
		}
		return tx.AddCaseTally(f.Case.ID, t)
	})
}

// sale is what a buyer's tally is held against: what the receipt says was delivered, or
// what was bought.
func (f File) sale() orders.Sale {
	a := f.Case.Account
	return orders.Sale{Units: f.Units, Sold: a.Quantity, Piece: a.PieceLength, Check: len(f.Case.Tallies) + 1, By: stack.Buyer, Used: a.Used == Yes, Species: a.Wood}
}

// forBuyer refuses what only the buyer may do.
func (f File) forBuyer() error {
	if f.Party == stack.Buyer {
		return nil
	}
	return &act.Error{Kind: act.Forbidden, Message: measure.Say("only the buyer can do this, by the link to the receipt")}
}
