package orders

import (
	"context"
	"math"
	"slices"
	"wellstowed/orders/act"
	"wellstowed/orders/yard"
)

// The number of orders on one page.
const (
	usualPage   = 50
	largestPage = 200
)

// A Listing is one page of orders, newest first.
type Listing struct {
	Orders []Order
	// Balances are those of the orders, by their ids.
	Balances map[string]Balance
	// Next is the number to ask for orders before, 0 at the end.
	Next int64
}

// Orders gives the orders with numbers below before, newest first; before 0 starts
// at the newest. A page has limit orders, 50 when that is 0, 200 at most.
func (s *Service) Orders(ctx context.Context, who act.Actor, before int64, limit int) (Listing, error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Listing{}, err
	}
	if before <= 0 {
		before = math.MaxInt64
	}
	if limit <= 0 {
		limit = usualPage
	}
	limit = min(limit, largestPage)
	var page Listing
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		if page.Orders, err = tx.Orders(before, limit+1); err != nil {
			return err
		}
		if len(page.Orders) > limit {
			page.Orders = page.Orders[:limit]
			page.Next = page.Orders[limit-1].Number
		}
		page.Balances, err = Balances(tx, page.Orders)
		return err
	})
	return page, act.Fail(err)
}

// History gives an order with all that happened to it.
func (s *Service) History(ctx context.Context, who act.Actor, id string) (History, error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return History{}, err
	}
	var h History
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		if h.Order, err = tx.Order(id); err != nil {
			return err
		}
		if h.Order.Customer.Record != "" {
			if h.Known, err = tx.CustomerRecord(h.Order.Customer.Record); err != nil {
				return err
			}
		}
		if h.Loads, err = tx.Loads(id); err != nil {
			return err
		}
		if h.Receipts, err = receiptLines(tx, id); err != nil {
			return err
		}
		if h.Tallies, err = tx.Tallies(id); err != nil {
			return err
		}
		if h.Moistures, err = tx.Moistures(id); err != nil {
			return err
		}
		if h.Batches, err = batchesOf(tx, h.Loads); err != nil {
			return err
		}
		shop, err := tx.Shop()
		if err != nil {
			return err
		}
		if set, unknown := s.rules.Get(shop.RuleSet); unknown == nil {
			h.Cord = cordOf(set, shop.Units, h.Order)
		}
		return h.money(tx)
	})
	return h, act.Fail(err)
}

// batchesOf names the batches that loads were drawn from.
func batchesOf(tx Tx, loads []yard.Load) (refs []yard.BatchRef, err error) {
	for _, l := range loads {
		if l.Batch == "" || slices.ContainsFunc(refs, func(r yard.BatchRef) bool { return r.ID == l.Batch }) {
			continue
		}
		b, err := tx.Batch(l.Batch)
		if err != nil {
			return nil, err
		}
		b.Settle(nil)
		refs = append(refs, yard.BatchRef{ID: b.ID, Name: b.Name})
	}
	return refs, nil
}

// money reads the payments and strikes the balance.
func (h *History) money(tx Tx) (err error) {
	if h.Payments, err = tx.Payments(h.Order.ID); err != nil {
		return err
	}
	if h.Settlements, err = tx.Settlements(h.Order.ID); err != nil {
		return err
	}
	all, err := Balances(tx, []Order{h.Order})
	h.Balance = all[h.Order.ID]
	return err
}

// Owing gives the orders on which money is still owed, either way, newest first.
func (s *Service) Owing(ctx context.Context, who act.Actor, before int64) (Listing, error) {
	var found Listing
	found.Balances = map[string]Balance{}
	for {
		page, err := s.Orders(ctx, who, before, largestPage)
		if err != nil {
			return Listing{}, err
		}
		for _, o := range page.Orders {
			b := page.Balances[o.ID]
			if b.Due.Minor == 0 && b.Back.Minor == 0 {
				continue
			}
			if len(found.Orders) == usualPage {
				found.Next = found.Orders[usualPage-1].Number
				return found, nil
			}
			found.Orders = append(found.Orders, o)
			found.Balances[o.ID] = b
		}
		if page.Next == 0 {
			return found, nil
		}
		before = page.Next
	}
}
