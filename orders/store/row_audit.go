package store

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

type auditRow struct {
	ID        string `gorm:"primaryKey"`
	Number    int64
	Version   int64
	Receipt   *int64
	Subject   string
	Capacity  string
	Seller    string
	SellerKey string
	Sold      int64
	Basis     string
	Delivered string
	OpenedBy  string
	Opened    int64
	Closed    *int64
	Word      string
	Result    string
}

func (auditRow) TableName() string { return "audits" }

type auditEntryRow struct {
	AuditID string `gorm:"primaryKey"`
	N       int    `gorm:"primaryKey;autoIncrement:false"`
	Kind    string
	Body    string
	Person  string
	Written int64
}

func (auditEntryRow) TableName() string { return "audit_entries" }

// StoredAudit gives an audit as it lies here.
func (t tx) StoredAudit(id string) (audits.StoredAudit, error) {
	var r auditRow
	if err := t.db.Where("id = ?", id).Take(&r).Error; err != nil {
		return audits.StoredAudit{}, missing(err, "that audit isn’t here")
	}
	a, err := r.audit()
	if err != nil {
		return audits.StoredAudit{}, fmt.Errorf("audit %d: %w", r.Number, err)
	}
	stored := audits.StoredAudit{Audit: a}
	if stored.Audit.Erased, err = t.ErasedOn(orders.Record{Kind: orders.AuditRecord, ID: id}); err != nil {
		return stored, err
	}
	if stored.Audit.Measurers, err = t.auditMeasurers(id); err != nil {
		return stored, err
	}
	if stored.Audit.Photos, err = t.auditPhotos(id); err != nil {
		return stored, err
	}
	if a.State == audits.Closed {
		report, err := t.auditReport(id, "report_sha256")
		if err != nil {
			return stored, err
		}
		stored.Audit.Hash = report.ReportSHA256
	}
	var rows []auditEntryRow
	err = t.db.Where("audit_id = ?", id).Order("n").Find(&rows).Error
	for _, e := range rows {
		stored.Entries = append(stored.Entries, audits.Entry{
			Kind: audits.EntryKind(e.Kind), Body: []byte(e.Body), Person: e.Person, Written: instant(e.Written),
		})
	}
	return stored, err
}

func (r auditRow) audit() (audits.Audit, error) {
	a := audits.Audit{
		ID: r.ID, Number: r.Number, Version: r.Version, State: audits.Open,
		OpenedBy: r.OpenedBy, Opened: instant(r.Opened), Word: stack.Word(r.Word),
	}
	if r.Closed != nil {
		a.State, a.ClosedAt = audits.Closed, instant(*r.Closed)
	}
	return a, errors.Join(json.Unmarshal([]byte(r.Subject), &a.Subject), json.Unmarshal([]byte(r.Capacity), &a.Capacity))
}

func (r auditRow) line() (audits.Line, error) {
	l := audits.Line{
		ID: r.ID, Number: r.Number, State: audits.Open, Seller: r.Seller,
		Sold:   measure.Quantity{Volume: measure.Volume(r.Sold), Basis: measure.Basis(r.Basis)},
		Opened: instant(r.Opened), Word: stack.Word(r.Word),
	}
	if r.Receipt != nil {
		l.Receipt = *r.Receipt
	}
	if r.Closed != nil {
		l.State, l.ClosedAt = audits.Closed, instant(*r.Closed)
	}
	if r.Result != "" {
		l.Result = new(stack.Result)
		if err := json.Unmarshal([]byte(r.Result), l.Result); err != nil {
			return l, err
		}
	}
	var err error
	l.DeliveredOn, err = act.ParseDate(r.Delivered)
	return l, err
}

func lines(rows []auditRow) ([]audits.Line, error) {
	list := make([]audits.Line, len(rows))
	for i, r := range rows {
		var err error
		if list[i], err = r.line(); err != nil {
			return nil, fmt.Errorf("audit %d: %w", r.Number, err)
		}
	}
	return list, nil
}

// AuditList gives a page of audits by key.
func (t tx) AuditList(key string, before int64, limit int) ([]audits.Line, error) {
	query := t.db.Where("number < ?", before)
	if key != "" {
		query = t.db.Where("seller_key = ? AND number < ?", key, before)
	}
	var rows []auditRow
	if err := query.Order("number DESC").Limit(limit).Find(&rows).Error; err != nil {
		return nil, err
	}
	return lines(rows)
}

// AuditIDs gives the ids of all audits by number.
func (t tx) AuditIDs() ([]audits.ID, error) {
	var ids []audits.ID
	err := t.db.Model(&auditRow{}).Select("number", "id").Order("number").Scan(&ids).Error
	return ids, err
}

