package store

import (
	"encoding/json"
	"time"

	"gorm.io/gorm"

	"wellstowed/measure"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
)

type auditMeasurerRow struct {
	ID         string `gorm:"primaryKey"`
	AuditID    string
	N          int
	Name       string
	CodeSHA256 string `gorm:"column:code_sha256"`
	Added      int64
	Renewed    *int64
	Link       int
}

func (auditMeasurerRow) TableName() string { return "audit_measurers" }

type auditReadingRow struct {
	MeasurerID string `gorm:"primaryKey"`
	N          int    `gorm:"primaryKey;autoIncrement:false"`
	Typed      []byte
	Document   []byte
	Created    int64
	Handed     int
	Struck     *int64
	Reason     string

	Circumstances string
	Salt          []byte
	Seal          string
}

func (auditReadingRow) TableName() string { return "audit_readings" }

type linkOpeningRow struct {
	MeasurerID string `gorm:"primaryKey"`
	Link       int    `gorm:"primaryKey;autoIncrement:false"`
	At         int64  `gorm:"primaryKey;autoIncrement:false"`
}

func (linkOpeningRow) TableName() string { return "audit_link_openings" }

// auditMeasurers gives the measurers of an audit in the order they were added, with when they
// saved; nothing of what they read.
func (t tx) auditMeasurers(auditID string) ([]audits.Measurer, error) {
	var rows []auditMeasurerRow
	if err := t.db.Where("audit_id = ?", auditID).Order("n").Find(&rows).Error; err != nil {
		return nil, err
	}
	var saved []auditReadingRow
	err := t.db.Select("measurer_id", "n", "created", "handed", "struck", "seal", "circumstances").
		Where("measurer_id IN (?)", t.db.Model(&auditMeasurerRow{}).Select("id").Where("audit_id = ?", auditID)).
		Order("measurer_id, n").Find(&saved).Error
	if err != nil {
		return nil, err
	}
	var opened []linkOpeningRow
	err = t.db.Where("measurer_id IN (?)", t.db.Model(&auditMeasurerRow{}).Select("id").Where("audit_id = ?", auditID)).
		Order("measurer_id, link, at").Find(&opened).Error
	if err != nil {
		return nil, err
	}
	measurers := make([]audits.Measurer, len(rows))
	for i, r := range rows {
		measurers[i] = audits.Measurer{ID: r.ID, Name: r.Name, Added: instant(r.Added), Renewed: instantOrZero(r.Renewed)}
		for _, s := range saved {
			if s.MeasurerID != r.ID {
				continue
			}
			if err := s.tell(&measurers[i]); err != nil {
				return nil, err
			}
		}
		for _, o := range opened {
			if o.MeasurerID == r.ID {
				measurers[i].Openings = append(measurers[i].Openings, audits.LinkOpening{At: instant(o.At), Link: o.Link})
			}
		}
	}
	return measurers, nil
}

// tell adds to a measurer that it saved; savings come oldest first.
func (r auditReadingRow) tell(h *audits.Measurer) error {
	switch {
	case r.Handed == 0:
		h.Drafts++
	case h.HandedIn.IsZero():
		h.HandedIn = instant(r.Created)
	default:
		h.Corrected = instant(r.Created)
	}
	switch {
	case r.Struck != nil:
		h.Struck++
	case r.Handed == 1:
		h.Seal = r.Seal
		return json.Unmarshal([]byte(r.Circumstances), &h.Circumstances)
	}
	return nil
}

// AddAuditMeasurer adds a measurer after those before it.
func (t tx) AddAuditMeasurer(auditID string, h audits.Measurer, codeHash string) error {
	var n int64
	if err := t.db.Model(&auditMeasurerRow{}).Where("audit_id = ?", auditID).Count(&n).Error; err != nil {
		return err
	}
	return t.db.Create(&auditMeasurerRow{
		ID: h.ID, AuditID: auditID, N: int(n) + 1, Name: h.Name, CodeSHA256: codeHash, Added: micros(h.Added), Link: 1,
	}).Error
}

// RenewAuditMeasurer gives a measurer another code; the one before opens nothing any more.
func (t tx) RenewAuditMeasurer(id, codeHash string, at time.Time) error {
	return changedOne(t.db.Model(&auditMeasurerRow{}).Where("id = ?", id).
		Updates(map[string]any{"code_sha256": codeHash, "renewed": micros(at), "link": gorm.Expr("link + 1")}))
}

// AddLinkOpening adds one opening of a measurer's link.
func (t tx) AddLinkOpening(measurerID string, o audits.LinkOpening) error {
	return t.db.Create(&linkOpeningRow{MeasurerID: measurerID, At: micros(o.At), Link: o.Link}).Error
}

// AuditMeasurerOf gives the measurer of a code's hash.
func (t tx) AuditMeasurerOf(codeHash string) (audits.MeasurerOf, error) {
	var r auditMeasurerRow
	err := t.db.Where("code_sha256 = ?", codeHash).Take(&r).Error
	return audits.MeasurerOf{AuditID: r.AuditID, ID: r.ID, Link: r.Link}, missing(err, "this link opens nothing, or was renewed: ask whoever gave it to you for the one that holds")
}

// AuditReadings gives what a measurer has saved, oldest first.
func (t tx) AuditReadings(measurerID string) ([]audits.SavedReading, error) {
	var rows []auditReadingRow
	if err := t.db.Where("measurer_id = ?", measurerID).Order("n").Find(&rows).Error; err != nil {
		return nil, err
	}
	readings := make([]audits.SavedReading, len(rows))
	for i, r := range rows {
		readings[i] = audits.SavedReading{
			N: r.N, Typed: r.Typed, Document: r.Document, Created: instant(r.Created),
			Handed: r.Handed == 1, Struck: instantOrZero(r.Struck), Reason: r.Reason, Salt: r.Salt, Seal: r.Seal,
		}
		if err := json.Unmarshal([]byte(r.Circumstances), &readings[i].Circumstances); err != nil {
			return nil, err
		}
	}
	return readings, nil
}

// AddAuditReading adds one saving.
func (t tx) AddAuditReading(measurerID string, r audits.SavedReading) error {
	told, err := json.Marshal(r.Circumstances)
	if err != nil {
		return err
	}
	row := auditReadingRow{MeasurerID: measurerID, N: r.N, Typed: append([]byte{}, r.Typed...), Document: r.Document, Created: micros(r.Created),
		Circumstances: string(told), Salt: append([]byte{}, r.Salt...), Seal: r.Seal}
	if r.Handed {
		row.Handed = 1
	}
	return t.db.Create(&row).Error
}

// StrikeAuditReading marks what was handed in as crossed out, once.
func (t tx) StrikeAuditReading(measurerID string, n int, at time.Time, reason string) error {
	stamp := micros(at)
	done := t.db.Model(&auditReadingRow{}).Where("measurer_id = ? AND n = ? AND handed = ? AND struck IS NULL", measurerID, n, 1).
		Select("Struck", "Reason").Updates(auditReadingRow{Struck: &stamp, Reason: reason})
	if done.Error == nil && done.RowsAffected == 0 {
		return &act.Error{Kind: act.Conflict, Message: measure.Say("these readings were corrected already; look again and repeat it")}
	}
	return done.Error
}
