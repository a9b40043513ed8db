package api

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/customers"
	"wellstowed/orders/journal"
	"wellstowed/orders/money"
	"wellstowed/orders/promise"
	"wellstowed/orders/yard"
	"wellstowed/receipts/words"
)

// A Problem is an error for programs, RFC 9457.
type Problem struct {
	Type      string            `json:"type"`
	Title     string            `json:"title"`
	Status    int               `json:"status"`
	Detail    string            `json:"detail"`
	Reference string            `json:"reference,omitempty"` // of the line in the log, where the fault is the program's
	Fields    []words.ErrorJSON `json:"fields,omitempty"`
	Saved     *Saving           `json:"saved,omitempty"` // by the same request before
}

// A Saving is what a request saved before.
type Saving struct {
	At   time.Time `json:"at"`
	Did  string    `json:"did"`
	Path string    `json:"path,omitempty"`
	As   any       `json:"as,omitempty"` // as its act answers a program
}

// Nothing is a body or an answer that says nothing: {}.
type Nothing struct{}

// OrderList are orders, the newest first.
type OrderList struct {
	Orders   []orders.Order            `json:"orders"`
	Balances map[string]orders.Balance `json:"balances"`       // by the orders' ids
	Next     int64                     `json:"next,omitempty"` // ?before= of the next page; none after the last
}

// An OrderReadBack is what an order would be taken as.
type OrderReadBack struct {
	Quantity  measure.Quantity `json:"quantity"`
	Price     orders.Price     `json:"price"`
	Total     money.Money      `json:"total"`
	ReadBack  []string         `json:"read_back"`
	Confirmed string           `json:"confirmed"` // to be sent with the order; empty where nothing is asked
}

// A Cancel names the version of the order that was seen.
type Cancel struct {
	Version int64 `json:"version"`
}

// A Receipt is an issued receipt with its place in the chain.
type Receipt struct {
	Receipt orders.Receipt `json:"receipt"`
	OrderID string         `json:"order_id"`
	Chain   string         `json:"chain"`
	Seal    string         `json:"seal"`
	Ended   *orders.Ending `json:"ended,omitempty"`
}

// A Sheet is a measurement sheet and what it says.
type Sheet struct {
	Sheet   orders.Sheet     `json:"sheet"`
	OrderID string           `json:"order_id"`
	Answer  words.AnswerJSON `json:"answer"`
}

// Payments are those on an order.
type Payments struct {
	Payments []orders.Payment `json:"payments"`
	Balance  orders.Balance   `json:"balance"`
}

// Settlements are what was agreed on a shortage, and what could be.
type Settlements struct {
	Offer       orders.Settlement   `json:"offer"`
	Settlements []orders.Settlement `json:"settlements"`
}

// A History is who did what to a thing, the newest first.
type History struct {
	History []journal.Line `json:"history"`
}

// CustomerList are customers by name.
type CustomerList struct {
	Customers []customers.Record `json:"customers"`
	More      int                `json:"more"` // found and not shown
}

// AuditList are audits, the newest first, of one seller with what they say together.
type AuditList struct {
	Audits []audits.Line        `json:"audits"`
	Next   int64                `json:"next,omitempty"` // ?before= of the next page; none after the last
	Series *audits.SellerSeries `json:"series,omitempty"`
}

// An Audit is an audit and its next step; a closed one with its report.
type Audit struct {
	audits.Audit
	Next    audits.Step    `json:"next"`
	Missing []string       `json:"missing,omitempty"`
	Report  *audits.Report `json:"report,omitempty"`
}

// A Batch is a batch with what was done with it.
type Batch struct {
	yard.BatchHistory
	Drying *yard.BatchDrying `json:"drying,omitempty"`
}

// Retired is the id of what is no longer in use.
type Retired struct {
	Retired string `json:"retired"`
}

// Promises are what there is, what is promised of it, and by month.
type Promises struct {
	Today    act.Date        `json:"today"`
	Batches  []promise.Wood  `json:"batches"`
	Promised []promise.Claim `json:"promised"`
	Months   []promise.Month `json:"months"`
}

// Backups are those made, the newest first.
type Backups struct {
	Made    []orders.Backup `json:"made"`
	Trouble string          `json:"trouble,omitempty"`
}
