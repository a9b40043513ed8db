// Package cases keeps buyers' cases: what was bought, what the buyer measured, what buyer and
// seller said to each other, and the link by which a buyer opens it without an account.
package cases

import (
	"time"

	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

// A Tx is one transaction on buyers' cases, which rest on receipts and tallies. What
// is not there is answered NotFound.
type Tx interface {
	act.Requests
	Store
	LinkStore
	Shop() (orders.Shop, error)
	StoredReceipt(number int64) (orders.StoredReceipt, error)
	Tallies(orderID string) ([]orders.Tally, error)
	Settlements(orderID string) ([]orders.Settlement, error)
	ErasedOn(r orders.Record) (time.Time, error)
}

// Store keeps buyers' cases; of what is in a case, all is only ever added.
type Store interface {
	// Case gives a case with its latest account, its tallies and its entries.
	Case(id string) (Case, error)
	// CaseOf gives the case on a receipt.
	CaseOf(receipt int64) (Case, error)
	// OwnCases are those on no receipt, newest first.
	OwnCases() ([]Case, error)
	// Unanswered are the receipts whose case ends in words of the buyer's that the
	// seller has not answered, oldest first.
	Unanswered() ([]int64, error)
	AddCase(c Case) error
	// AddAccount adds what the buyer now says; its version follows on the latest.
	AddAccount(caseID string, a Statement) error
	AddCaseTally(caseID string, t Tally) error
	AddEntry(caseID string, e Entry) error
}

// LinkStore keeps buyers' links.
type LinkStore interface {
	// LinkByHash gives the link that holds by its code's hash.
	LinkByHash(hash string) (Link, error)
	// LinkOf gives the link of a receipt that holds.
	LinkOf(receipt int64) (Link, error)
	AddLink(l Link) error
	// WithdrawLinks marks those of a receipt that hold as withdrawn.
	WithdrawLinks(receipt int64, at time.Time) error
}

// The verbs of buyers' cases.
const (
	LinkMade      act.Verb = "make link"
	LinkWithdrawn act.Verb = "withdraw link"
	CaseOpened    act.Verb = "open case"
	CaseChanged   act.Verb = "change case"
	CaseMeasured  act.Verb = "measure case"
	EntryMade     act.Verb = "add entry"
)

// A Service is all that can be done with buyers' cases.
type Service struct {
	acts act.Doer[Tx]
	book rules.Book
	font act.Font
}

// New makes a Service over a store that prints in a font, by the rules of a book and a
// clock.
func New(store act.Store[Tx], book rules.Book, font act.Font, clock func() time.Time) *Service {
	return &Service{acts: act.Doer[Tx]{Store: store, Now: act.Clock(clock)}, book: book, font: font}
}

func (s *Service) now() time.Time { return s.acts.Now() }
