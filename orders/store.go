package orders

import (
	"context"
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/customers"
	"wellstowed/orders/ledger"
	"wellstowed/orders/loose"
	"wellstowed/orders/people"
	"wellstowed/orders/photos"
	"wellstowed/orders/prices"
	"wellstowed/orders/yard"
)

// Store keeps a shop's data. Its methods are declared by noun, on Tx.
type Store interface {
	// Read runs do on one consistent view of the data; do writes nothing.
	Read(ctx context.Context, do func(Tx) error) error
	// Write runs do in one transaction that is alone in writing: an error
	// from do undoes all of it. What is slow is done before.
	Write(ctx context.Context, do func(Tx) error) error
	// Writable tells whether something can be saved now.
	Writable(ctx context.Context) error
	// Close lets go of the data.
	Close() error
}

// Tx is one transaction. What is not there is answered with an *Error of Kind
// NotFound; a version that is not the latest with one of Kind Conflict.
type Tx interface {
	ShopStore
	CustomerStore
	OrderStore
	LoadStore
	ReceiptStore
	TallyStore
	SheetStore
	MoneyStore
	ErasedStore
	PaperStore
	BackupStore
	JournalStore
	yard.Tx
	customers.Tx
	prices.Tx
	photos.Tx
	loose.Tx
	people.Tx
}

// ShopStore keeps the shop's settings.
type ShopStore interface {
	Shop() (Shop, error)
	// ChangeShop saves over the shop at s.Version and raises the version.
	ChangeShop(s Shop) error
}

// PaperStore tells of the papers together.
type PaperStore interface {
	// LastIssued is when the last of the receipts, of the sheets and of the reports was
	// issued, whichever is latest; zero before the first.
	LastIssued() (time.Time, error)
}

// BackupStore keeps which backups were made.
type BackupStore interface {
	AddBackup(b Backup) error
	// Backups are the newest backups, newest first.
	Backups(limit int) ([]Backup, error)
}

// CustomerStore keeps customers.
type CustomerStore interface {
	AddCustomer(c Customer) error
	// ChangeCustomer saves over the customer at c.Version and raises the version.
	ChangeCustomer(c Customer) error
}

// OrderStore keeps orders. State and Outcome are derived on reading.
type OrderStore interface {
	Order(id string) (Order, error)
	// Orders are those with numbers below before, newest first, in one query.
	Orders(before int64, limit int) ([]Order, error)
	// CustomerOrders are those of a customer's record, newest first.
	CustomerOrders(record string) ([]Order, error)
	// OpenOrders are those that may have something left to do: wood to come, a shortage or
	// what can't be told yet, money owed either way. Some of them may have nothing left.
	OpenOrders() ([]Order, error)
	// Whose are what all orders whose names weren't erased are found by, newest first.
	Whose() ([]Whose, error)
	// AddOrder adds an order of a customer who is there.
	AddOrder(o Order) error
	// ChangeOrder saves over the order at o.Version, its customer left alone,
	// and raises the version.
	ChangeOrder(o Order) error
	// CancelOrder marks the order at version cancelled and raises the version.
	CancelOrder(id string, version int64, at time.Time) error
}

// LoadStore keeps loads, oldest first.
type LoadStore interface {
	// Loads are those that count: whose receipt was neither corrected nor made void.
	Loads(orderID string) ([]yard.Load, error)
	// AddLoad adds a load whose receipt is there.
	AddLoad(l yard.Load) error
}

// ReceiptStore keeps issued receipts as they were written.
type ReceiptStore interface {
	StoredReceipt(number int64) (StoredReceipt, error)
	// StoredReceipts are those with numbers above after, in order.
	StoredReceipts(after int64, limit int) ([]StoredReceipt, error)
	// WitnessLines are what a witness is told of the papers with numbers above after,
	// in order.
	WitnessLines(paper ledger.Paper, after int64) ([]ledger.Line, error)
	JournalLine(write int64) (ledger.Line, error)
	AddReceipt(r StoredReceipt) error
	// OrderReceipts are the receipts of an order, in order, without Personal, Salt and
	// PDF, and without what is read from the order and the load.
	OrderReceipts(orderID string) ([]StoredReceipt, error)
	// ReceiptRefs name the receipts of an order whose loads count, in order.
	ReceiptRefs(orderID string) ([]ReceiptRef, error)
}

