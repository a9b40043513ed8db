package orders

import (
	"context"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// How far the clock may be from the last paper's day before it is asked about: back by
// what two computers' clocks may differ, ahead by more than a season without a sale.
const (
	mostBehind = time.Hour
	mostAhead  = 400 * 24 * time.Hour
)

// written is before any copy of this program ran: a clock before it is wrong.
var written = time.Date(2026, time.January, 1, 0, 0, 0, 0, time.UTC)

// ClockDoubt says why the computer's clock may be wrong: it is behind the last paper, far
// ahead of it, or from before this program was written. Empty where it may be right.
func (s *Service) ClockDoubt(ctx context.Context) (doubt measure.Text, err error) {
	err = s.store.Read(ctx, func(tx Tx) error {
		doubt, err = clockDoubt(tx, s.now())
		return err
	})
	return doubt, act.Fail(err)
}

func clockDoubt(tx ClockStore, now time.Time) (measure.Text, error) {
	shop, err := tx.Shop()
	if err != nil {
		return measure.Text{}, err
	}
	last, err := tx.LastIssued()
	if err != nil {
		return measure.Text{}, err
	}
	today, day := act.DayIn(now, shop.Zone).Text(), act.DayIn(last, shop.Zone).Text()
	switch {
	case now.Before(written):
		return measure.Say("This computer’s clock says it is %s, which is before this program was written.", today), nil
	case last.IsZero():
	case now.Before(last.Add(-mostBehind)):
		return measure.Say("This computer’s clock says it is %s, but the last paper was issued on %s.", today, day), nil
	case now.After(last.Add(mostAhead)):
		return measure.Say("This computer’s clock says it is %s; the last paper was issued on %s, more than a year before.", today, day), nil
	}
	return measure.Text{}, nil
}

// A ClockStore is what tells of the clock.
type ClockStore interface {
	PaperStore
	Shop() (Shop, error)
}

// SureOfClock asks whether a clock in doubt is right, unless that was said of this day:
// what is issued or erased by a wrong one can't be taken back.
func SureOfClock(tx ClockStore, now time.Time, by act.Act) error {
	doubt, err := clockDoubt(tx, now)
	if err != nil || doubt.Key == "" {
		return err
	}
	shop, err := tx.Shop()
	if err != nil {
		return err
	}
	today := act.DayIn(now, shop.Zone).String()
	if by.Clock == today {
		return nil
	}
	return act.NewInvalid("clock", "read-back", by.Clock, doubt, measure.Say("%s", today))
}
