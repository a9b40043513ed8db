package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/orders/photos"
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
func (t tx) auditPhotos(auditID string) ([]photos.Photo, error) {
	var rows []auditPhotoRow
	if err := t.db.Select("id", "facts").Where("audit_id = ?", auditID).Order("added, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	var all []photos.Photo
	for _, r := range rows {
		var p photos.Photo
		if err := json.Unmarshal([]byte(r.Facts), &p); err != nil {
			return nil, fmt.Errorf("photo %s: %w", r.ID, err)
		}
		all = append(all, p)
	}
	return all, nil
}

// AddAuditPhoto adds a photo, its original bytes and the copy that is shown.
func (t tx) AddAuditPhoto(auditID string, p photos.Photo, original, shown []byte) error {
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
	return t.photoBytes(&auditPhotoRow{}, original, "id = ? AND audit_id = ?", photoID, auditID)
}

// photoBytes gives the original of a photo in the table of a row, or the copy that is shown.
func (t tx) photoBytes(row any, original bool, where string, args ...any) ([]byte, error) {
	column := "shown"
	if original {
		column = "original"
	}
	var r struct{ Bytes []byte }
	err := t.db.Model(row).Select(column+" AS bytes").Where(where, args...).Take(&r).Error
	return r.Bytes, missing(err, "that photo isn’t here")
}
