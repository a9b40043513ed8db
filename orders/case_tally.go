package orders

import (
	"cmp"
	"context"

	"wellstowed/measure"
)

// TryCaseTally measures a buyer's tally as SaveCaseTally would and saves nothing.
func (s *Service) TryCaseTally(ctx context.Context, who Actor, key CaseKey, doc []byte) (measure.Tally, measure.Result, error) {
	f, err := s.CaseFile(ctx, who, key)
	if err != nil {
		return measure.Tally{}, measure.Result{}, err
	}
	m, err := f.held().measure(f.Set, doc)
	return m.tally, m.result, fail(err)
}

// SaveCaseTally measures a buyer's tally against what was bought and keeps it. The
// document is completed: sold is what was bought, look counts the buyer's own tallies
// of this delivery, and by is the buyer. It is Invalid with measure's faults by their
// places in the document, Conflict where the seller asks.
func (s *Service) SaveCaseTally(ctx context.Context, by Act, key CaseKey, r TallyRequest) (CaseFile, error) {
	return s.onCase(ctx, by, key, CaseMeasured, r, func(tx Tx, f CaseFile) error {
		if err := f.forBuyer(); err != nil {
			return err
		}
		m, err := f.held().measure(f.Set, r.Document)
		if err != nil {
			return err
		}
		var faults fields
		reader := r.ReadBy
		if reader == "" {
			reader = f.Case.Account.Buyer.Name
		}
		t := CaseTally{Look: f.held().look, Document: m.bytes, Result: m.result, Created: s.now()}
		if t.By = s.printed(&faults, f, "read_by", reader, false); t.By == "" && len(faults.Faults) == 0 {
			faults.missing("read_by", measure.Say("the name of who read"))
		}
		s.printed(&faults, f, "condition", string(m.document.Condition), true)
		if err := cmp.Or(faults.err(), m.answered()); err != nil {
			return err
		}
		return tx.AddCaseTally(f.Case.ID, t)
	})
}

// held is what a buyer's tally is held against: what the receipt says was delivered, or
// what was bought.
func (f CaseFile) held() held {
	a := f.Case.Account
	return held{units: f.Units, sold: a.Quantity, piece: a.PieceLength, look: len(f.Case.Tallies) + 1, by: measure.Buyer, used: a.Used == Yes, species: a.Wood}
}

// forBuyer refuses what only the buyer may do.
func (f CaseFile) forBuyer() error {
	if f.Party == measure.Buyer {
		return nil
	}
	return &Error{Kind: Forbidden, Message: measure.Say("only the buyer can do this, by the link to the receipt")}
}