// TallyStore keeps tallies, oldest first.
type TallyStore interface {
	Tallies(orderID string) ([]Tally, error)
	// AddTally adds a tally whose sheet is there.
	AddTally(t Tally) error
}

// SheetStore keeps measurement sheets as they were written.
type SheetStore interface {
	StoredSheet(number int64) (StoredSheet, error)
	// StoredSheets are those with numbers above after, in order.
	StoredSheets(after int64, limit int) ([]StoredSheet, error)
	AddSheet(s StoredSheet) error
}

// The counters.
const (
	OrderNumbers   act.Counter = "order"
	ReceiptNumbers act.Counter = ledger.ReceiptNumbers
	SheetNumbers   act.Counter = ledger.SheetNumbers
)

// The verbs that write.
const (
	ShopChanged    act.Verb = "change shop"
	ShopBegun      act.Verb = "begin shop"
	OrderTaken     act.Verb = "take order"
	OrderChanged   act.Verb = "change order"
	OrderCancelled act.Verb = "cancel order"
	DaySet         act.Verb = "set day"
	LoadDelivered  act.Verb = "deliver"
	TallySaved     act.Verb = "save tally"

	ReceiptCorrected act.Verb = "correct receipt"
	ReceiptVoided    act.Verb = "void receipt"
)

// A StoredReceipt is a receipt as it lies in the store, nothing decoded, with the
// columns kept beside its bytes for searching.
type StoredReceipt struct {
	Number    int64
	OrderID   string
	Issued    time.Time
	FactBytes []byte
	FactsHash string // SHA-256 of FactBytes, hex
	Personal  []byte
	Salt      []byte
	// PersonalHash is SHA-256 of Salt and Personal, hex. It stays when those
	// are erased.
	PersonalHash string
	Chain        string
	Seal         string
	PDF          []byte `names:"erased"`
	PDFHash      string // SHA-256 of PDF, hex
	// Kind and Of are kept beside the facts, which say the same.
	Kind ReceiptKind
	Of   int64
	// Ended is the receipt that corrects this one or makes it void, nil while it
	// counts; read from that one.
	Ended *Ending
	// Erased is when its names were erased, by the log of erasures; zero while it is
	// whole.
	Erased time.Time
	// OrderNumber, Delivered, DeliveredOn and Batch, the id of the one the load was
	// drawn from, are read from the order and the load; adding a receipt does not
	// write them. They are zero when the load is gone.
	OrderNumber int64
	Delivered   measure.Quantity
	DeliveredOn act.Date
	Batch       string
}

// A StoredSheet is a measurement sheet as it lies in the store.
type StoredSheet struct {
	Number  int64
	OrderID string
	Issued  time.Time
	Bytes   []byte
	Hash    string // SHA-256 of Bytes, hex; empty with sheets from before they were chained
	// Personal and Salt are as in StoredReceipt; nil where the purchaser is in Bytes.
	Personal     []byte
	Salt         []byte `names:"erased"`
	PersonalHash string
	Chain        string    // as a receipt's, over the sheets
	PDF          []byte    `names:"erased"`
	PDFHash      string    // SHA-256 of PDF, hex
	Erased       time.Time // as in StoredReceipt
	// OrderNumber and Tally are read from the order and the tally; adding a sheet does
	// not write them. They are zero when those are gone.
	OrderNumber int64
	Tally       TallyColumns
}

// TallyColumns are the columns of a sheet's tally that the sheet says as well.
type TallyColumns struct {
	OrderID  string
	Look     int
	Document []byte
	Result   []byte // as JSON
	Outcome  string
	ReadBy   string
}
