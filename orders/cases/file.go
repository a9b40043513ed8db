package cases

import (
	"context"
	"strings"
	"time"

	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A Key is by what somebody opens a case: exactly one of the three.
type Key struct {
	ID      string // a buyer's own record, kept by whoever runs the program
	Receipt int64  // the seller, from inside
	Code    string // the buyer, by the link's secret
}

// reach gives the case that a key leads to, and as whom. It is the one place where
// that is decided: a code leads to the case of its receipt and nothing else.
func (s *Service) reach(tx Tx, who act.Actor, key Key) (c Case, party stack.Party, err error) {
	switch {
	case key.Code != "":
		link, err := tx.LinkByHash(act.HashOfCode(key.Code))
		if act.KindOf(err) == act.NotFound {
			return Case{}, "", noLink()
		}
		if err != nil {
			return Case{}, "", err
		}
		c, err = tx.CaseOf(link.Receipt)
		return c, stack.Buyer, err
	case key.Receipt != 0:
		if err := act.Allow(who, act.ToRead); err != nil {
			return Case{}, "", err
		}
		first, err := firstReceipt(tx, key.Receipt)
		if err != nil {
			return Case{}, "", err
		}
		c, err = tx.CaseOf(first)
		return c, stack.Seller, err
	}
	if err := act.Allow(who, act.ToManage); err != nil {
		return Case{}, "", err
	}
	if c, err = tx.Case(key.ID); err == nil && c.Receipt != 0 {
		err = &act.Error{Kind: act.NotFound}
	}
	return c, stack.Buyer, err
}

// CaseFile gives the case that a key leads to. It is NotFound where there is none, and
// for a code that is not known or holds no longer.
func (s *Service) CaseFile(ctx context.Context, who act.Actor, key Key) (f File, err error) {
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		f, err = s.caseFile(tx, who, key)
		return err
	})
	return f, act.Fail(err)
}

// OwnCases are the buyer's records of whoever runs the program, newest first.
func (s *Service) OwnCases(ctx context.Context, who act.Actor) (cases []Case, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		cases, err = tx.OwnCases()
		return err
	})
	return cases, act.Fail(err)
}

// Unanswered are the receipts whose buyer has written and waits for an answer, the
// longest wait first.
func (s *Service) Unanswered(ctx context.Context, who act.Actor) (receipts []int64, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		receipts, err = tx.Unanswered()
		return err
	})
	return receipts, act.Fail(err)
}

func (s *Service) caseFile(tx Tx, who act.Actor, key Key) (f File, err error) {
	if f.Case, f.Party, err = s.reach(tx, who, key); err != nil {
		return File{}, err
	}
	shop, err := tx.Shop()
	if err != nil {
		return File{}, err
	}
	f.Language, f.Units, f.Paper, f.Zone, f.Currency = shop.Language, shop.Units, shop.Paper, shop.Zone, shop.Currency
	if f.Erased, err = tx.ErasedOn(orders.Record{Kind: orders.CaseRecord, ID: f.Case.ID}); err != nil {
		return File{}, err
	}
	code := f.Case.Account.RuleSet
	if f.Case.Receipt != 0 {
		if err := f.fromReceipt(tx); err != nil {
			return File{}, err
		}
		code = f.Issued.Receipt.Facts.RuleSet.Code
	}
	if f.Set, err = s.book.Get(code); err != nil {
		return File{}, act.NewConflict("the rules of sale of this case, %s, are not among those the program was started with: start it with their file", code)
	}
	if f.Unit == "" {
		f.Unit = f.Set.SoldIn(f.Units == act.Metric)
	}
	zone, err := time.LoadLocation(f.Zone)
	if err != nil {
		return File{}, err
	}
	f.Today = act.DateOf(s.now().In(zone))
	f.Lacking, f.Step = f.Case.lacking(), f.Case.step()
	return f, nil
}

