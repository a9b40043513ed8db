package privacy

import (
	"context"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Erase erases the names of what the plan says is past what is asked, writes it down,
// and rewrites the file so that nothing of them is left in it. Where the file is in use
// for too long, the names are erased and the erasure is not cleared: the next request
// does that. It is Invalid where the receipts are not those of the plan as it stands,
// or their number was not typed.
func (s *Eraser) Erase(ctx context.Context, by act.Act, r Request) (e Erasure, err error) {
	w := act.Write{Verb: NamesErased, May: act.ToManage, Sure: true, Content: r}
	e, err = act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		if err := orders.SureOfClock(tx, s.now(), by); err != nil {
			return "", err
		}
		e, err := s.erase(tx, by, r)
		return e.ID, err
	}, erasure)
	if err != nil || e.Cleared {
		return e, act.Fail(err)
	}
	if s.store.Clear(ctx) != nil {
		return e, nil // written down as not cleared
	}
	err = s.store.Write(ctx, func(tx Tx) error { return tx.MarkCleared(s.now()) })
	e.Cleared = err == nil
	return e, act.Fail(err)
}

// erase does it, or gives the last erasure where all that is left to do is to clear the
// file.
func (s *Eraser) erase(tx Tx, by act.Act, r Request) (Erasure, error) {
	plan, err := s.plan(tx)
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
	if e.ID, err = act.NewID(); err != nil {
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
func (p Plan) confirmed(r Request) error {
	var f act.Fields
	if p.Count() == 0 {
		return act.NewConflict("no names are past the time they are kept for; nothing was erased")
	}
	if strings.TrimSpace(r.Plan) != p.Code {
		f.Add("plan", "changed", r.Plan, measure.Say("what may be erased now is not what the page showed"), measure.Say("the plan as it is now: %s", p.Code))
	}
	accepts := measure.Say("the number of receipts and other records: %d", p.Count())
	switch typed := strings.TrimSpace(r.Confirmed); typed {
	case act.FormatNumber(int64(p.Count())):
	case "":
		f.Missing("confirmed", accepts)
	default:
		f.Add("confirmed", "other", typed, measure.Say("it is not the number of records whose names are erased"), accepts)
	}
	return f.Err()
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
	return Erasure{}, act.NewNotFound("that erasure isn’t here")
}
