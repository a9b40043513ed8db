// Package audits checks deliveries by people who are neither seller nor buyer: what was
// recorded, what each measurer read blind to the others, and the report it ends in; samples of
// packaged lots; and what wood that was stacked again shows.
package audits

import (
	"time"

	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
)

// Tx is one transaction on audits, which rest on receipts and tallies. What is not
// there is answered NotFound.
type Tx interface {
	act.Requests
	act.Counters
	Store
	LotDrawStore
	StackingStore
	orders.PaperStore
	Shop() (orders.Shop, error)
	StoredReceipt(number int64) (orders.StoredReceipt, error)
	Tallies(orderID string) ([]orders.Tally, error)
}

// Numbers counts audits.
const Numbers act.Counter = "audit"

// The verbs of audits.
const (
	Opened          act.Verb = "open audit"
	Notified        act.Verb = "notify seller"
	Attended        act.Verb = "note attendance"
	Held            act.Verb = "hold wood"
	Planned         act.Verb = "plan audit"
	MeasurerAdded   act.Verb = "add measurer"
	MeasurerRenewed act.Verb = "renew measurer"
	ItemsSaved      act.Verb = "answer checklist"
	PhotoAdded      act.Verb = "add photo"
	Noted           act.Verb = "note audit"
	Closing         act.Verb = "close audit"
	ReadingSaved    act.Verb = "save reading"
)

// A Service is all that can be done with audits, packaged lots and what wood that was
// stacked again shows. It holds no state but the lock of decoding photos.
type Service struct {
	acts    act.Doer[Tx]
	book    rules.Book
	printer Printer
	lens    photos.Lens
}

// New makes a Service over a store, by the rules of a book, with a printer of reports
// and a clock.
func New(store act.Store[Tx], book rules.Book, printer Printer, clock func() time.Time) *Service {
	return &Service{acts: act.Doer[Tx]{Store: store, Now: act.Clock(clock)}, book: book, printer: printer, lens: photos.NewLens()}
}
