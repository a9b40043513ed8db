// Package customers keeps who buys: how to reach them, how to get the wood to them, and
// which orders are theirs. An order keeps the name and address it was taken with; a record
// is what the shop knows of the person now.
package customers

import (
	"cmp"
	"slices"
	"strings"
	"time"
	"unicode"

	"wellstowed/orders/act"
)

// A Record is what is kept of one customer.
type Record struct {
	ID      string `json:"id"` // UUIDv7
	Version int64  `json:"version"`
	Name    string `json:"name" names:"erased"`
	Address string `json:"address" names:"erased"` // lines separated by \n
	Phone   string `json:"phone" names:"erased"`
	// Access is how to get in: gate, slope, low wires, where the wood goes. Never printed
	// for the customer.
	Access   string    `json:"access" names:"erased"`
	Stacking string    `json:"stacking" names:"erased"` // what is wanted of stacking; never printed for the customer
	Place    string    `json:"place" names:"erased"`    // "44.051200,-72.203400", degrees WGS 84; empty: not known
	Created  time.Time `json:"created"`
	// Orders is how many orders are theirs, and Last when the latest was taken; read only.
	Orders int       `json:"orders"`
	Last   time.Time `json:"last,omitzero"`
}

// A Request is a record as typed.
type Request struct {
	Name     string `json:"name"`
	Address  string `json:"address"`
	Phone    string `json:"phone"`
	Access   string `json:"access"`
	Stacking string `json:"stacking"`
	Place    string `json:"place"`
	Version  int64  `json:"version"` // of the record that was seen; 0 for a new one
}

// Typed is a record as it is typed.
func (r Record) Typed() Request {
	return Request{r.Name, r.Address, r.Phone, r.Access, r.Stacking, r.Place, r.Version}
}

// Same tells whether a name, an address and a telephone number are those of this
// customer: the name is the same but for capitals and spaces, and so is the telephone
// number or the address.
func (r Record) Same(name, address, phone string) bool {
	if act.Fold(r.Name) != act.Fold(name) {
		return false
	}
	if a, b := figures(r.Phone), figures(phone); a != "" && b != "" {
		return a == b
	}
	return act.Fold(r.Address) == act.Fold(address)
}

// Holds tells whether each word is part of the name, address or telephone number.
func (r Record) Holds(words []string) bool {
	return !slices.ContainsFunc(words, func(word string) bool { return !Finds(word, r.Name, r.Address, r.Phone) })
}

// Finds tells whether a word is part of a name, an address or a telephone number; capitals
// make no difference, nor do the marks in a telephone number.
func Finds(word, name, address, phone string) bool {
	number := figures(word)
	return strings.Contains(strings.ToLower(name+"\n"+address+"\n"+phone), strings.ToLower(word)) ||
		len(number) >= 3 && strings.Contains(figures(phone), number)
}

// alike orders what may be the same customer as r first: those of the same name, then of
// the same telephone number or address, then the rest by name.
func alike(r Record, others []Record) []Record {
	rank := func(o Record) int {
		switch {
		case act.Fold(o.Name) == act.Fold(r.Name):
			return 0
		case figures(o.Phone) != "" && figures(o.Phone) == figures(r.Phone), o.Address != "" && act.Fold(o.Address) == act.Fold(r.Address):
			return 1
		}
		return 2
	}
	slices.SortStableFunc(others, func(a, b Record) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), strings.Compare(act.Fold(a.Name), act.Fold(b.Name)))
	})
	return others
}

// Key is a name as it is compared: in small letters with single spaces.
func Key(name string) string { return act.Fold(name) }

// figures are those of a text.
func figures(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsDigit(r) {
			return r
		}
		return -1
	}, text)
}

// A Tx is one transaction. What is not there is answered NotFound; a version that is not
// the latest Conflict.
type Tx interface {
	act.Requests
	CustomerRecord(id string) (Record, error)
	// CustomerRecords are all, by name.
	CustomerRecords() ([]Record, error)
	// CustomersNamed are those whose name has this Key.
	CustomersNamed(key string) ([]Record, error)
	AddCustomerRecord(r Record) error
	// ChangeCustomerRecord saves over the record at r.Version and raises the version.
	ChangeCustomerRecord(r Record) error
	// DropCustomerRecord takes away a record that has no orders.
	DropCustomerRecord(id string) error
	// MoveOrders makes the orders of one record those of another.
	MoveOrders(from, to string) error
}

// The verbs of what is done to records.
const (
	Added    act.Verb = "add customer"
	Changed  act.Verb = "change customer"
	Merged   act.Verb = "merge customers"
	Dropped  act.Verb = "drop customer"
	Imported act.Verb = "import customers"
)
