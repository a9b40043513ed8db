package store

import (
	"wellstowed/orders/act"
)

type requestRow struct {
	ID      string `gorm:"primaryKey"`
	Verb    string
	Subject string
	Result  string
	Person  string
	At      int64
	Content string
	Session string
}

func (requestRow) TableName() string { return "requests" }

// Done gives what a request did, nil when it is new.
func (t tx) Done(request string) (*act.Done, error) {
	var rows []requestRow
	if err := t.db.Where("id = ?", request).Limit(1).Find(&rows).Error; err != nil || len(rows) == 0 {
		return nil, err
	}
	r := rows[0]
	return &act.Done{
		Request: r.ID, Verb: act.Verb(r.Verb), Subject: r.Subject, Result: r.Result, Person: r.Person, At: instant(r.At), Content: r.Content, Session: r.Session,
	}, nil
}

// AddDone records what a request did.
func (t tx) AddDone(d act.Done) error {
	t.pending.byRequest(d)
	return t.db.Create(&requestRow{
		ID: d.Request, Verb: string(d.Verb), Subject: d.Subject, Result: d.Result, Person: d.Person, At: micros(d.At), Content: d.Content, Session: d.Session,
	}).Error
}
