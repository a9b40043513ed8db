package store

import (
	"context"
	"database/sql"
	"errors"
	"maps"
	"slices"
	"strconv"
	"time"

	"wellstowed/orders/journal"
)

// writtenFor is the schema for which the journal last wrote down all rows, 0 where it has
// not begun.
func writtenFor(ctx context.Context, from sqlTx) (schema int64, err error) {
	var there int
	err = from.QueryRowContext(ctx, `SELECT count(*) FROM sqlite_schema WHERE name = 'journal_acts'`).Scan(&there)
	if err != nil || there == 0 {
		return 0, err
	}
	var text string
	err = from.QueryRowContext(ctx, `SELECT subject FROM journal_acts WHERE verb = 'tables' ORDER BY id DESC LIMIT 1`).Scan(&text)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	if err != nil {
		return 0, err
	}
	return strconv.ParseInt(text, 10, 64)
}

// disagreeing are the rows that do not agree with a journal of this schema before the
// tables are changed: they are not written down anew as if they did.
func disagreeing(ctx context.Context, pool *sql.DB) (map[string]bool, error) {
	has, _, err := schemas(ctx, pool)
	if err != nil {
		return nil, nil // a new file
	}
	written, err := writtenFor(ctx, pool)
	if err != nil || written == 0 || written != has {
		return nil, err
	}
	known, err := newestSchema()
	if err != nil || has == known {
		return nil, err
	}
	tables, err := tablesOf(ctx, pool)
	if err != nil {
		return nil, err
	}
	apart := map[string]bool{}
	for _, t := range tables {
		if _, err := compare(ctx, pool, t, func(f journal.Fault) { apart[t.name+"\x00"+f.Key] = true }); err != nil {
			return nil, err
		}
	}
	return apart, nil
}

// beginJournal writes down all rows, where the journal has not begun or the tables were
// changed since it last did; rows that are apart stay as the journal has them.
func beginJournal(ctx context.Context, pool *sql.DB, tables map[string]table, apart map[string]bool) error {
	has, _, err := schemas(ctx, pool)
	if err != nil {
		return err
	}
	if written, err := writtenFor(ctx, pool); err != nil || written == has {
		return err
	}
	begun, err := pool.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer begun.Rollback()
	if written, err := writtenFor(ctx, begun); err != nil || written == has {
		return err // another program did meanwhile
	}
	b, err := bookOf(ctx, begun)
	if err != nil {
		return err
	}
	defer b.close()
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		if err := b.table(ctx, tables[name], apart); err != nil {
			return err
		}
	}
	if err := b.end(journal.Act{At: time.Now(), Verb: journal.Tables, Subject: strconv.FormatInt(has, 10)}); err != nil {
		return err
	}
	return begun.Commit()
}

// table writes down all rows of a table that are not as the journal has them, and those
// that are gone.
func (b *book) table(ctx context.Context, t table, apart map[string]bool) error {
	var k kept
	place := t.places(&k.id, &k.did, &k.after, &k.salt, &k.marks)
	rows, err := b.tx.QueryContext(ctx, t.all)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := rows.Scan(place.into...); err != nil {
			return err
		}
		key := keyText(t.keyOf(place.got))
		if apart[t.name+"\x00"+key] {
			continue
		}
		if err := b.begins(t, key, place.got, k); err != nil {
			return err
		}
	}
	return rows.Err()
}

// begins writes down one row as it is now.
func (b *book) begins(t table, key string, values []any, was kept) error {
	if was.id != 0 && was.did != journal.Gone {
		if after, _ := t.hash(was.salt, key, values); after == was.after {
			return nil
		}
	}
	c := journal.Change{Table: t.name, Key: key, Did: journal.Begun, Before: was.after}
	salt, err := newSalt()
	if err != nil {
		return err
	}
	var marks []byte
	c.After, marks = t.hash(salt, key, values)
	return b.add(c, was.id, salt, marks)
}
