package store

import (
	"time"

	"wellstowed/orders/act"
	"wellstowed/orders/calendar"
)

// Calendar is the database as calendars read it.
func (db *DB) Calendar() act.Store[calendar.Tx] {
	return act.Narrow(whole{db}, func(t tx) calendar.Tx { return t })
}

type calendarLinkRow struct {
	ID         string `gorm:"primaryKey"`
	CodeSHA256 string `gorm:"column:code_sha256"`
	PersonID   *string
	Person     string
	Made       int64
	Withdrawn  *int64
}

func (calendarLinkRow) TableName() string { return "calendar_links" }

// CalendarLinks gives those that hold, oldest first.
func (t tx) CalendarLinks() ([]calendar.Link, error) {
	var rows []calendarLinkRow
	if err := t.db.Where("withdrawn IS NULL").Order("made, id").Find(&rows).Error; err != nil {
		return nil, err
	}
	links := make([]calendar.Link, len(rows))
	for i, r := range rows {
		links[i] = calendar.Link{ID: r.ID, CodeHash: r.CodeSHA256, PersonID: textOf(r.PersonID), Person: r.Person, Made: instant(r.Made)}
	}
	return links, nil
}

// AddCalendarLink adds a link.
func (t tx) AddCalendarLink(l calendar.Link) error {
	return t.db.Create(&calendarLinkRow{ID: l.ID, CodeSHA256: l.CodeHash, PersonID: orNull(l.PersonID), Person: l.Person, Made: micros(l.Made)}).Error
}

// WithdrawCalendarLink marks a link that holds as withdrawn.
func (t tx) WithdrawCalendarLink(id string, at time.Time) error {
	when := micros(at)
	return changedOne(t.db.Model(&calendarLinkRow{}).Where("id = ? AND withdrawn IS NULL", id).Select("Withdrawn").Updates(calendarLinkRow{Withdrawn: &when}))
}
