package prices

import (
	"context"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
)

// A Tx is one transaction.
type Tx interface {
	act.Requests
	// PriceLines are all that were ever written down, in that order.
	PriceLines() ([]Line, error)
	AddPriceLine(l Line) error
	// Market gives what of the shop's settings prices go by.
	Market() (Market, error)
}

// The verbs of a price list.
const (
	Set      act.Verb = "set price"
	Ended    act.Verb = "end price"
	Imported act.Verb = "import prices"
)

// A Service is what can be done with a price list.
type Service struct {
	acts act.Doer[Tx]
	book rules.Book
	font act.Font
}

// New makes a Service that prints in a font, under rule sets of a book.
func New(acts act.Doer[Tx], book rules.Book, font act.Font) *Service {
	return &Service{acts, book, font}
}

// Today is the list of this day in the shop's zone.
func (s *Service) Today(tx Tx) (List, error) {
	m, err := tx.Market()
	if err != nil {
		return List{}, err
	}
	all, err := tx.PriceLines()
	return On(all, act.DayIn(s.acts.Now(), m.Zone), m.Currency), err
}

// List gives the list of this day.
func (s *Service) List(ctx context.Context, who act.Actor) (list List, err error) {
	if err := act.Allow(who, act.ToRead); err != nil {
		return List{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		list, err = s.Today(tx)
		return err
	})
	return list, act.Fail(err)
}

// Set writes down a line: what is new on the list, or another price from a day on. It is
// Invalid with all faults; a price far from the one before is asked about under the field
// "confirmed".
func (s *Service) Set(ctx context.Context, by act.Act, r Request) (Line, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: Set, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		return s.Put(tx, by.Actor, r)
	}, find)
}

// Put is Set within a transaction that does something else too.
func (s *Service) Put(tx Tx, who act.Actor, r Request) (id string, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return "", err
	}
	in, err := s.reader(tx)
	if err != nil {
		return "", err
	}
	list, err := s.Today(tx)
	if err != nil {
		return "", err
	}
	l := in.line(r)
	if len(in.Faults) == 0 {
		in.asks(l, list, r.Confirmed)
	}
	in.Hush(in.set)
	if err := in.Err(); err != nil {
		return "", err
	}
	return add(tx, l, who.Person)
}

// An EndRequest is from when something isn't offered any more.
type EndRequest struct {
	From string `json:"from"` // "2006-01-02"; empty: today in the shop's zone
}

// End takes the item of a line off the list from a day on. Of a price that is to come only
// that is taken back, and what holds before it goes on. It is NotFound where no such line is on
// the list, now or later.
func (s *Service) End(ctx context.Context, by act.Act, id string, r EndRequest) (Line, error) {
	return act.Do(ctx, s.acts, by, act.Write{Verb: Ended, Subject: id, May: act.ToManage, Content: r}, func(tx Tx) (string, error) {
		in, err := s.reader(tx)
		if err != nil {
			return "", err
		}
		was, err := find(tx, id)
		if err != nil {
			return "", err
		}
		l := Line{Item: was.Item, From: in.from(r.From), Ended: true, Created: in.now}
		if was.From.After(l.From) { // it was to begin only then
			l.From = was.From
			list, err := s.Today(tx)
			if err != nil {
				return "", err
			}
			if now, offered := list.same(was); offered {
				l.Item, l.Price, l.Ended = now.Item, now.Price, false
			}
		}
		if err := in.Err(); err != nil {
			return "", err
		}
		return add(tx, l, by.Actor.Person)
	}, find)
}

func add(tx Tx, l Line, by string) (id string, err error) {
	l.By = by
	if l.ID, err = act.NewID(); err != nil {
		return "", err
	}
	return l.ID, tx.AddPriceLine(l)
}

func find(tx Tx, id string) (Line, error) {
	all, err := tx.PriceLines()
	for _, l := range all {
		if l.ID == id {
			return l, nil
		}
	}
	if err == nil {
		err = act.NewNotFound("that line isn’t on the price list")
	}
	return Line{}, err
}

// Typed is a line as it is typed, so that another price from a day on can follow it.
func (l Line) Typed(set rules.Set, units act.Units) Request {
	r := Request{Kind: string(l.Kind), Species: l.Species, Seasoning: string(l.Seasoning), Place: l.Place}
	if l.PieceLength > 0 {
		r.PieceLength = l.PieceLength.String()
	}
	if l.Per != (measure.Quantity{}) {
		r.Per = act.Spell(set, units, l.Per)
	}
	if l.Price.Currency != "" {
		r.Price = l.Price.Amount()
	}
	return r
}
