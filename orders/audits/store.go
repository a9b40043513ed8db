package audits

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/orders/photos"
)

// Store keeps audits. Entries, readings, photos and reports are only ever added;
// of readings it is marked that they were struck.
type Store interface {
	// StoredAudit gives an audit with its entries, measurers and what its photos are; no
	// readings and no photos.
	StoredAudit(id string) (StoredAudit, error)
	// AuditList gives those with numbers below before, newest first; of one seller
	// where key is not empty.
	AuditList(key string, before int64, limit int) ([]Line, error)
	// AuditIDs are the ids of all by number, and AuditLine is one as a list shows it.
	AuditIDs() ([]ID, error)
	AuditLine(id string) (Line, error)
	// AuditsOf gives those on the receipts of an order, oldest first.
	AuditsOf(orderID string) ([]Line, error)
	AddAudit(a Audit) error
	// TouchAudit raises the version of an open audit that is at version.
	TouchAudit(id string, version int64) error
	AddAuditEntry(auditID string, e Entry) error
	AddAuditMeasurer(auditID string, h Measurer, codeHash string) error
	RenewAuditMeasurer(id, codeHash string, at time.Time) error
	// AuditMeasurerOf gives the measurer whose link a code opens.
	AuditMeasurerOf(codeHash string) (MeasurerOf, error)
	AddLinkOpening(measurerID string, o LinkOpening) error
	// AuditReadings gives all that a measurer has saved, oldest first.
	AuditReadings(measurerID string) ([]SavedReading, error)
	AddAuditReading(measurerID string, r SavedReading) error
	// StrikeAuditReading marks what was handed in as struck.
	StrikeAuditReading(measurerID string, n int, at time.Time, reason string) error
	AddAuditPhoto(auditID string, p photos.Photo, original, shown []byte) error
	// AuditPhotoBytes gives the original of a photo, or the copy that is shown.
	AuditPhotoBytes(auditID, photoID string, original bool) ([]byte, error)
	// CloseAudit adds the report and closes the audit at version.
	CloseAudit(id string, version int64, r StoredReport, result stack.Result) error
	StoredAuditReport(auditID string) (StoredReport, error)
}

// A StoredAudit is an audit as it lies in the store: Audit holds the head, the measurers
// and the photos, and Entries what was written down, in order.
type StoredAudit struct {
	Audit   Audit
	Entries []Entry
}

// EntryKind is what was written down of an audit.
type EntryKind string

// The kinds of entry.
const (
	NoticeEntry     EntryKind = "notice"
	AttendanceEntry EntryKind = "attendance"
	HoldEntry       EntryKind = "hold"
	PlanEntry       EntryKind = "plan"
	ItemEntry       EntryKind = "item"
	NoteEntry       EntryKind = "note"
)

// An Entry is one thing written down, its body in JSON.
type Entry struct {
	Kind    EntryKind
	Body    []byte
	Person  string `names:"erased"`
	Written time.Time
}

// A MeasurerOf is whose link a code opens.
type MeasurerOf struct {
	AuditID, ID string
	Link        int // which of the measurer's links, from 1
}

// A SavedReading is one saving by a measurer: a draft, or readings handed in.
type SavedReading struct {
	N        int    // counts up for each measurer, from 1
	Typed    []byte `names:"erased"` // the form as it was filled in, empty where a program sent it
	Document []byte `names:"erased"` // stack.Document as read, not completed
	Created  time.Time
	Handed   bool
	Struck   time.Time // zero unless a correction crossed it out
	Reason   string    `names:"erased"` // why it was crossed out
	// Circumstances, Salt and Seal are of readings handed in.
	Circumstances Circumstances
	Salt          []byte `names:"erased"`
	Seal          string
}

// A StoredAuditReport is a report as it lies in the store.
type StoredReport struct {
	Issued  time.Time
	Bytes   []byte `names:"erased"`
	Hash    string // SHA-256 of Bytes, hex
	PDF     []byte `names:"erased"`
	PDFHash string // SHA-256 of PDF, hex
}

// An ID is an audit by its number and its id.
type ID struct {
	Number int64
	ID     string
}

// A Line is an audit as a list shows it.
type Line struct {
	ID          string           `json:"id"`
	Number      int64            `json:"number"`
	State       State            `json:"state"`
	Receipt     int64            `json:"receipt,omitempty"`
	Seller      string           `json:"seller"`
	Sold        measure.Quantity `json:"sold"`
	DeliveredOn act.Date         `json:"delivered_on"`
	Opened      time.Time        `json:"opened"`
	ClosedAt    time.Time        `json:"closed_at,omitzero"`
	Word        stack.Word       `json:"word,omitempty"`
	// Result is of a closed audit only.
	Result *stack.Result `json:"result,omitempty"`
}