// AuditLine gives an audit as a list shows it.
func (t tx) AuditLine(id string) (audits.Line, error) {
	var r auditRow
	if err := t.db.Where("id = ?", id).Take(&r).Error; err != nil {
		return audits.Line{}, missing(err, "that audit isn’t here")
	}
	return r.line()
}

// AuditsOf gives the audits of an order's deliveries, oldest first.
func (t tx) AuditsOf(orderID string) ([]audits.Line, error) {
	var rows []auditRow
	err := t.db.Where("receipt IN (?)", t.db.Model(&receiptRow{}).Select("number").Where("order_id = ?", orderID)).
		Order("number").Find(&rows).Error
	if err != nil {
		return nil, err
	}
	return lines(rows)
}

// AddAudit adds an open audit.
func (t tx) AddAudit(a audits.Audit) error {
	subject, err := json.Marshal(a.Subject)
	if err != nil {
		return err
	}
	capacity, err := json.Marshal(a.Capacity)
	if err != nil {
		return err
	}
	row := auditRow{
		ID: a.ID, Number: a.Number, Version: 1, Subject: string(subject), Capacity: string(capacity),
		Seller: a.Subject.Vendor.Name, SellerKey: audits.SellerKey(a.Subject.Vendor.Name),
		Sold: int64(a.Subject.Sold.Volume), Basis: string(a.Subject.Sold.Basis), Delivered: a.Subject.DeliveredOn.String(),
		OpenedBy: a.OpenedBy, Opened: micros(a.Opened),
	}
	if n := a.Subject.Receipt.Number; n != 0 {
		row.Receipt = &n
	}
	return t.db.Create(&row).Error
}

// TouchAudit raises the version of an open audit.
func (t tx) TouchAudit(id string, version int64) error {
	return changedOne(t.db.Model(&auditRow{}).Where("id = ? AND version = ? AND closed IS NULL", id, version).
		Select("Version").Updates(auditRow{Version: version + 1}))
}

// AddAuditEntry adds what was written down, after all before it.
func (t tx) AddAuditEntry(auditID string, e audits.Entry) error {
	var n int64
	if err := t.db.Model(&auditEntryRow{}).Where("audit_id = ?", auditID).Count(&n).Error; err != nil {
		return err
	}
	return t.db.Create(&auditEntryRow{
		AuditID: auditID, N: int(n) + 1, Kind: string(e.Kind), Body: string(e.Body), Person: e.Person, Written: micros(e.Written),
	}).Error
}

type auditReportRow struct {
	AuditID      string `gorm:"primaryKey"`
	Issued       int64
	Report       []byte
	ReportSHA256 string `gorm:"column:report_sha256"`
	PDF          []byte `gorm:"column:pdf"`
	PDFSHA256    string `gorm:"column:pdf_sha256"`
}

func (auditReportRow) TableName() string { return "audit_reports" }

func (t tx) auditReport(auditID string, columns ...string) (auditReportRow, error) {
	var r auditReportRow
	query := t.db.Where("audit_id = ?", auditID)
	if len(columns) > 0 {
		query = query.Select(strings.Join(columns, ", "))
	}
	return r, missing(query.Take(&r).Error, "this audit is not closed, so there is no report yet")
}

// StoredAuditReport gives the report of a closed audit.
func (t tx) StoredAuditReport(auditID string) (audits.StoredReport, error) {
	r, err := t.auditReport(auditID)
	return audits.StoredReport{
		Issued: instant(r.Issued), Bytes: r.Report, Hash: r.ReportSHA256, PDF: r.PDF, PDFHash: r.PDFSHA256,
	}, err
}

// CloseAudit adds the report and closes the audit.
func (t tx) CloseAudit(id string, version int64, r audits.StoredReport, result stack.Result) error {
	stored, err := json.Marshal(result)
	if err != nil {
		return err
	}
	at := micros(r.Issued)
	row := auditRow{Version: version + 1, Closed: &at, Result: string(stored)}
	if result.Finding != nil {
		row.Word = string(result.Finding.Word)
	}
	err = changedOne(t.db.Model(&auditRow{}).Where("id = ? AND version = ? AND closed IS NULL", id, version).
		Select("Version", "Closed", "Word", "Result").Updates(row))
	if err != nil {
		return err
	}
	return t.db.Create(&auditReportRow{
		AuditID: id, Issued: at, Report: r.Bytes, ReportSHA256: r.Hash, PDF: r.PDF, PDFSHA256: r.PDFHash,
	}).Error
}

// instantOrZero reads an instant that may not be.
func instantOrZero(n *int64) time.Time {
	if n == nil {
		return time.Time{}
	}
	return instant(*n)
}
