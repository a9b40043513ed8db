package store

import (
	"context"
	"errors"
	"fmt"
	"time"

	"wellstowed/orders"
	"wellstowed/orders/ledger"
	"wellstowed/orders/privacy"
)

type erasureRow struct {
	ID      string `gorm:"primaryKey"`
	Person  string
	At      int64
	Cleared *int64
}

func (erasureRow) TableName() string { return "erasures" }

type erasedPaperRow struct {
	Paper     string `gorm:"primaryKey"`
	Number    int64  `gorm:"primaryKey;autoIncrement:false"`
	ErasureID string
}

func (erasedPaperRow) TableName() string { return "erased_papers" }

type erasedRecordRow struct {
	Kind      string `gorm:"primaryKey"`
	ID        string `gorm:"primaryKey"`
	ErasureID string
}

func (erasedRecordRow) TableName() string { return "erased_records" }

// Named gives what has its names and whose business is over: orders by their number,
// then the others by age.
func (t tx) Named() ([]orders.Record, error) {
	var records []orders.Record
	err := t.db.Raw(`SELECT kind, id FROM (
		SELECT 'order' AS kind, o.id, 0 AS place, o.number AS age FROM orders o
			WHERE o.cancelled IS NOT NULL OR EXISTS (SELECT 1 FROM receipts r WHERE r.order_id = o.id)
		UNION ALL SELECT 'place', w.wish_id, 1, w.created FROM wish_ends w WHERE w.order_id IS NULL
		UNION ALL SELECT 'case', c.id, 2, c.created FROM cases c WHERE c.receipt IS NULL
		UNION ALL SELECT 'audit', a.id, 3, a.number FROM audits a WHERE a.closed IS NOT NULL AND (a.receipt IS NULL
			OR EXISTS (SELECT 1 FROM erased_papers x WHERE x.paper = 'receipt' AND x.number = a.receipt))) AS named
		WHERE NOT EXISTS (SELECT 1 FROM erased_records e WHERE e.kind = named.kind AND e.id = named.id)
		ORDER BY place, age, id`).Scan(&records).Error
	return records, err
}

// Erasures gives the log of erasures, newest first.
func (t tx) Erasures() ([]privacy.Erasure, error) {
	var rows []erasureRow
	if err := t.db.Order("at DESC, id DESC").Find(&rows).Error; err != nil {
		return nil, err
	}
	log := make([]privacy.Erasure, len(rows))
	for i, r := range rows {
		log[i] = privacy.Erasure{ID: r.ID, By: r.Person, At: instant(r.At), Cleared: r.Cleared != nil}
		if err := errors.Join(t.erasedPapers(&log[i]), t.erasedRecords(&log[i])); err != nil {
			return nil, err
		}
	}
	return log, nil
}

// erasedPapers reads the papers of an erasure.
func (t tx) erasedPapers(e *privacy.Erasure) error {
	var papers []erasedPaperRow
	err := t.db.Where("erasure_id = ?", e.ID).Order("paper, number").Find(&papers).Error
	e.Receipts = []int64{} // written as a list
	for _, p := range papers {
		if p.Paper == string(ledger.Sheet) {
			e.Sheets = append(e.Sheets, p.Number)
		} else {
			e.Receipts = append(e.Receipts, p.Number)
		}
	}
	return err
}

// erasedRecord is a record of an erasure with its number, 0 where it has none, and how
// many receipts it has.
type erasedRecord struct {
	Kind     string
	ID       string
	Number   int64
	Receipts int64
}

// erasedRecords reads the records of an erasure.
func (t tx) erasedRecords(e *privacy.Erasure) error {
	var records []erasedRecord
	err := t.db.Raw(`SELECT x.kind, x.id, coalesce(o.number, a.number, 0) AS number,
			(SELECT count(*) FROM receipts r WHERE r.order_id = o.id) AS receipts
		FROM erased_records x LEFT JOIN orders o ON x.kind = 'order' AND o.id = x.id LEFT JOIN audits a ON x.kind = 'audit' AND a.id = x.id
		WHERE x.erasure_id = ? ORDER BY number, x.id`, e.ID).Scan(&records).Error
	for _, r := range records {
		kind := orders.RecordKind(r.Kind)
		e.Of = append(e.Of, orders.Record{Kind: kind, ID: r.ID})
		switch kind {
		case orders.OrderRecord:
			if r.Receipts == 0 {
				e.Orders = append(e.Orders, r.Number)
			}
		case orders.AuditRecord:
			e.Audits = append(e.Audits, r.Number)
		case orders.PlaceRecord:
			e.Places++
		case orders.CaseRecord:
			e.Records++
		}
	}
	return err
}

// AddErasure writes an erasure down. What requests sent by then held names too, which
// could be guessed from its hash.
func (t tx) AddErasure(e privacy.Erasure) error {
	if err := t.db.Model(&requestRow{}).Where("content <> ''").Update("content", "").Error; err != nil {
		return err
	}
	if err := t.db.Create(&erasureRow{ID: e.ID, Person: e.By, At: micros(e.At)}).Error; err != nil {
		return err
	}
	var papers []erasedPaperRow
	for _, n := range e.Receipts {
		papers = append(papers, erasedPaperRow{Paper: string(ledger.Receipt), Number: n, ErasureID: e.ID})
	}
	for _, n := range e.Sheets {
		papers = append(papers, erasedPaperRow{Paper: string(ledger.Sheet), Number: n, ErasureID: e.ID})
	}
	if len(papers) > 0 {
		if err := t.db.Create(&papers).Error; err != nil {
			return err
		}
	}
	records := make([]erasedRecordRow, len(e.Of))
	for i, r := range e.Of {
		records[i] = erasedRecordRow{Kind: string(r.Kind), ID: r.ID, ErasureID: e.ID}
	}
	return t.db.Create(&records).Error
}

// ErasedOn is when the names of a record were erased; zero while it has them.
func (t tx) ErasedOn(r orders.Record) (time.Time, error) {
	var at []int64
	err := t.db.Raw("SELECT e.at FROM erased_records x JOIN erasures e ON e.id = x.erasure_id WHERE x.kind = ? AND x.id = ?", string(r.Kind), r.ID).Scan(&at).Error
	if err != nil || len(at) == 0 {
		return time.Time{}, err
	}
	return instant(at[0]), nil
}

// MarkCleared writes down that the file was rewritten since all erasures there are.
func (t tx) MarkCleared(at time.Time) error {
	t.pending.unasked(at, "", "clear file")
	when := micros(at)
	return t.db.Model(&erasureRow{}).Where("cleared IS NULL").Select("Cleared").Updates(erasureRow{Cleared: &when}).Error
}

// Clear rewrites the file without what was deleted, and empties the write-ahead log. It
// fails where somebody reads on for longer than the wait for the file's lock.
func (db *DB) Clear(ctx context.Context) (err error) {
	select {
	case db.writing <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-db.writing }()
	if db.says == postgresSQL {
		return db.clearServer(ctx)
	}
	conn, err := db.pool.Conn(ctx)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, conn.Close()) }()
	if _, err := conn.ExecContext(ctx, "VACUUM"); err != nil {
		return fmt.Errorf("rewriting the file: %w", err)
	}
	var busy, pages, moved int
	if err := conn.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &pages, &moved); err != nil {
		return fmt.Errorf("emptying the write-ahead log: %w", err)
	}
	if busy != 0 {
		return errors.New("emptying the write-ahead log: somebody reads it")
	}
	return nil
}
