package store

import (
	"gorm.io/gorm"

	"wellstowed/orders/act"
)

type counterRow struct {
	Name string `gorm:"primaryKey"`
	Last int64
}

func (counterRow) TableName() string { return "counters" }

// LastNumber gives the last number of a counter.
func (t tx) LastNumber(c act.Counter) (int64, error) {
	var r counterRow
	err := t.db.Where("name = ?", string(c)).Take(&r).Error
	return r.Last, err
}

// NextNumber raises a counter.
func (t tx) NextNumber(c act.Counter) (int64, error) {
	err := changedOne(t.db.Model(&counterRow{}).Where("name = ?", string(c)).
		UpdateColumn("last", gorm.Expr("last + ?", 1)))
	if err != nil {
		return 0, err
	}
	return t.LastNumber(c)
}

// nextID is the id of a table's next row.
func (t tx) nextID(table string) (id int64, err error) {
	err = t.db.Raw("SELECT coalesce(max(id), 0) + 1 FROM " + table).Scan(&id).Error
	return id, err
}
