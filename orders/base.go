package orders

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/ledger"
	"wellstowed/orders/money"
	"wellstowed/orders/yard"
)

// What every act rests on, and amounts of money, by the names they are used under here.
type (
	Role         = act.Role
	Actor        = act.Actor
	Act          = act.Act
	Kind         = act.Kind
	Error        = act.Error
	Date         = act.Date
	Counter      = act.Counter
	Verb         = act.Verb
	Units        = act.Units
	Money        = money.Money
	Rate         = money.Rate
	Done         = act.Done
	Saved        = act.Saved
	CounterStore = act.Counters
	RequestStore = act.Requests

	Ground          = yard.Ground
	Load            = yard.Load
	Batch           = yard.Batch
	BatchFacts      = yard.BatchFacts
	BatchFact       = yard.BatchFact
	BatchEntry      = yard.BatchEntry
	BatchEntryKind  = yard.BatchEntryKind
	BatchLoad       = yard.BatchLoad
	BatchHistory    = yard.BatchHistory
	BatchRef        = yard.BatchRef
	BatchRequest    = yard.BatchRequest
	BatchCount      = yard.BatchCount
	BatchEnd        = yard.BatchEnd
	BatchDrying     = yard.BatchDrying
	Body            = yard.Body
	BodyRequest     = yard.BodyRequest
	BodyFact        = yard.BodyFact
	Moisture        = yard.Moisture
	MoistureRequest = yard.MoistureRequest
	MoistureFact    = yard.MoistureFact
	BatchStore      = yard.BatchStore
	BodyStore       = yard.BodyStore
	MoistureStore   = yard.MoistureStore

	WitnessedPaper = ledger.Paper
	WitnessLine    = ledger.Line
	Witness        = ledger.Witness
)

// The roles.
const (
	Owner   = act.Owner
	Driver  = act.Driver
	Auditor = act.Auditor
	Buyer   = act.Buyer
)

// The systems of units.
const (
	Imperial = act.Imperial
	Metric   = act.Metric
)

// The kinds of error.
const (
	Internal  = act.Internal
	Invalid   = act.Invalid
	NotFound  = act.NotFound
	Conflict  = act.Conflict
	Forbidden = act.Forbidden
	Unknown   = act.Unknown
)

// What was written down of a batch later.
const (
	BatchCorrected = yard.BatchCorrected
	BatchRecounted = yard.BatchRecounted
	BatchUsedUp    = yard.BatchUsedUp
)

// The papers that are witnessed.
const (
	ReceiptPaper = ledger.Receipt
	SheetPaper   = ledger.Sheet
)

// WitnessFault is ledger.Fault.
func WitnessFault(err error) measure.Text { return ledger.Fault(err) }

// KindOf is act.KindOf.
func KindOf(err error) Kind { return act.KindOf(err) }

// DateOf is act.DateOf.
func DateOf(t time.Time) Date { return act.DateOf(t) }

// ParseDate is act.ParseDate.
func ParseDate(text string) (Date, error) { return act.ParseDate(text) }

// ParseMoney is money.Parse.
func ParseMoney(text, currency string) (Money, error) { return money.Parse(text, currency) }

// ParseRate is money.ParseRate.
func ParseRate(text string) (Rate, error) { return money.ParseRate(text) }
