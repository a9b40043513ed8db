package orders

import (
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
)

// AuditStore keeps audits. Entries, readings, photos and reports are only ever added;
// of readings it is marked that they were struck.
type AuditStore interface {
	// StoredAudit gives an audit with its entries, measurers and what its photos are; no
	// readings and no photos.
	StoredAudit(id string) (StoredAudit, error)
	// AuditList gives those with numbers below before, newest first; of one seller
	// where key is not empty.
	AuditList(key string, before int64, limit int) ([]AuditLine, error)
	// AuditIDs are the ids of all by number, and AuditLine is one as a list shows it.
	AuditIDs() ([]AuditID, error)
	AuditLine(id string) (AuditLine, error)
	// AuditsOf gives those on the receipts of an order, oldest first.
	AuditsOf(orderID string) ([]AuditLine, error)
	AddAudit(a Audit) error
	// TouchAudit raises the version of an open audit that is at version.
	TouchAudit(id string, version int64) error
	AddAuditEntry(auditID string, e AuditEntry) error
	AddAuditMeasurer(auditID string, h AuditMeasurer, codeHash string) error
	RenewAuditMeasurer(id, codeHash string, at time.Time) error
	// AuditMeasurerOf gives the measurer whose link a code opens.
	AuditMeasurerOf(codeHash string) (MeasurerOf, error)
	AddLinkOpening(measurerID string, o LinkOpening) error
	// AuditReadings gives all that a measurer has saved, oldest first.
	AuditReadings(measurerID string) ([]AuditReading, error)
	AddAuditReading(measurerID string, r AuditReading) error
	// StrikeAuditReading marks what was handed in as struck.
	StrikeAuditReading(measurerID string, n int, at time.Time, reason string) error
	AddAuditPhoto(auditID string, p AuditPhoto, original, shown []byte) error
	// AuditPhotoBytes gives the original of a photo, or the copy that is shown.
	AuditPhotoBytes(auditID, photoID string, original bool) ([]byte, error)
	// CloseAudit adds the report and closes the audit at version.
	CloseAudit(id string, version int64, r StoredAuditReport, result stack.Result) error
	StoredAuditReport(auditID string) (StoredAuditReport, error)
}

// A StoredAudit is an audit as it lies in the store: Audit holds the head, the measurers
// and the photos, and Entries what was written down, in order.
type StoredAudit struct {
	Audit   Audit
	Entries []AuditEntry
}

// AuditEntryKind is what was written down of an audit.
type AuditEntryKind string

// The kinds of entry.
const (
	NoticeEntry     AuditEntryKind = "notice"
	AttendanceEntry AuditEntryKind = "attendance"
	HoldEntry       AuditEntryKind = "hold"
	PlanEntry       AuditEntryKind = "plan"
	ItemEntry       AuditEntryKind = "item"
	NoteEntry       AuditEntryKind = "note"
)

// An AuditEntry is one thing written down, its body in JSON.
type AuditEntry struct {
	Kind    AuditEntryKind
	Body    []byte
	Person  string
	Written time.Time
}

// A MeasurerOf is whose link a code opens.
type MeasurerOf struct {
	AuditID, ID string
	Link        int // which of the measurer's links, from 1
}

// An AuditReading is one saving by a measurer: a draft, or readings handed in.
type AuditReading struct {
	N        int    // counts up for each measurer, from 1
	Typed    []byte // the form as it was filled in, empty where a program sent it
	Document []byte // stack.Document as read, not completed
	Created  time.Time
	Handed   bool
	Struck   time.Time // zero unless a correction crossed it out
	Reason   string    // why it was crossed out
	// Circumstances, Salt and Seal are of readings handed in.
	Circumstances AuditCircumstances
	Salt          []byte
	Seal          string
}

// A StoredAuditReport is a report as it lies in the store.
type StoredAuditReport struct {
	Issued  time.Time
	Bytes   []byte
	Hash    string // SHA-256 of Bytes, hex
	PDF     []byte
	PDFHash string // SHA-256 of PDF, hex
}

// An AuditID is an audit by its number and its id.
type AuditID struct {
	Number int64
	ID     string
}

// An AuditLine is an audit as a list shows it.
type AuditLine struct {
	ID          string           `json:"id"`
	Number      int64            `json:"number"`
	State       AuditState       `json:"state"`
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
