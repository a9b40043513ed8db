package store

import (
	"context"
	"database/sql"
	"time"

	"gorm.io/gorm"

	"wellstowed/orders"
)

// tx is one transaction; its methods are by noun in row_*.go.
type tx struct{ db *gorm.DB }

var _ orders.Tx = tx{}

// Read runs do on one consistent view of the data.
func (db *DB) Read(ctx context.Context, do func(orders.Tx) error) error {
	return db.run(ctx, do, &sql.TxOptions{ReadOnly: true})
}

// Write runs do in one transaction that is alone in writing, also among processes.
func (db *DB) Write(ctx context.Context, do func(orders.Tx) error) error {
	select {
	case db.writing <- struct{}{}:
	case <-ctx.Done():
		return ctx.Err()
	}
	defer func() { <-db.writing }()
	return db.run(ctx, do, nil)
}

func (db *DB) run(ctx context.Context, do func(orders.Tx) error, opts *sql.TxOptions) error {
	return db.gorm.WithContext(ctx).Transaction(func(g *gorm.DB) error { return do(tx{db: g}) }, opts)
}

// micros is an instant as stored.
func micros(t time.Time) int64 { return t.UnixMicro() }

// instant reads what micros stores.
func instant(n int64) time.Time { return time.UnixMicro(n).UTC() }

// orNull is null for an empty text, and textOf reads it.
func orNull(text string) *string {
	if text == "" {
		return nil
	}
	return &text
}

func textOf(text *string) string {
	if text == nil {
		return ""
	}
	return *text
}

// changedOne tells that an update of a versioned row met its row.
func changedOne(res *gorm.DB) error {
	if res.Error == nil && res.RowsAffected != 1 {
		return stale()
	}
	return res.Error
}
