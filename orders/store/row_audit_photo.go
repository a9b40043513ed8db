package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/orders/audits"
)

type auditPhotoRow struct {
	ID       string `gorm:"primaryKey"`
	AuditID  string
	Facts    string
	SHA256   string `gorm:"column:sha256"`
	Original []byte
	Shown    []byte
	Added    int64
}

func (auditPhotoRow) TableName() string { return "audit_photos" }

// auditPhotos says what the photos of an audit are, oldest first.
func (t tx) auditPhotos(auditID string) ([]audits.Photo, error) {
	var rows []auditPhotoRow
	if err := t.db.Select("id", "facts").Where("audit_id = ?", auditID).Order("added, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	var photos []audits.Photo
	for _, r := range rows {
		var p audits.Photo
		if err := json.Unmarshal([]byte(r.Facts), &p); err != nil {
			return nil, fmt.Errorf("photo %s: %w", r.ID, err)
		}
		photos = append(photos, p)
	}
	return photos, nil
}

// AddAuditPhoto adds a photo, its original bytes and the copy that is shown.
func (t tx) AddAuditPhoto(auditID string, p audits.Photo, original, shown []byte) error {
	facts, err := json.Marshal(p)
	if err != nil {
		return err
	}
	return t.db.Create(&auditPhotoRow{
		ID: p.ID, AuditID: auditID, Facts: string(facts), SHA256: p.SHA256, Original: original, Shown: shown, Added: micros(p.Added),
	}).Error
}

// AuditPhotoBytes gives the original of a photo, or the copy that is shown.
func (t tx) AuditPhotoBytes(auditID, photoID string, original bool) ([]byte, error) {
	column := "shown"
	if original {
		column = "original"
	}
	var r auditPhotoRow
	err := t.db.Select(column).Where("id = ? AND audit_id = ?", photoID, auditID).Take(&r).Error
	if original {
		return r.Original, missing(err, "that photo isn’t here")
	}
	return r.Shown, missing(err, "that photo isn’t here")
}
