// Package yard is the wood and the trucks of a shop before any order: batches of wood and
// what is left of them, truck beds taped once up to a line, and moisture readings.
package yard

import (
	"context"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
	"wellstowed/orders/act"
)

// A Tx is one transaction. What is not there is answered NotFound.
type Tx interface {
	act.Requests
	act.Counters
	BatchStore
	BodyStore
	MoistureStore
	// Ground gives where the shop is.
	Ground() (Ground, error)
}

// Ground is what of a shop's settings its yard goes by.
type Ground struct {
	Zone    string // IANA
	Units   act.Units
	RuleSet string // code
}

// A Load is wood delivered on an order; each has its receipt.
type Load struct {
	ID        string           `json:"id"`
	OrderID   string           `json:"order_id"`
	Delivered measure.Quantity `json:"delivered"`
	On        act.Date         `json:"on"`
	Receipt   int64            `json:"receipt"`         // its receipt's number
	Batch     string           `json:"batch,omitempty"` // id of what it was drawn from
	Created   time.Time        `json:"created"`
}

// MoistureStore keeps moisture readings, oldest first.
type MoistureStore interface {
	Moistures(orderID string) ([]Moisture, error)
	AddMoisture(m Moisture) error
}

// BatchStore keeps batches of wood. Batches have what was written down of them, and
// not their readings, nor what follows from their loads.
type BatchStore interface {
	Batch(id string) (Batch, error)
	// Batches are all, newest first.
	Batches() ([]Batch, error)
	AddBatch(b Batch) error
	// AddBatchEntry adds what was written down; Conflict where another took its place.
	AddBatchEntry(e BatchEntry) error
	// BatchLoads are the loads drawn from a batch whose receipts stand, oldest first.
	BatchLoads(id string) ([]BatchLoad, error)
	// BatchMoistures are the readings of a batch, oldest first.
	BatchMoistures(id string) ([]Moisture, error)
}

// BodyStore keeps the beds of trucks and trailers; those taken out of use are not given.
type BodyStore interface {
	Bodies() ([]Body, error)
	AddBody(b Body) error
	RetireBody(id string) error
}

// The verbs of the yard.
const (
	MoistureAdded act.Verb = "add moisture"
	BodyAdded     act.Verb = "add body"
	BodyRetired   act.Verb = "retire body"
	BatchPutUp    act.Verb = "put up batch"
	BatchSaid     act.Verb = "correct batch"
	BatchCounted  act.Verb = "count batch"
	BatchEnded    act.Verb = "end batch"
)

// A Service is all that can be done in the yard.
type Service struct {
	acts act.Doer[Tx]
	book rules.Book
	font act.Font
}

// New makes a Service that prints in a font, under rule sets of a book.
func New(acts act.Doer[Tx], book rules.Book, font act.Font) *Service {
	return &Service{acts: acts, book: book, font: font}
}

// A plot is the ground with its rules, as of now.
type plot struct {
	set   rules.Set
	units act.Units
	zone  *time.Location
	now   time.Time
	today act.Date
}

func (s *Service) plot(tx Tx) (p plot, err error) {
	g, err := tx.Ground()
	if err != nil {
		return plot{}, err
	}
	if p.set, err = act.RulesOf(s.book, g.RuleSet); err != nil {
		return plot{}, err
	}
	if p.zone, err = time.LoadLocation(g.Zone); err != nil {
		return plot{}, err
	}
	p.units, p.now = g.Units, s.acts.Now()
	p.today = act.DateOf(p.now.In(p.zone))
	return p, nil
}

func (s *Service) read(ctx context.Context, do func(Tx) error) error {
	return act.Fail(s.acts.Store.Read(ctx, do))
}
