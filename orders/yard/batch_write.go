package yard

import (
	"context"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
)

// AddBatch writes down a batch of wood. It is Invalid with all faults.
func (s *Service) AddBatch(ctx context.Context, by act.Act, r BatchRequest) (Batch, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: BatchPutUp, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		return s.putUp(tx, by.Actor, r)
	}, findBatch)
}

// findBatch gives a batch with what follows from its loads.
func findBatch(tx Tx, id string) (Batch, error) {
	h, err := ReadBatch(tx, id)
	return h.Batch, err
}

// CorrectBatch corrects what is said of a batch; what was said before stays in its
// history, and on receipts. It is Conflict when r.Version is not the latest.
func (s *Service) CorrectBatch(ctx context.Context, by act.Act, id string, r BatchRequest) (Batch, error) {
	return s.enter(ctx, by, act.Write{Verb: BatchSaid, Subject: id, May: act.ToManage, Content: r}, func(tx Tx, b Batch) (BatchEntry, error) {
		return s.correction(tx, b, r)
	})
}

// CountBatch writes down what lies of a batch now: from then on loads are drawn from
// that. A batch that was used up is in use again.
func (s *Service) CountBatch(ctx context.Context, by act.Act, id string, r BatchCount) (Batch, error) {
	return s.enter(ctx, by, act.Write{Verb: BatchCounted, Subject: id, May: act.ToDeliver, Content: r}, func(tx Tx, b Batch) (BatchEntry, error) {
		return s.recount(tx, b, r)
	})
}

// EndBatch marks a batch as used up: no load is drawn from it any more.
func (s *Service) EndBatch(ctx context.Context, by act.Act, id string, r BatchEnd) (Batch, error) {
	return s.enter(ctx, by, act.Write{Verb: BatchEnded, Subject: id, May: act.ToDeliver, Content: r}, func(tx Tx, b Batch) (BatchEntry, error) {
		return s.useUp(tx, b, r)
	})
}

func (s *Service) putUp(tx Tx, who act.Actor, r BatchRequest) (string, error) {
	in, err := s.reader(tx)
	if err != nil {
		return "", err
	}
	b := Batch{By: who.Person, Created: s.acts.Now()}
	b.First = in.facts(r)
	b.PutUp = in.quantity("quantity", r.Quantity, b.First.PieceLength)
	if err := in.unlike(tx, "", b.First.Name); err != nil {
		return "", err
	}
	if err := in.finish(); err != nil {
		return "", err
	}
	if b.ID, err = act.NewID(); err != nil {
		return "", err
	}
	return b.ID, tx.AddBatch(b)
}

// unlike refuses the name of another batch that is in use: a load drawn from the one
// would be written down under the other.
func (in *reader) unlike(tx Tx, id, name string) error {
	all, err := tx.Batches()
	if err != nil {
		return err
	}
	for _, b := range all {
		b.Settle(nil)
		if b.ID != id && !b.UsedUp && strings.EqualFold(b.Name, name) {
			in.Add("name", "taken", name, measure.Say("another batch in use is called that"), measure.Say("a name of its own"))
			return nil
		}
	}
	return nil
}

// enter adds what write makes to a batch, once for a request.
func (s *Service) enter(ctx context.Context, by act.Act, w act.Write, write func(Tx, Batch) (BatchEntry, error)) (Batch, error) {
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		return w.Subject, s.addEntry(tx, by.Actor, w.Subject, write)
	}, findBatch)
}

func (s *Service) addEntry(tx Tx, who act.Actor, id string, write func(Tx, Batch) (BatchEntry, error)) error {
	h, err := ReadBatch(tx, id)
	if err != nil {
		return err
	}
	entry, err := write(tx, h.Batch)
	if err != nil {
		return err
	}
	if entry.By == "" {
		entry.By = who.Person
	}
	entry.BatchID, entry.Seq, entry.Created = id, len(h.Entries)+1, s.acts.Now()
	if entry.After, err = tx.LastNumber(ledger.ReceiptNumbers); err != nil {
		return err
	}
	if entry.ID, err = act.NewID(); err != nil {
		return err
	}
	return tx.AddBatchEntry(entry)
}

func (s *Service) correction(tx Tx, b Batch, r BatchRequest) (BatchEntry, error) {
	if r.Version != b.Version() {
		return BatchEntry{}, act.NewConflict("somebody else changed %s first; look at it as it is now and correct it again", b.Name)
	}
	in, err := s.reader(tx)
	if err != nil {
		return BatchEntry{}, err
	}
	facts := in.facts(r)
	if err := in.unlike(tx, b.ID, facts.Name); err != nil {
		return BatchEntry{}, err
	}
	if facts == b.BatchFacts && len(in.Faults) == 0 {
		in.Add("name", "no-change", "", measure.Say("nothing was changed"), measure.Say("what is to be corrected"))
	}
	reason := in.why("reason", r.Reason, measure.Say("why it is corrected, such as: split date found in the diary"))
	return BatchEntry{Kind: BatchCorrected, Facts: &facts, On: in.today, Reason: reason}, in.finish()
}

func (s *Service) recount(tx Tx, b Batch, r BatchCount) (BatchEntry, error) {
	in, err := s.reader(tx)
	if err != nil {
		return BatchEntry{}, err
	}
	left := in.quantity("left", r.Left, b.PieceLength)
	if left.Volume > 0 && left.Basis != b.PutUp.Basis {
		in.Add("left", "other-basis", r.Left, measure.Say("it is %s wood, and the batch was put up %s", measure.Say(string(left.Basis)), measure.Say(string(b.PutUp.Basis))),
			measure.Say("a quantity of %s wood; wood put up again is another batch", measure.Say(string(b.PutUp.Basis))))
	}
	e := BatchEntry{Kind: BatchRecounted, Left: left.Volume}
	if e.On, err = in.countedOn(tx, b, r.On); err != nil {
		return BatchEntry{}, err
	}
	e.Reason = in.why("reason", r.Reason, measure.Say("why it was counted, such as: a row was given away"))
	e.By = in.name("counted_by", r.CountedBy)
	return e, in.finish()
}

// countedOn reads the day of a count. A count from before a load that was drawn since
// would count that load's wood twice.
func (in *reader) countedOn(tx Tx, b Batch, text string) (act.Date, error) {
	on := in.ReadOn(text, in.today)
	loads, err := tx.BatchLoads(b.ID)
	if err != nil || len(loads) == 0 {
		return on, err
	}
	last := act.DateOf(slices.MaxFunc(loads, func(x, y BatchLoad) int { return x.Created.Compare(y.Created) }).Created.In(in.zone))
	if last.After(on) {
		in.Add("on", "too-early", text, measure.Say("a load was drawn from it on %s, after that day", last.Text()),
			measure.Say("a count of what lies there now"))
	}
	return on, nil
}

func (s *Service) useUp(tx Tx, b Batch, r BatchEnd) (BatchEntry, error) {
	if b.UsedUp {
		return BatchEntry{}, act.NewConflict("%s is marked as used up already", b.Name)
	}
	in, err := s.reader(tx)
	if err != nil {
		return BatchEntry{}, err
	}
	e := BatchEntry{Kind: BatchUsedUp, On: in.today}
	e.Reason = in.why("rest", r.Rest, measure.Say("what became of the rest, such as: the last of it was bark"))
	return e, in.finish()
}
