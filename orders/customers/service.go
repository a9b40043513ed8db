package customers

import (
	"context"
	"strings"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// A Service is what can be done with customers' records.
type Service struct{ acts act.Doer[Tx] }

// New makes a Service.
func New(acts act.Doer[Tx]) *Service { return &Service{acts} }

// List gives the records that every word of a text finds, by name; all of them for an
// empty text.
func (s *Service) List(ctx context.Context, who act.Actor, text string) (found []Record, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return nil, err
	}
	words := strings.Fields(text)
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		all, err := tx.CustomerRecords()
		for _, r := range all {
			if r.Holds(words) {
				found = append(found, r)
			}
		}
		return err
	})
	return found, act.Fail(err)
}

// Show gives one record, and the others with those that may be the same customer first.
func (s *Service) Show(ctx context.Context, who act.Actor, id string) (r Record, others []Record, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Record{}, nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		if r, err = tx.CustomerRecord(id); err != nil {
			return err
		}
		all, err := tx.CustomerRecords()
		for _, o := range all {
			if o.ID != id {
				others = append(others, o)
			}
		}
		return err
	})
	return r, alike(r, others), act.Fail(err)
}

// Get gives one record.
func (s *Service) Get(ctx context.Context, who act.Actor, id string) (r Record, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return Record{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		r, err = tx.CustomerRecord(id)
		return err
	})
	return r, act.Fail(err)
}

// Add keeps a new customer. It is Invalid with all faults, and Conflict where that one is
// kept already.
func (s *Service) Add(ctx context.Context, by act.Act, q Request) (Record, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: Added, May: act.ToManage, Content: q}, func(tx Tx) (string, error) {
		r, err := read(Record{}, q)
		if err != nil {
			return "", err
		}
		named, err := tx.CustomersNamed(Key(r.Name))
		if err != nil {
			return "", err
		}
		for _, o := range named {
			if o.Same(r.Name, r.Address, r.Phone) {
				return "", act.NewConflict("%s is kept already, with the same telephone number or address", o.Name)
			}
		}
		return s.add(tx, r)
	}, Tx.CustomerRecord)
}

func (s *Service) add(tx Tx, r Record) (id string, err error) {
	if r.ID, err = act.NewID(); err != nil {
		return "", err
	}
	r.Version, r.Created = 1, s.acts.Now()
	return r.ID, tx.AddCustomerRecord(r)
}

// Change saves over a record. The name and address of orders taken before stay as they
// were. It is Conflict where somebody else changed it first.
func (s *Service) Change(ctx context.Context, by act.Act, id string, q Request) (Record, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: Changed, Subject: id, May: act.ToDeliver, Content: q}, func(tx Tx) (string, error) {
		r, err := tx.CustomerRecord(id)
		if err != nil {
			return "", err
		}
		if q.Version != r.Version {
			return "", act.NewConflict("somebody else changed what is kept of %s first; look at it as it is now and change it again", r.Name)
		}
		if r, err = read(r, q); err != nil {
			return "", err
		}
		return id, tx.ChangeCustomerRecord(r)
	}, Tx.CustomerRecord)
}

// A MergeRequest names who is the same customer.
type MergeRequest struct {
	From string `json:"from"` // id of the record that goes
}

// Merge makes two records of the same customer one: the orders of the other become those
// of this one, what this one lacks is taken from it, and both notes are kept.
func (s *Service) Merge(ctx context.Context, by act.Act, id string, q MergeRequest) (Record, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: Merged, Subject: id, May: act.ToManage, Content: q}, func(tx Tx) (string, error) {
		if q.From == "" || q.From == id {
			return "", act.NewInvalid("from", "missing", "", measure.Say("no other customer was picked"), measure.Say("the one that is the same person"))
		}
		r, err := tx.CustomerRecord(id)
		if err != nil {
			return "", err
		}
		from, err := tx.CustomerRecord(q.From)
		if err != nil {
			return "", err
		}
		joined := join(r, from)
		if err := tx.MoveOrders(from.ID, r.ID); err != nil {
			return "", err
		}
		if err := tx.DropCustomerRecord(from.ID); err != nil {
			return "", err
		}
		return id, tx.ChangeCustomerRecord(joined)
	}, Tx.CustomerRecord)
}

// join fills what a record lacks from another of the same customer; notes that differ are
// both kept.
func join(r, from Record) Record {
	for _, of := range []struct{ mine, theirs *string }{{&r.Address, &from.Address}, {&r.Phone, &from.Phone}, {&r.Place, &from.Place}} {
		if *of.mine == "" {
			*of.mine = *of.theirs
		}
	}
	for _, of := range []struct{ mine, theirs *string }{{&r.Access, &from.Access}, {&r.Stacking, &from.Stacking}} {
		if !strings.Contains(*of.mine, *of.theirs) {
			*of.mine = strings.TrimSpace(*of.mine + "\n" + *of.theirs)
		}
	}
	if from.Created.Before(r.Created) {
		r.Created = from.Created
	}
	return r
}

// Drop takes away the record of a customer who has no orders; Conflict where there are
// any: their names are erased with them.
func (s *Service) Drop(ctx context.Context, by act.Act, id string) error {
	_, err := act.Do(ctx, s.acts, by, act.Write{Verb: Dropped, Subject: id, May: act.ToManage, Sure: true}, func(tx Tx) (string, error) {
		r, err := tx.CustomerRecord(id)
		switch {
		case err != nil:
			return "", err
		case r.Orders > 0:
			return "", act.NewConflict("%s has orders; what is kept goes when the names on those are erased", r.Name)
		}
		return id, tx.DropCustomerRecord(id)
	}, act.Nothing)
	return err
}

// Of finds or adds the record of who orders, by the id that was picked or else by name and
// telephone number or address, and brings it up to what the order says.
func (s *Service) Of(tx Tx, picked, name, address, phone string) (id string, err error) {
	r, err := known(tx, picked, name, address, phone)
	if err != nil {
		return "", err
	}
	before := r
	r.Name = name
	for _, of := range []struct{ kept, said *string }{{&r.Address, &address}, {&r.Phone, &phone}} {
		if *of.said != "" {
			*of.kept = *of.said
		}
	}
	switch {
	case r.ID == "":
		return s.add(tx, r)
	case r == before:
		return r.ID, nil
	}
	return r.ID, tx.ChangeCustomerRecord(r)
}

// known is the record of who orders; the zero Record where there is none yet.
func known(tx Tx, picked, name, address, phone string) (Record, error) {
	if picked != "" {
		return tx.CustomerRecord(picked)
	}
	named, err := tx.CustomersNamed(Key(name))
	for _, r := range named {
		if r.Same(name, address, phone) {
			return r, nil
		}
	}
	return Record{}, err
}
