package store

import (
	"time"

	"wellstowed/orders/people"
)

type sessionRow struct {
	ID          string `gorm:"primaryKey"`
	TokenSHA256 string `gorm:"column:token_sha256"`
	PersonID    string
	Own         int64
	Device      string
	Begun       int64
	Seen        int64
	Sure        int64
	Ended       *int64
	Program     string
}

func (sessionRow) TableName() string { return "sessions" }

func (r sessionRow) session() people.Session {
	return people.Session{
		ID: r.ID, TokenHash: r.TokenSHA256, PersonID: r.PersonID, Own: r.Own != 0, Device: r.Device,
		Begun: instant(r.Begun), Seen: instant(r.Seen), Sure: instant(r.Sure), Ended: instantOf(r.Ended), Program: r.Program,
	}
}

// SessionByHash gives a session by its token's hash.
func (t tx) SessionByHash(hash string) (people.Session, error) {
	return t.oneSession("token_sha256 = ?", hash)
}

// Session gives a session.
func (t tx) Session(id string) (people.Session, error) { return t.oneSession("id = ?", id) }

func (t tx) oneSession(where, value string) (people.Session, error) {
	var r sessionRow
	if err := t.db.Where(where, value).Take(&r).Error; err != nil {
		return people.Session{}, missing(err, "that sign-in isn’t here")
	}
	return r.session(), nil
}

// Sessions are those of a person that were not ended, the last seen first.
func (t tx) Sessions(personID string) ([]people.Session, error) {
	var rows []sessionRow
	err := t.db.Where("person_id = ? AND ended IS NULL", personID).Order("seen DESC, id DESC").Find(&rows).Error
	sessions := make([]people.Session, len(rows))
	for i, r := range rows {
		sessions[i] = r.session()
	}
	return sessions, err
}

// AddSession adds a session.
func (t tx) AddSession(s people.Session) error {
	own := int64(0)
	if s.Own {
		own = 1
	}
	return t.db.Create(&sessionRow{
		ID: s.ID, TokenSHA256: s.TokenHash, PersonID: s.PersonID, Own: own, Device: s.Device,
		Begun: micros(s.Begun), Seen: micros(s.Seen), Sure: micros(s.Sure), Ended: microsOf(s.Ended), Program: s.Program,
	}).Error
}

// ChangeSession saves when a session was seen, was sure, and ended.
func (t tx) ChangeSession(s people.Session) error {
	return changedOne(t.db.Model(&sessionRow{}).Where("id = ?", s.ID).Select("Seen", "Sure", "Ended").
		Updates(sessionRow{Seen: micros(s.Seen), Sure: micros(s.Sure), Ended: microsOf(s.Ended)}))
}

// EndSessions ends all of a person's but one.
func (t tx) EndSessions(personID, but string, at time.Time) error {
	return t.db.Model(&sessionRow{}).Where("person_id = ? AND id <> ? AND ended IS NULL", personID, but).
		Select("Ended").Updates(sessionRow{Ended: microsOf(at)}).Error
}