// fromReceipt puts what the receipt says into the account, and for the seller what
// stands on the order.
func (f *File) fromReceipt(tx Tx) error {
	stored, err := standing(tx, f.Case.Receipt)
	if err != nil {
		return err
	}
	receipt, err := stored.Decode()
	if err != nil {
		return err
	}
	f.Erased = stored.Erased
	f.Issued = &orders.Issued{Receipt: receipt, OrderID: stored.OrderID, Seal: stored.Seal, Chain: stored.Chain, PDF: stored.PDF, Ended: stored.Ended}
	facts := receipt.Facts
	f.Language, f.Units, f.Paper, f.Zone, f.Unit = facts.Language, facts.Units, facts.Paper, facts.Zone, facts.RuleSet.Unit
	a := &f.Case.Account
	a.RuleSet, a.Quantity, a.PieceLength, a.Wood = facts.RuleSet.Code, facts.Delivered, facts.PieceLength, facts.Species
	a.Seller, a.Buyer, a.DeliveredOn, a.Price, a.Slip = facts.Vendor, receipt.Purchaser, facts.DeliveredOn, facts.Price.Total(), Yes
	a.Buyer.Phone = ""
	if f.Party != stack.Seller {
		return nil
	}
	if link, err := tx.LinkOf(f.Case.Receipt); err == nil {
		f.Link = &link
	} else if act.KindOf(err) != act.NotFound {
		return err
	}
	f.Tallies, err = tx.Tallies(stored.OrderID)
	return err
}

// standing is a receipt, or the last that corrects it. Where it was made void, that has
// ended it.
func standing(tx Tx, number int64) (orders.StoredReceipt, error) {
	stored, err := tx.StoredReceipt(number)
	for err == nil && stored.Ended != nil && stored.Ended.Kind == orders.CorrectionReceipt {
		stored, err = tx.StoredReceipt(stored.Ended.Number)
	}
	return stored, err
}

// onCase does something to the case that a key leads to, once for a request, and gives
// the case as it is then.
func (s *Service) onCase(ctx context.Context, by act.Act, key Key, verb act.Verb, sent any, do func(Tx, File) error) (File, error) {
	f, err := s.CaseFile(ctx, by.Actor, key)
	if err != nil {
		return File{}, err
	}
	w := act.Write{Verb: verb, Subject: f.Case.ID, Content: sent} // the key let in
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		f, err := s.caseFile(tx, by.Actor, key)
		if err != nil {
			return "", err
		}
		if !f.Erased.IsZero() {
			return "", act.NewConflict("the names of this case were erased; nothing more is recorded in it")
		}
		return f.Case.ID, do(tx, f)
	}, func(tx Tx, _ string) (File, error) { return s.caseFile(tx, by.Actor, key) })
}

// firstReceipt is the number of the receipt that a correction goes back to; a case is
// of that one. It is Conflict for a receipt that delivers no wood.
func firstReceipt(tx Tx, number int64) (int64, error) {
	stored, err := tx.StoredReceipt(number)
	for err == nil && stored.Kind == orders.CorrectionReceipt {
		stored, err = tx.StoredReceipt(stored.Of)
	}
	if err == nil && !stored.Kind.HandsOver() {
		err = act.NewConflict("receipt %d delivers no wood; the buyer’s link is to the receipt of a load", int(number))
	}
	return stored.Number, err
}

// openReceiptCase opens the case of a receipt where there is none.
func (s *Service) openReceiptCase(tx Tx, receipt int64) error {
	if _, err := tx.CaseOf(receipt); act.KindOf(err) != act.NotFound {
		return err
	}
	return s.addCase(tx, &Case{Receipt: receipt})
}

// addCase adds a case with its first account.
func (s *Service) addCase(tx Tx, c *Case) (err error) {
	if c.ID, err = act.NewID(); err != nil {
		return err
	}
	c.Created = s.now()
	c.Account.Version, c.Account.At = 1, c.Created
	if err := tx.AddCase(*c); err != nil {
		return err
	}
	return tx.AddAccount(c.ID, c.Account)
}

// printed reads a text of one or more lines that will be printed; wood tells that it
// speaks of wood, where no barred term may stand.
func (s *Service) printed(f *act.Fields, file File, field, text string, wood bool) string {
	text = f.Printable(s.font, field, f.Lines(field, text))
	if wood {
		f.Barred(file.Set, field, text)
	} else {
		f.BarredInName(file.Set, field, text)
	}
	return strings.TrimSpace(text)
}
