package orders

import (
	"encoding/json"
	"time"
	"wellstowed/orders/act"
)

// What stands where a name was and a row cannot be without one.
const (
	ErasedName   = "Names erased"
	ErasedReader = "the buyer"
)

// A RecordKind is a sort of thing that names are erased of, with all that belongs to it.
type RecordKind string

// The kinds of record.
const (
	OrderRecord RecordKind = "order" // its customer, papers, money, case, place on the waiting list, audits
	PlaceRecord RecordKind = "place" // on the waiting list, dropped
	CaseRecord  RecordKind = "case"  // a buyer’s own record of wood bought elsewhere
	AuditRecord RecordKind = "audit" // of a load with no order here
)

// A Record is one thing that names are erased of.
type Record struct {
	Kind RecordKind
	ID   string
}

// closedByErasure refuses a new paper on an order whose names were erased.
func (d desk) closedByErasure() error {
	for _, r := range d.filed {
		if !r.Erased.IsZero() {
			return act.NewConflict("the names of order %d were erased on %s; nothing more is issued on it", int(d.order.Number), act.DayIn(r.Erased, d.shop.Zone).Text())
		}
	}
	return nil
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
	return act.NewConflict("the names of order %d were erased; nothing more is recorded on it", int(o.Number))
}

// ErasedStore tells what was erased.
type ErasedStore interface {
	// ErasedOn is when the names of a record were erased; zero while it has them.
	ErasedOn(r Record) (time.Time, error)
}
