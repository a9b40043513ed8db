package audits

import (
	"cmp"
	"context"
	"math"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// SellerKey is a seller's name as series go by it: small letters, single blanks.
func SellerKey(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// A Listing is a page of audits, newest first. Next is the number to ask for
// older ones with; 0 when there are none.
type Listing struct {
	Audits []Line
	Next   int64
}

// mostAudits is the largest page of audits.
const mostAudits = 500

// Audits gives audits with numbers below before, all where before is 0; those of one
// seller where seller is not empty.
func (s *Service) Audits(ctx context.Context, who act.Actor, seller string, before int64, limit int) (listing Listing, err error) {
	if err := act.Allow(who, act.ToAudit); err != nil {
		return Listing{}, err
	}
	if before <= 0 {
		before = math.MaxInt64
	}
	limit = min(max(limit, 1), mostAudits)
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		listing.Audits, err = tx.AuditList(SellerKey(seller), before, limit+1)
		return err
	})
	if n := len(listing.Audits); n > limit {
		listing.Audits = listing.Audits[:limit]
		listing.Next = listing.Audits[limit-1].Number
	}
	return listing, act.Fail(err)
}

// AuditsOf gives the audits of an order's deliveries, oldest first.
func (s *Service) AuditsOf(ctx context.Context, who act.Actor, orderID string) (list []Line, err error) {
	if err := act.Allow(who, act.ToAudit); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		list, err = tx.AuditsOf(orderID)
		return err
	})
	return list, act.Fail(err)
}

// Audit gives an audit. It holds nothing of what any measurer has read.
func (s *Service) Audit(ctx context.Context, who act.Actor, id string) (a Audit, err error) {
	if err := act.Allow(who, act.ToAudit); err != nil {
		return Audit{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		a, err = s.audit(tx, id)
		return err
	})
	return a, act.Fail(err)
}

func (s *Service) audit(tx Tx, id string) (Audit, error) {
	d, err := s.auditDesk(tx, id)
	return d.audit, err
}

// A desk is all that writing of an audit rests on.
type desk struct {
	audit Audit
	shop  orders.Shop
	set   rules.Set // that governs the sale
	zone  *time.Location
	now   time.Time
}

func (s *Service) auditDesk(tx Tx, id string) (d desk, err error) {
	stored, err := tx.StoredAudit(id)
	if err != nil {
		return desk{}, err
	}
	if d.shop, err = tx.Shop(); err != nil {
		return desk{}, err
	}
	d.shop.Zone = cmp.Or(stored.Audit.Subject.Zone, d.shop.Zone)
	if d.zone, err = time.LoadLocation(d.shop.Zone); err != nil {
		return desk{}, err
	}
	if d.set, err = s.book.Get(stored.Audit.Subject.RuleSet.Code); err != nil {
		return desk{}, act.NewConflict("the rules of sale %s, which govern this audit, are not among those the program was started with: start it with their file", stored.Audit.Subject.RuleSet.Code)
	}
	d.now = s.acts.Now()
	d.audit, err = stored.fold(d.set)
	return d, err
}

// moment reads a day and a time in the shop's zone, "2006-01-02 15:04"; empty is the
// zero time.
func moment(f *act.Fields, field, text string, zone *time.Location) time.Time {
	text = strings.TrimSpace(text)
	if text == "" {
		return time.Time{}
	}
	t, err := parseMoment(text, zone)
	f.Parsed(field, err)
	return t
}

// parseMoment reads a day and a time in a zone; its error is a *measure.InputError.
func parseMoment(text string, zone *time.Location) (time.Time, error) {
	accepts := measure.Say("a day and a time, such as 2026-03-09 14:30")
	if len(text) > measure.MaxText {
		return time.Time{}, &measure.InputError{Code: "too-long", Reason: measure.Say("it is too long for a time"), Accepts: accepts}
	}
	for _, layout := range []string{"2006-01-02T15:04", "2006-01-02 15:04", "2006-01-02T15:04:05"} {
		t, err := time.ParseInLocation(layout, text, zone)
		if err != nil {
			continue
		}
		if t.Year() < act.FirstYear || t.Year() > act.LastYear {
			return time.Time{}, &measure.InputError{Code: "out-of-range", Got: text,
				Reason: measure.Say("its year is not between %d and %d", act.FirstYear, act.LastYear), Accepts: accepts}
		}
		return t.UTC(), nil
	}
	return time.Time{}, &measure.InputError{Code: "not-a-time", Got: text,
		Reason: measure.Say("it isn’t a day with a time"), Accepts: accepts}
}

// past notes a time that is later than now.
func past(f *act.Fields, field string, t, now time.Time) {
	if t.After(now.Add(time.Minute)) {
		f.Add(field, "future", "", measure.Say("it is later than now"), measure.Say("a time that has passed"))
	}
}
