package orders

import (
	"context"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/day"
)

// A DayRequest is the day of an order as typed.
type DayRequest struct {
	Day     string `json:"day"`     // as said; empty takes the day away
	Written string `json:"written"` // as in OrderRequest
	Version int64  `json:"version"`
}

// day reads when an order is to be delivered. What it says already may be past, and stays.
func (in *orderReader) day(field string, s *day.Span, typed string) {
	if typed == s.String() {
		return
	}
	read, err := day.Parse(typed, in.saidOn())
	if in.Parsed(field, err) {
		*s = read
	}
}

// saidOn is the day on which it was typed: that which a phone without signal wrote down, else
// today. A phone's clock that is ahead is not gone by.
func (in *orderReader) saidOn() act.Date {
	at := in.service.now()
	if in.typed.Written != "" {
		written, err := time.Parse(time.RFC3339, in.typed.Written)
		if err != nil && !slices.ContainsFunc(in.Faults, func(f *measure.InputError) bool { return f.Field == "written" }) {
			in.Add("written", "not-a-time", in.typed.Written, measure.Say("it isn’t the time it was written at"), measure.Say("a time such as 2026-11-20T15:04:00Z, or nothing"))
		}
		if err == nil && written.Before(at) {
			at = written
		}
	}
	return act.DayIn(at, in.shop.Zone)
}

// SetDay sets the day of an order, also once a part of it was delivered. It is Invalid
// where the day is not understood, and Conflict where the order is cancelled or was changed
// since.
func (s *Service) SetDay(ctx context.Context, by act.Act, id string, r DayRequest) (Order, error) {
	w := act.Write{Verb: DaySet, Subject: id, May: act.ToDeliver, Content: r}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) { return id, s.setDay(tx, id, r) }, Tx.Order)
}

func (s *Service) setDay(tx Tx, id string, r DayRequest) error {
	o, err := seenOrder(tx, id, r.Version)
	if err != nil {
		return err
	}
	shop, err := tx.Shop()
	if err != nil {
		return err
	}
	in := orderReader{service: s, shop: shop, typed: OrderRequest{Written: r.Written}}
	in.day("day", &o.Day, r.Day)
	if err := in.Err(); err != nil {
		return err
	}
	o.Changed = s.now()
	return tx.ChangeOrder(o)
}
