package store

import (
	"wellstowed/orders"
)

type backupRow struct {
	ID     int64 `gorm:"primaryKey;autoIncrement:false"`
	At     int64
	Path   string
	Person string
}

func (backupRow) TableName() string { return "backups" }

// AddBackup writes down that a backup was made.
func (t tx) AddBackup(b orders.Backup) error {
	t.pending.unasked(b.At, b.By, "note backup")
	id, err := t.nextID("backups")
	if err != nil {
		return err
	}
	return t.db.Create(&backupRow{ID: id, At: micros(b.At), Path: b.Path, Person: b.By}).Error
}

// Backups gives the newest backups, newest first.
func (t tx) Backups(limit int) ([]orders.Backup, error) {
	var rows []backupRow
	if err := t.db.Order("id DESC").Limit(limit).Find(&rows).Error; err != nil {
		return nil, err
	}
	made := make([]orders.Backup, len(rows))
	for i, r := range rows {
		made[i] = orders.Backup{At: instant(r.At), Path: r.Path, By: r.Person}
	}
	return made, nil
}
