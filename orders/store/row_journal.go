package store

import (
	"wellstowed/orders/journal"
)

type actRow struct {
	ID         int64 `gorm:"primaryKey"`
	At         int64
	Person     string
	Session    string
	Verb       string
	Subject    string
	Request    string
	RowsSHA256 string `gorm:"column:rows_sha256"`
	Chain      string
}

func (actRow) TableName() string { return "journal_acts" }

type changeRow struct {
	ID      int64 `gorm:"primaryKey"`
	ActID   int64
	OfTable string
	Key     string
	Did     string
	Fields  string
	Before  string
	After   string
	Salt    *[]byte
	Marks   []byte
}

func (changeRow) TableName() string { return "journal_rows" }

func (r actRow) act() journal.Act {
	return journal.Act{
		ID: r.ID, At: instant(r.At), Person: r.Person, Session: r.Session, Verb: r.Verb, Subject: r.Subject, Request: r.Request, Rows: r.RowsSHA256, Chain: r.Chain,
	}
}

// JournalActs gives the acts of those ids that are there.
func (t tx) JournalActs(ids []int64) (map[int64]journal.Act, error) {
	acts := map[int64]journal.Act{}
	for len(ids) > 0 {
		some := ids[:min(len(ids), 500)]
		ids = ids[len(some):]
		var rows []actRow
		if err := t.db.Where("id IN ?", some).Find(&rows).Error; err != nil {
			return nil, err
		}
		for _, r := range rows {
			acts[r.ID] = r.act()
		}
	}
	return acts, nil
}
