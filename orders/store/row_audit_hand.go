package store

import (
	"time"

	"wellstowed/measure"
	"wellstowed/orders"
)

type auditHandRow struct {
	ID         string `gorm:"primaryKey"`
	AuditID    string
	N          int
	Name       string
	CodeSHA256 string `gorm:"column:code_sha256"`
	Added      int64
	Renewed    *int64
}

func (auditHandRow) TableName() string { return "audit_hands" }

type auditReadingRow struct {
	HandID   string `gorm:"primaryKey"`
	N        int    `gorm:"primaryKey;autoIncrement:false"`
	Typed    []byte
	Document []byte
	Created  int64
	Handed   int
	Struck   *int64
	Reason   string
}

func (auditReadingRow) TableName() string { return "audit_readings" }

// auditHands gives the hands of an audit in the order they were added, with when they
// saved; nothing of what they read.
func (t tx) auditHands(auditID string) ([]orders.AuditHand, error) {
	var rows []auditHandRow
	if err := t.db.Where("audit_id = ?", auditID).Order("n").Find(&rows).Error; err != nil {
		return nil, err
	}
	var saved []auditReadingRow
	err := t.db.Select("hand_id", "n", "created", "handed", "struck").
		Where("hand_id IN (?)", t.db.Model(&auditHandRow{}).Select("id").Where("audit_id = ?", auditID)).
		Order("hand_id, n").Find(&saved).Error
	if err != nil {
		return nil, err
	}
	hands := make([]orders.AuditHand, len(rows))
	for i, r := range rows {
		hands[i] = orders.AuditHand{ID: r.ID, Name: r.Name, Added: instant(r.Added), Renewed: instantOrZero(r.Renewed)}
		for _, s := range saved {
			if s.HandID == r.ID {
				s.tell(&hands[i])
			}
		}
	}
	return hands, nil
}

// tell adds to a hand that it saved; savings come oldest first.
func (r auditReadingRow) tell(h *orders.AuditHand) {
	switch {
	case r.Handed == 0:
		h.Drafts++
	case h.HandedIn.IsZero():
		h.HandedIn = instant(r.Created)
	default:
		h.Corrected = instant(r.Created)
	}
	if r.Struck != nil {
		h.Struck++
	}
}

// AddAuditHand adds a hand after those before it.
func (t tx) AddAuditHand(auditID string, h orders.AuditHand, codeHash string) error {
	var n int64
	if err := t.db.Model(&auditHandRow{}).Where("audit_id = ?", auditID).Count(&n).Error; err != nil {
		return err
	}
	return t.db.Create(&auditHandRow{
		ID: h.ID, AuditID: auditID, N: int(n) + 1, Name: h.Name, CodeSHA256: codeHash, Added: micros(h.Added),
	}).Error
}

// RenewAuditHand gives a hand another code; the one before opens nothing any more.
func (t tx) RenewAuditHand(id, codeHash string, at time.Time) error {
	stamp := micros(at)
	return changedOne(t.db.Model(&auditHandRow{}).Where("id = ?", id).
		Select("CodeSHA256", "Renewed").Updates(auditHandRow{CodeSHA256: codeHash, Renewed: &stamp}))
}

// AuditHandOf gives the hand of a code's hash.
func (t tx) AuditHandOf(codeHash string) (auditID, handID string, err error) {
	var r auditHandRow
	err = t.db.Where("code_sha256 = ?", codeHash).Take(&r).Error
	return r.AuditID, r.ID, missing(err, "this link opens nothing, or was renewed: ask whoever gave it to you for the one that holds")
}

// AuditReadings gives what a hand has saved, oldest first.
func (t tx) AuditReadings(handID string) ([]orders.AuditReading, error) {
	var rows []auditReadingRow
	if err := t.db.Where("hand_id = ?", handID).Order("n").Find(&rows).Error; err != nil {
		return nil, err
	}
	readings := make([]orders.AuditReading, len(rows))
	for i, r := range rows {
		readings[i] = orders.AuditReading{
			N: r.N, Typed: r.Typed, Document: r.Document, Created: instant(r.Created),
			Handed: r.Handed == 1, Struck: instantOrZero(r.Struck), Reason: r.Reason,
		}
	}
	return readings, nil
}

// AddAuditReading adds one saving.
func (t tx) AddAuditReading(handID string, r orders.AuditReading) error {
	row := auditReadingRow{HandID: handID, N: r.N, Typed: r.Typed, Document: r.Document, Created: micros(r.Created)}
	if row.Typed == nil {
		row.Typed = []byte{}
	}
	if r.Handed {
		row.Handed = 1
	}
	return t.db.Create(&row).Error
}

// StrikeAuditReading marks what was handed in as struck, once.
func (t tx) StrikeAuditReading(handID string, n int, at time.Time, reason string) error {
	stamp := micros(at)
	done := t.db.Model(&auditReadingRow{}).Where("hand_id = ? AND n = ? AND handed = ? AND struck IS NULL", handID, n, 1).
		Select("Struck", "Reason").Updates(auditReadingRow{Struck: &stamp, Reason: reason})
	if done.Error == nil && done.RowsAffected == 0 {
		return &orders.Error{Kind: orders.Conflict, Message: measure.Say("these readings were corrected already; look again and repeat it")}
	}
	return done.Error
}
