// Package store keeps a shop's data in one SQLite file, or in a database of a PostgreSQL
// server.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"time"

	"gorm.io/gorm"
	_ "modernc.org/sqlite" // the driver named "sqlite"

	"wellstowed/orders"
	server "wellstowed/orders/postgres"
)

// A DB is an open database of one shop. Many may be open on one file, also from
// several processes.
type DB struct {
	gorm    *gorm.DB
	pool    *sql.DB
	says    dialect
	path    string      // of the file; empty where a server has it
	opened  os.FileInfo // the file as it was opened; nil where it is only read
	failing atomic.Bool // the last write failed because of the file or its disk
	// tables are those whose rows the journal holds.
	tables map[string]table
	// writing lets one writer of this process at a time to the file's lock, so
	// that they queue in order and never time out on each other.
	writing chan struct{}
}

var _ orders.Store = (*DB)(nil)

// mostConnections bounds how many may read at once.
const mostConnections = 8

// Open opens the database file at path, makes it when it is missing, readable by
// its owner only, and brings its schema up to date. It refuses a file with a newer
// schema, and to start where SQLite would not keep what is promised. A path that is the
// URL of a PostgreSQL database opens that in the same way; the database has to be there.
func Open(ctx context.Context, path string) (*DB, error) {
	if server.Is(path) {
		return openServer(ctx, path)
	}
	full, err := makeFile(path)
	if err != nil {
		return nil, err
	}
	if state, err := settledCondition(full); err != nil || state == logGone {
		return nil, errors.Join(err, lacksLog(state, full))
	}
	for tries := 1; ; tries++ {
		db, err := connect(ctx, full)
		if !busy(err) || tries == mostTries {
			return db, err
		}
		select {
		case <-time.After(betweenTries):
		case <-ctx.Done():
			return nil, ctx.Err()
		}
	}
}

// SQLite does not wait for its lock while a new file is turned to a write-ahead
// log, so that several who open it first at once try again.
const (
	mostTries    = 100
	betweenTries = 20 * time.Millisecond
)

func connect(ctx context.Context, full string) (*DB, error) {
	pool, err := sql.Open("sqlite", sourceName(full)+settings)
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(mostConnections)
	pool.SetMaxIdleConns(mostConnections)
	db, tables, err := prepare(ctx, pool)
	if err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	opened, err := os.Stat(full)
	if err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	return &DB{gorm: db, pool: pool, path: full, opened: opened, tables: tables, writing: make(chan struct{}, 1)}, nil
}

// prepare checks the connections, brings the schema up to date and puts gorm over
// the pool.
func prepare(ctx context.Context, pool *sql.DB) (*gorm.DB, map[string]table, error) {
	if err := checkPromises(ctx, pool); err != nil {
		return nil, nil, err
	}
	tables, err := sqliteSQL.upToDate(ctx, pool, func() error { return migrate(ctx, pool) })
	if err != nil {
		return nil, nil, err
	}
	// What tells a copy without its log stands in the file itself from now on.
	if _, err := pool.ExecContext(ctx, "PRAGMA wal_checkpoint(PASSIVE)"); err != nil {
		return nil, nil, err
	}
	over, err := sqliteSQL.overPool(pool)
	return over, tables, err
}

// upToDate brings the schema up to date and has the journal know of it.
func (d dialect) upToDate(ctx context.Context, pool *sql.DB, migrate func() error) (map[string]table, error) {
	apart, err := d.disagreeing(ctx, pool)
	if err != nil {
		return nil, err
	}
	if err := migrate(); err != nil {
		return nil, err
	}
	tables, err := d.tablesOf(ctx, pool)
	if err == nil {
		err = d.beginJournal(ctx, pool, tables, apart)
	}
	return tables, err
}

// makeFile makes the file when it is missing and gives its whole path.
func makeFile(path string) (full string, err error) {
	if full, err = filepath.Abs(path); err != nil {
		return "", err
	}
	file, err := os.OpenFile(full, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return "", err
	}
	if err := file.Close(); err != nil {
		return "", err
	}
	return resolved(full)
}

// sourceName is a path as SQLite's data source name, without settings.
func sourceName(full string) string {
	name := filepath.ToSlash(full)
	if !strings.HasPrefix(name, "/") {
		name = "/" + name
	}
	return "file://" + strings.NewReplacer("%", "%25", "?", "%3f", "#", "%23").Replace(name)
}

// lacksLog says what to do with a file whose log is gone.
func lacksLog(state condition, full string) error {
	if state != logGone {
		return nil
	}
	return fmt.Errorf("it was copied while a program used it, and its log %s-wal is not beside it, so what was saved last may be lacking. "+
		"Put the log beside it, or take a backup. To go on with what there is: wellstowed restore --from %s --db NEW --without-log", filepath.Base(full), full)
}

// Close lets go of the file. The last to do so leaves all that was saved in the file itself,
// without a log beside it.
func (db *DB) Close() error {
	if db.says == postgresSQL {
		return db.pool.Close()
	}
	last, err := sql.Open("sqlite", sourceName(db.path)+"?_pragma=busy_timeout(0)&_pragma=synchronous(FULL)")
	if err != nil {
		return errors.Join(err, db.pool.Close())
	}
	last.SetMaxOpenConns(1)
	var tables int // reading holds the log until the others of this process are closed
	_ = last.QueryRow("SELECT count(*) FROM sqlite_schema").Scan(&tables)
	err = db.pool.Close()
	_, _ = last.Exec("PRAGMA journal_mode = DELETE") // refused while another process has the file, which then does it
	return errors.Join(err, last.Close())
}
