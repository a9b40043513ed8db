package orders

import (
	"context"
	"encoding/json"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// Erase erases the names of what the plan says is past what is asked, writes it down,
// and rewrites the file so that nothing of them is left in it. Where the file is in use
// for too long, the names are erased and the erasure is not cleared: the next request
// does that. It is Invalid where the receipts are not those of the plan as it stands,
// or their number was not typed.
func (s *Service) Erase(ctx context.Context, by Act, r EraseRequest) (e Erasure, err error) {
	w := act.Write{Verb: NamesErased, May: toManage, Content: r}
	e, err = act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		if err := s.sureOfClock(tx, by); err != nil {
			return "", err
		}
		e, err := s.erase(tx, by, r)
		return e.ID, err
	}, erasure)
	if err != nil || e.Cleared {
		return e, fail(err)
	}
	if s.store.Clear(ctx) != nil {
		return e, nil // written down as not cleared
	}
	err = s.store.Write(ctx, func(tx Tx) error { return tx.MarkCleared(s.now()) })
	e.Cleared = err == nil
	return e, fail(err)
}

// erase does it, or gives the last erasure where all that is left to do is to clear the
// file.
func (s *Service) erase(tx Tx, by Act, r EraseRequest) (Erasure, error) {
	plan, err := s.erasurePlan(tx)
	if err != nil {
		return Erasure{}, err
	}
	if plan.Count() == 0 && plan.Uncleared() {
		return plan.Done[slices.IndexFunc(plan.Done, func(e Erasure) bool { return !e.Cleared })], nil
	}
	if err := plan.confirmed(r); err != nil {
		return Erasure{}, err
	}
	e := Erasure{By: by.Actor.Person, At: s.now(), Erased: plan.Erased, Of: slices.Concat(plan.records, plan.with)}
	if e.ID, err = newID(); err != nil {
		return Erasure{}, err
	}
	for _, r := range e.Of {
		if err := tx.EraseNames(r, e.At); err != nil {
			return Erasure{}, err
		}
	}
	return e, tx.AddErasure(e)
}

// confirmed holds what was typed against the plan.
func (p ErasurePlan) confirmed(r EraseRequest) error {
	var f fields
	if p.Count() == 0 {
		return conflict("no names are past the time they are kept for; nothing was erased")
	}
	if strings.TrimSpace(r.Plan) != p.Code {
		f.add("plan", "changed", r.Plan, measure.Say("what may be erased now is not what the page showed"), measure.Say("the plan as it is now: %s", p.Code))
	}
	accepts := measure.Say("the number of receipts and other records: %d", p.Count())
	switch typed := strings.TrimSpace(r.Confirmed); typed {
	case formatNumber(int64(p.Count())):
	case "":
		f.missing("confirmed", accepts)
	default:
		f.add("confirmed", "other", typed, measure.Say("it is not the number of records whose names are erased"), accepts)
	}
	return f.err()
}

// erasure is one of the log.
func erasure(tx Tx, id string) (Erasure, error) {
	log, err := tx.Erasures()
	if err != nil {
		return Erasure{}, err
	}
	if i := slices.IndexFunc(log, func(e Erasure) bool { return e.ID == id }); i >= 0 {
		return log[i], nil
	}
	return Erasure{}, &Error{Kind: NotFound, Message: measure.Say("that erasure isn’t here")}
}

// closedByErasure refuses a new paper on an order whose names were erased.
func (d desk) closedByErasure() error {
	for _, r := range d.filed {
		if !r.Erased.IsZero() {
			return conflict("the names of order %d were erased on %s; nothing more is issued on it", int(d.order.Number), dayIn(r.Erased, d.shop.Zone).Text())
		}
	}
	return nil
}

// notErased refuses a link to a receipt whose names were erased.
func notErased(tx Tx, number int64) error {
	r, err := tx.StoredReceipt(number)
	if err == nil && !r.Erased.IsZero() {
		return conflict("the names on receipt %d were erased; there is no buyer’s link to it any more", int(number))
	}
	return err
}

// NamesGone tells that a chained sheet has no personal part.
func (s StoredSheet) NamesGone() bool {
	return s.Hash != "" && s.Erased.IsZero() && len(s.Personal) == 0
}

// InBytes is the personal part of a sheet, of one from before sheets were chained the
// purchaser in its bytes; nothing where there is no name in it.
func (s StoredSheet) InBytes() []byte {
	var named personalOfSheet
	if s.Hash != "" || json.Unmarshal(s.Bytes, &named) != nil || named == (personalOfSheet{}) {
		return s.Personal
	}
	return s.Bytes
}

// named refuses what would put names on an order again that were erased.
func (o Order) named() error {
	if o.Erased.IsZero() {
		return nil
	}
	return conflict("the names of order %d were erased; nothing more is recorded on it", int(o.Number))
}
