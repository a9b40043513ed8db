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
func (d dialect) writtenFor(ctx context.Context, from sqlTx) (schema int64, err error) {
	var there int
	err = from.QueryRowContext(ctx, d.exists(), "journal_acts").Scan(&there)
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
func (d dialect) disagreeing(ctx context.Context, pool *sql.DB) (map[string]bool, error) {
	has, _, err := d.schemas(ctx, pool)
	if err != nil {
		return nil, nil // a new file
	}
	written, err := d.writtenFor(ctx, pool)
	if err != nil || written == 0 || written != has {
		return nil, err
	}
	known, err := newestSchema()
	if err != nil || has == known {
		return nil, err
	}
	tables, err := d.tablesOf(ctx, pool)
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
func (d dialect) beginJournal(ctx context.Context, pool *sql.DB, tables map[string]table, apart map[string]bool) error {
	has, _, err := d.schemas(ctx, pool)
	if err != nil {
		return err
	}
	if written, err := d.writtenFor(ctx, pool); err != nil || written == has {
		return err
	}
	begun, err := pool.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer begun.Rollback()
	if d == postgresSQL {
		if _, err := begun.ExecContext(ctx, lockShop); err != nil {
			return err
		}
	}
	if written, err := d.writtenFor(ctx, begun); err != nil || written == has {
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
	var last []any
	for {
		some, err := b.some(ctx, t, last)
		if err != nil || len(some) == 0 {
			return err
		}
		for _, row := range some {
			last = t.keyOf(row.values)
			key := keyText(last)
			if apart[t.name+"\x00"+key] {
				continue
			}
			if err := b.begins(t, key, row.values, row.was); err != nil {
				return err
			}
		}
	}
}

// A pair is a row as it is and its newest change.
type pair struct {
	values []any
	was    kept
}

// mostAtOnce is how many rows are held in memory: one connection doesn't read on and write
// everywhere.
const mostAtOnce = 200

// some are the next rows of a table after the one of a key.
func (b *book) some(ctx context.Context, t table, after []any) (some []pair, err error) {
	query := t.all
	if after != nil {
		query += t.after
	}
	rows, err := b.tx.QueryContext(ctx, query+t.inOrder+" LIMIT "+strconv.Itoa(mostAtOnce), after...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var p pair
		place := t.places(&p.was.id, &p.was.did, &p.was.after, &p.was.salt, &p.was.marks)
		if err := rows.Scan(place.into...); err != nil {
			return nil, err
		}
		p.values = place.got
		some = append(some, p)
	}
	return some, rows.Err()
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
