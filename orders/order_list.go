package orders

import (
	"context"
	"math"
	"slices"
)

// The number of orders on one page.
const (
	usualPage   = 50
	largestPage = 200
)

// A Listing is one page of orders, newest first.
type Listing struct {
	Orders []Order
	// Next is the number to ask for orders before, 0 at the end.
	Next int64
}

// Orders gives the orders with numbers below before, newest first; before 0 starts
// at the newest. A page has limit orders, 50 when that is 0, 200 at most.
func (s *Service) Orders(ctx context.Context, who Actor, before int64, limit int) (Listing, error) {
	if err := allow(who, toRead); err != nil {
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
		page.Orders, err = tx.Orders(before, limit+1)
		return err
	})
	if len(page.Orders) > limit {
		page.Orders = page.Orders[:limit]
		page.Next = page.Orders[limit-1].Number
	}
	return page, fail(err)
}

// History gives an order with all that happened to it.
func (s *Service) History(ctx context.Context, who Actor, id string) (History, error) {
	if err := allow(who, toRead); err != nil {
		return History{}, err
	}
	var h History
	err := s.store.Read(ctx, func(tx Tx) (err error) {
		if h.Order, err = tx.Order(id); err != nil {
			return err
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
		h.Batches, err = batchesOf(tx, h.Loads)
		return err
	})
	return h, fail(err)
}

// batchesOf names the batches that loads were drawn from.
func batchesOf(tx Tx, loads []Load) (refs []BatchRef, err error) {
	for _, l := range loads {
		if l.Batch == "" || slices.ContainsFunc(refs, func(r BatchRef) bool { return r.ID == l.Batch }) {
			continue
		}
		b, err := tx.Batch(l.Batch)
		if err != nil {
			return nil, err
		}
		b.settle(nil)
		refs = append(refs, BatchRef{ID: b.ID, Name: b.Name})
	}
	return refs, nil
}
