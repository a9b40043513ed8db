package store

import (
	"context"
	"time"

	"gorm.io/gorm"

	"wellstowed/orders"
	"wellstowed/orders/accounts"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/minute"
	server "wellstowed/orders/postgres"
	"wellstowed/orders/privacy"
	"wellstowed/orders/proof"
)

// tx is one transaction; its methods are by noun in row_*.go.
type tx struct {
	db *gorm.DB
	// says is the SQL that the database speaks.
	says dialect
	// pending is what the journal will say of the write; nil where nothing is written.
	pending *pending
}

var _ orders.Tx = tx{}

// Read runs do on one consistent view of the data.
func (db *DB) Read(ctx context.Context, do func(orders.Tx) error) error {
	return whole{db}.Read(ctx, func(t tx) error { return do(t) })
}

// Write runs do in one transaction that is alone in writing, also among processes. On a
// server it may run do again, where nothing was kept of what it did before.
func (db *DB) Write(ctx context.Context, do func(orders.Tx) error) error {
	return whole{db}.Write(ctx, func(t tx) error { return do(t) })
}

// Accounts is the database as the books are read from it.
func (db *DB) Accounts() act.Store[accounts.Tx] {
	return act.Narrow(whole{db}, func(t tx) accounts.Tx { return t })
}

// Cases is the database as buyers' cases are kept in it.
func (db *DB) Cases() act.Store[cases.Tx] {
	return act.Narrow(whole{db}, func(t tx) cases.Tx { return t })
}

// Minutes is the database as deliveries that can be taken back are kept in it.
func (db *DB) Minutes() act.Store[minute.Tx] {
	return act.Narrow(whole{db}, func(t tx) minute.Tx { return t })
}

// Audits is the database as audits are kept in it.
func (db *DB) Audits() act.Store[audits.Tx] {
	return act.Narrow(whole{db}, func(t tx) audits.Tx { return t })
}

// Erasing is the database as names are erased in it.
func (db *DB) Erasing() privacy.Store {
	return clearable{act.Narrow(whole{db}, func(t tx) privacy.Tx { return t }), db}
}

type clearable struct {
	act.Store[privacy.Tx]
	db *DB
}

// Clear rewrites the file, so that nothing that was erased is left in it.
func (c clearable) Clear(ctx context.Context) error { return c.db.Clear(ctx) }

// Proving is the database as it is held against its hashes.
func (db *DB) Proving() act.Store[proof.Tx] {
	return act.Narrow(whole{db}, func(t tx) proof.Tx { return t })
}

// A whole is the database with all that a transaction can do.
type whole struct{ db *DB }

var _ act.Store[tx] = whole{}

// Read is as DB's.
func (w whole) Read(ctx context.Context, do func(tx) error) error {
	return told(w.db.insisting(ctx, func() (repeatable bool, err error) {
		repeatable = true // until do was run: it may have added to what it gives
		err = w.db.gorm.WithContext(ctx).Transaction(func(g *gorm.DB) error {
			repeatable = false
			return do(tx{db: g, says: w.db.says})
		}, w.db.says.reading())
		return repeatable, unsavedIfLost(err)
	}))
}

// Write is as DB's.
func (w whole) Write(ctx context.Context, do func(tx) error) error {
	select {
	case w.db.writing <- struct{}{}:
	case <-ctx.Done():
		return told(ctx.Err())
	}
	defer func() { <-w.db.writing }()
	err := w.db.stays()
	if err == nil {
		err = told(w.db.insisting(ctx, func() (bool, error) {
			committing, of, err := w.db.journaled(ctx, do)
			if !committing {
				err = unsavedIfLost(err)
			}
			return !committing || of.act.Request != "" || server.Undone(err), err
		}))
	}
	w.db.failing.Store(act.KindOf(err) == act.Unavailable)
	return err
}

// micros is an instant as stored.
func micros(t time.Time) int64 { return t.UnixMicro() }

// instant reads what micros stores.
func instant(n int64) time.Time { return time.UnixMicro(n).UTC() }

// microsOf is null for the zero instant, and instantOf reads it.
func microsOf(t time.Time) *int64 {
	if t.IsZero() {
		return nil
	}
	n := micros(t)
	return &n
}

func instantOf(n *int64) time.Time {
	if n == nil {
		return time.Time{}
	}
	return instant(*n)
}

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
