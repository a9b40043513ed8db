package store

import (
	"encoding/json"
	"fmt"

	"wellstowed/orders/photos"
)

type orderPhotoRow struct {
	ID       string `gorm:"primaryKey"`
	OrderID  string
	Sheet    *int64
	Facts    string
	SHA256   string `gorm:"column:sha256"`
	Original []byte
	Shown    []byte
	Added    int64
}

func (orderPhotoRow) TableName() string { return "order_photos" }

// Photographed says of which order photos are kept.
func (t tx) Photographed(orderID string) (photos.Subject, error) {
	o, err := t.Order(orderID)
	return photos.Subject{Number: o.Number, Erased: !o.Erased.IsZero()}, err
}

// OrderPhotos say what the photos of an order are, oldest first.
func (t tx) OrderPhotos(orderID string) ([]photos.Kept, error) {
	return t.orderPhotos("order_id = ?", orderID)
}

// AllOrderPhotos say what the photos of all orders are, by order, oldest first.
func (t tx) AllOrderPhotos() ([]photos.Kept, error) { return t.orderPhotos("TRUE") }

func (t tx) orderPhotos(where string, args ...any) ([]photos.Kept, error) {
	var rows []orderPhotoRow
	if err := t.db.Select("id", "order_id", "sheet", "facts").Where(where, args...).Order("order_id, added, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	var all []photos.Kept
	for _, r := range rows {
		var k photos.Kept
		if err := json.Unmarshal([]byte(r.Facts), &k); err != nil {
			return nil, fmt.Errorf("photo %s: %w", r.ID, err)
		}
		k.ID, k.OrderID, k.Sheet = r.ID, r.OrderID, 0
		if r.Sheet != nil {
			k.Sheet = *r.Sheet
		}
		all = append(all, k)
	}
	return all, nil
}

// AddOrderPhoto adds a photo that no sheet names, its original bytes and the copy that is
// shown.
func (t tx) AddOrderPhoto(k photos.Kept, original, shown []byte) error {
	facts, err := json.Marshal(k)
	if err != nil {
		return err
	}
	return t.db.Create(&orderPhotoRow{
		ID: k.ID, OrderID: k.OrderID, Facts: string(facts), SHA256: k.SHA256, Original: original, Shown: shown, Added: micros(k.Added),
	}).Error
}

// OrderPhotoBytes gives the original of a photo, or the copy that is shown.
func (t tx) OrderPhotoBytes(orderID, photoID string, original bool) ([]byte, error) {
	return t.photoBytes(&orderPhotoRow{}, original, "id = ? AND order_id = ?", photoID, orderID)
}

// NameOrderPhotos writes down the sheet that names photos, and tells how many of them were
// named by none.
func (t tx) NameOrderPhotos(photoIDs []string, sheet int64) (int, error) {
	res := t.db.Model(&orderPhotoRow{}).Where("id IN ? AND sheet IS NULL", photoIDs).Update("sheet", sheet)
	return int(res.RowsAffected), res.Error
}

// DropOrderPhoto drops a photo.
func (t tx) DropOrderPhoto(photoID string) error {
	return t.db.Where("id = ?", photoID).Delete(&orderPhotoRow{}).Error
}
