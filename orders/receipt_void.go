package orders

import (
	"context"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/money"
)

// A VoidRequest is why a receipt is made void, as typed.
type VoidRequest struct {
	Reason string `json:"reason"`
}

// Void ends a receipt by a new one that names it and says why: its load no longer
// counts, and its wood is due again. Only the owner may. It is Conflict where the
// receipt delivers no wood or no longer counts.
func (s *Service) Void(ctx context.Context, by act.Act, number int64, r VoidRequest) (Issued, error) {
	w := act.Write{Verb: ReceiptVoided, Subject: act.FormatNumber(number), May: act.ToManage, Sure: true, Content: r}
	return s.end(ctx, by, w, number, func(d desk) (paper, error) { return s.prepareVoid(d, r) })
}

// end issues the receipt that ends another.
func (s *Service) end(ctx context.Context, by act.Act, w act.Write, number int64, prepare func(desk) (paper, error)) (Issued, error) {
	if err := act.Allow(by.Actor, w.May); err != nil {
		return Issued{}, err
	}
	e := issuing{Write: w, of: number}
	err := s.store.Read(ctx, func(tx Tx) error {
		old, err := tx.StoredReceipt(number)
		if err != nil {
			return err
		}
		facts, err := old.Facts()
		e.order, e.batch = old.OrderID, facts.BatchID()
		return err
	})
	if err != nil {
		return Issued{}, act.Fail(err)
	}
	return issue(ctx, s, by, e, prepare, (*Service).receipt)
}

func (s *Service) prepareVoid(d desk, r VoidRequest) (paper, error) {
	set, err := s.setOf(d.shop)
	if err != nil {
		return paper{}, err
	}
	old, err := d.ending()
	if err != nil {
		return paper{}, err
	}
	facts := s.factsOf(d, set, s.now())
	facts.Kind, facts.Of, facts.Former = VoidReceipt, old.Facts.Number, old.former(d.old.Seal)
	facts.Species, facts.Origin, facts.PieceLength, facts.Seasoning = old.Facts.Species, old.Facts.Origin, old.Facts.PieceLength, old.Facts.Seasoning
	facts.Moisture = nil
	nothing := money.Money{Currency: old.Facts.Price.Wood.Currency}
	facts.Price, facts.Deposit = Price{Wood: nothing}, nothing
	var f act.Fields
	in := orderReader{service: s, shop: d.shop, set: set}
	unplaced(&in.Fields, d.shop)
	facts.Reason = in.reason(r.Reason)
	f.Faults = in.Faults
	s.checkPrintable(&f, facts)
	f.Hush(set)
	if err := f.Err(); err != nil {
		return paper{}, err
	}
	return s.paintReceipt(d, d.order.Customer, Receipt{Facts: facts, Purchaser: old.Purchaser})
}

// reason reads why a receipt is ended.
func (in *orderReader) reason(text string) string {
	reason := in.printedLine("reason", text)
	if strings.TrimSpace(text) == "" {
		in.Missing("reason", measure.Say("why, in a few words, such as the load came back"))
	}
	return reason
}
