// Package loose keeps readings that were taken before it was known which order they are of.
package loose

import (
	"context"
	"net/url"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/forms"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// most is how many readings may be kept at once.
const most = 200

// The verbs of loose readings.
const (
	Kept    act.Verb = "keep readings"
	Dropped act.Verb = "drop readings"
)

// A Reading is a measuring form of no order, as it was filled in. No name is in it.
type Reading struct {
	ID      string    `json:"id"`
	Kind    string    `json:"kind" names:"program"` // of stack, as forms.All names it
	Typed   string    `json:"typed" names:"sale"`   // the form's fields, as a query
	By      string    `json:"by" names:"staff"`
	Created time.Time `json:"created"`
}

// Fields gives the form's fields, as a form reads them.
func (r Reading) Fields() func(func(name, value string)) {
	values, _ := url.ParseQuery(r.Typed) // written by Keep
	return func(field func(name, value string)) {
		for name, all := range values {
			for _, value := range all {
				field(name, value)
			}
		}
	}
}

// Tx is what loose readings need of a transaction.
type Tx interface {
	act.Requests
	// LooseReadings are all, newest first.
	LooseReadings() ([]Reading, error)
	AddLooseReading(r Reading) error
	DropLooseReading(id string) error
}

// A Service is all that can be done with loose readings.
type Service struct{ acts act.Doer[Tx] }

// New makes a Service.
func New(acts act.Doer[Tx]) *Service { return &Service{acts} }

// A Request is a form to be kept.
type Request struct {
	Kind  string
	Typed url.Values
}

// Keep keeps the readings of a form. It is Conflict where as many are kept as can be.
func (s *Service) Keep(ctx context.Context, by act.Act, r Request) (Reading, error) {
	typed := r.Typed.Encode()
	w := act.Write{Verb: Kept, May: act.ToTally, Content: []string{r.Kind, typed}}
	return act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		if err := wrong(r, typed); err != nil {
			return "", err
		}
		all, err := tx.LooseReadings()
		if err != nil {
			return "", err
		}
		if len(all) >= most {
			return "", act.NewConflict("%d readings without an order are kept, which is all there may be: take some to their orders, or drop them", most)
		}
		id, err := act.NewID()
		if err != nil {
			return "", err
		}
		return id, tx.AddLooseReading(Reading{ID: id, Kind: r.Kind, Typed: typed, By: by.Actor.Person, Created: s.acts.Now()})
	}, find)
}

func wrong(r Request, typed string) error {
	if !slices.ContainsFunc(forms.All(), func(f forms.Form) bool { return f.Kind == r.Kind }) {
		return act.NewInvalid("kind", "unknown", r.Kind, measure.Say("no wood stands so"), measure.Say("a kind of stack that can be measured"))
	}
	if len(typed) > stack.MaxTallyBytes {
		return act.NewInvalid("stack", "too-long", "", measure.Say("it is too much for the readings of one stack"), measure.Say("fewer readings"))
	}
	return nil
}

// All are those that are kept, newest first.
func (s *Service) All(ctx context.Context, who act.Actor) (all []Reading, err error) {
	if err := act.Allow(who, act.ToTally); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		all, err = tx.LooseReadings()
		return err
	})
	return all, act.Fail(err)
}

// One is the one of an id.
func (s *Service) One(ctx context.Context, who act.Actor, id string) (r Reading, err error) {
	if err := act.Allow(who, act.ToTally); err != nil {
		return Reading{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		r, err = find(tx, id)
		return err
	})
	return r, act.Fail(err)
}

// Drop drops readings: they were taken to their order, or are of none.
func (s *Service) Drop(ctx context.Context, by act.Act, id string) error {
	w := act.Write{Verb: Dropped, Subject: id, May: act.ToTally}
	_, err := act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		if _, err := find(tx, id); err != nil {
			return "", err
		}
		return id, tx.DropLooseReading(id)
	}, act.Nothing)
	return err
}

func find(tx Tx, id string) (Reading, error) {
	all, err := tx.LooseReadings()
	if err != nil {
		return Reading{}, err
	}
	if i := slices.IndexFunc(all, func(r Reading) bool { return r.ID == id }); i >= 0 {
		return all[i], nil
	}
	return Reading{}, act.NewNotFound("those readings aren’t here; they may have been taken to their order")
}
