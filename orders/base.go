package orders

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/rules"
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

const (
	toRead    = act.ToRead
	toTally   = act.ToTally
	toDeliver = act.ToDeliver
	toManage  = act.ToManage
	toAudit   = act.ToAudit

	firstYear = act.FirstYear
	lastYear  = act.LastYear
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

func allow(who Actor, p act.Permission) error      { return act.Allow(who, p) }
func fail(err error) error                         { return act.Fail(err) }
func conflict(key string, args ...any) error       { return act.NewConflict(key, args...) }
func newID() (string, error)                       { return act.NewID() }
func formatNumber(n int64) string                  { return act.FormatNumber(n) }
func acceptedAmounts(currency string) measure.Text { return money.Accepted(currency) }

func invalid(field, code, got string, reason, accepts measure.Text) error {
	return act.NewInvalid(field, code, got, reason, accepts)
}

// fields gathers the faults of one request, in reading order.
type fields struct{ act.Fields }

func (f *fields) add(field, code, got string, reason, accepts measure.Text) {
	f.Add(field, code, got, reason, accepts)
}
func (f *fields) missing(field string, accepts measure.Text)     { f.Missing(field, accepts) }
func (f *fields) parsed(field string, err error) bool            { return f.Parsed(field, err) }
func (f *fields) err() error                                     { return f.Err() }
func (f *fields) inputs(err error) error                         { return f.Inputs(err) }
func (f *fields) line(field, text string) string                 { return f.Line(field, text) }
func (f *fields) lines(field, text string) string                { return f.Lines(field, text) }
func (f *fields) barred(set rules.Set, field, text string)       { f.Barred(set, field, text) }
func (f *fields) barredInName(set rules.Set, field, text string) { f.BarredInName(set, field, text) }
func (f *fields) hush(set rules.Set)                             { f.Hush(set) }

func acceptedQuantities() measure.Text                            { return act.AcceptedQuantities() }
func spell(set rules.Set, units Units, q measure.Quantity) string { return act.Spell(set, units, q) }
func prepared(set rules.Set, said measure.Said) bool              { return act.Prepared(set, said) }

func (f *fields) refused(field, text string, fault *measure.InputError) {
	f.Refused(field, text, fault)
}
func (f *fields) pieceLength(set rules.Set, units Units, text string) measure.Length {
	return f.PieceLength(set, units, text)
}
func (f *fields) pieceOf(set rules.Set, units Units, field, text string) measure.Length {
	return f.PieceOf(set, units, field, text)
}
func (f *fields) saidUnder(set rules.Set, units Units, field, text string, piece measure.Length) measure.Said {
	return f.SaidUnder(set, units, field, text, piece)
}
func (f *fields) saidWith(set rules.Set, units Units, field, text string, piece measure.Length) measure.Said {
	return f.SaidWith(set, units, field, text, piece)
}
func (f *fields) saidOf(set rules.Set, terms measure.Terms, units Units, field, text string) measure.Said {
	return f.SaidOf(set, terms, units, field, text)
}
func (f *fields) yes(field, text string) bool         { return f.Yes(field, text) }
func (f *fields) readOn(text string, today Date) Date { return f.ReadOn(text, today) }

func dayIn(t time.Time, zone string) Date { return act.DayIn(t, zone) }
