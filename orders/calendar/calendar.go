// Package calendar lets a calendar program read which deliveries are to come, by a secret link
// that can be withdrawn.
package calendar

import (
	"context"
	"slices"
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/people"
)

// A Link lets a calendar program read the deliveries by a secret code in its address. The
// code is shown once and not kept: only its hash is. It holds as long as who made it may
// deliver; one made while nobody signed in ends with the first person.
type Link struct {
	ID        string    `json:"id"`
	CodeHash  string    `json:"-"` // SHA-256 of the code, hex
	PersonID  string    `json:"-"` // whose it is; empty where nobody signs in
	Person    string    `json:"person" names:"staff"`
	Made      time.Time `json:"made"`
	Withdrawn time.Time `json:"withdrawn,omitzero"` // zero while it holds
}

// A Tx is one transaction on calendars. What is not there is answered NotFound.
type Tx interface {
	act.Requests
	orders.OpenTx
	Shop() (orders.Shop, error)
	Person(id string) (people.Person, error)
	// AnyPerson tells whether there is one, let in or out.
	AnyPerson() (bool, error)
	// CalendarLinks are those that hold, oldest first.
	CalendarLinks() ([]Link, error)
	AddCalendarLink(l Link) error
	WithdrawCalendarLink(id string, at time.Time) error
}

// The verbs of calendars.
const (
	LinkMade      act.Verb = "make calendar link"
	LinkWithdrawn act.Verb = "withdraw calendar link"
)

// A Service is all that can be done with calendars.
type Service struct{ acts act.Doer[Tx] }

// New makes a Service over a store, by a clock.
func New(store act.Store[Tx], clock func() time.Time) *Service {
	return &Service{acts: act.Doer[Tx]{Store: store, Now: act.Clock(clock)}}
}

// Links are those that hold: an owner sees all, a driver his own.
func (s *Service) Links(ctx context.Context, who act.Actor) (links []Link, err error) {
	if err := act.Allow(who, act.ToDeliver); err != nil {
		return nil, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		if links, err = tx.CalendarLinks(); err != nil {
			return err
		}
		people, err := tx.AnyPerson()
		links = slices.DeleteFunc(links, func(l Link) bool { return people && l.PersonID == "" })
		return err
	})
	return slices.DeleteFunc(links, func(l Link) bool { return !l.isOf(who) }), act.Fail(err)
}

// isOf tells whether somebody sees and withdraws a link.
func (l Link) isOf(who act.Actor) bool { return who.Role == act.Owner || l.PersonID == who.ID }

// Make makes one's link and gives its code, which is not kept. The one made before holds no
// longer. The same request again is a Conflict, since the code cannot be shown twice.
func (s *Service) Make(ctx context.Context, by act.Act) (code string, err error) {
	code, hash, err := act.NewCode()
	if err != nil {
		return "", act.Fail(err)
	}
	made := false
	return act.Do(ctx, s.acts, by, act.Write{Verb: LinkMade, May: act.ToDeliver}, func(tx Tx) (string, error) {
		made = true
		return s.make(tx, by.Actor, hash)
	}, func(Tx, string) (string, error) {
		if !made {
			return "", act.NewConflict("this link was made and its code shown once; it is not kept. Make a new link for another")
		}
		return code, nil
	})
}

func (s *Service) make(tx Tx, who act.Actor, hash string) (id string, err error) {
	links, err := tx.CalendarLinks()
	if err != nil {
		return "", err
	}
	for _, l := range links {
		if l.PersonID == who.ID {
			if err := tx.WithdrawCalendarLink(l.ID, s.acts.Now()); err != nil {
				return "", err
			}
		}
	}
	l := Link{CodeHash: hash, PersonID: who.ID, Person: who.Person, Made: s.acts.Now()}
	if l.ID, err = act.NewID(); err != nil {
		return "", err
	}
	return l.ID, tx.AddCalendarLink(l)
}

// Withdraw makes a link hold no longer; NotFound where it is another's, or none.
func (s *Service) Withdraw(ctx context.Context, by act.Act, id string) error {
	w := act.Write{Verb: LinkWithdrawn, Subject: id, May: act.ToDeliver}
	_, err := act.Do(ctx, s.acts, by, w, func(tx Tx) (string, error) {
		links, err := tx.CalendarLinks()
		if err != nil {
			return "", err
		}
		at := slices.IndexFunc(links, func(l Link) bool { return l.ID == id && l.isOf(by.Actor) })
		if at < 0 {
			return "", noLink()
		}
		return "", tx.WithdrawCalendarLink(id, s.acts.Now())
	}, act.Nothing)
	return err
}

// noLink is the one answer to a code that is not known, not whole, or no longer holds.
func noLink() error {
	return &act.Error{Kind: act.NotFound, Message: measure.Say("That calendar isn’t here. Its link may have been renewed or withdrawn.")}
}

// A Feed is the deliveries that are to come.
type Feed struct {
	Shop  orders.Shop
	Stops []orders.Stop // those with a day, by it
}

// Read gives the deliveries to whoever has a link's code.
func (s *Service) Read(ctx context.Context, code string) (f Feed, err error) {
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		links, err := tx.CalendarLinks()
		if err != nil {
			return err
		}
		at := slices.IndexFunc(links, func(l Link) bool { return l.CodeHash == act.HashOfCode(code) })
		if at < 0 {
			return noLink()
		}
		if err := stillIn(tx, links[at]); err != nil {
			return err
		}
		f, err = s.feed(tx)
		return err
	})
	return f, act.Fail(err)
}

// stillIn tells whether the person whose link it is may still deliver.
func stillIn(tx Tx, l Link) error {
	if l.PersonID == "" {
		people, err := tx.AnyPerson()
		if err == nil && people {
			err = noLink() // nobody answers for it any more
		}
		return err
	}
	p, err := tx.Person(l.PersonID)
	if err != nil {
		return err
	}
	if p.State != people.LetIn || act.Allow(act.Actor{Role: p.Role}, act.ToDeliver) != nil {
		return noLink()
	}
	return nil
}

// Deliveries gives them to somebody who may deliver.
func (s *Service) Deliveries(ctx context.Context, who act.Actor) (f Feed, err error) {
	if err := act.Allow(who, act.ToDeliver); err != nil {
		return Feed{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		f, err = s.feed(tx)
		return err
	})
	return f, act.Fail(err)
}

func (s *Service) feed(tx Tx) (f Feed, err error) {
	if f.Shop, err = tx.Shop(); err != nil {
		return f, err
	}
	f.Stops, err = orders.OpenStops(tx, act.DayIn(s.acts.Now(), f.Shop.Zone))
	f.Stops = slices.DeleteFunc(f.Stops, func(stop orders.Stop) bool { return stop.Step != orders.StepDeliver })
	slices.SortStableFunc(f.Stops, func(a, b orders.Stop) int {
		return a.Order.Day.From.Midnight().Compare(b.Order.Day.From.Midnight())
	})
	return f, err
}
