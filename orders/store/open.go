// Package store keeps a shop's data in one SQLite file.
package store

import (
	"context"
	"database/sql"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"
	_ "modernc.org/sqlite" // the driver named "sqlite"

	"wellstowed/orders"
)

// A DB is an open database of one shop. Many may be open on one file, also from
// several processes.
type DB struct {
	gorm *gorm.DB
	pool *sql.DB
	// writing lets one writer of this process at a time to the file's lock, so
	// that they queue in order and never time out on each other.
	writing chan struct{}
}

var _ orders.Store = (*DB)(nil)

// mostConnections bounds how many may read at once.
const mostConnections = 8

// Open opens the database file at path, makes it when it is missing, readable by
// its owner only, and brings its schema up to date. It refuses a file with a newer
// schema, and to start where SQLite would not keep what is promised.
func Open(ctx context.Context, path string) (*DB, error) {
	dsn, err := makeFile(path)
	if err != nil {
		return nil, err
	}
	for tries := 1; ; tries++ {
		db, err := connect(ctx, dsn)
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

func connect(ctx context.Context, dsn string) (*DB, error) {
	pool, err := sql.Open("sqlite", dsn)
	if err != nil {
		return nil, err
	}
	pool.SetMaxOpenConns(mostConnections)
	pool.SetMaxIdleConns(mostConnections)
	db, err := prepare(ctx, pool)
	if err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	return &DB{gorm: db, pool: pool, writing: make(chan struct{}, 1)}, nil
}

// prepare checks the connections, brings the schema up to date and puts gorm over
// the pool.
func prepare(ctx context.Context, pool *sql.DB) (*gorm.DB, error) {
	if err := checkPromises(ctx, pool); err != nil {
		return nil, err
	}
	if err := migrate(ctx, pool); err != nil {
		return nil, err
	}
	return gorm.Open(
		dialector{&sqlite.Dialector{DriverName: "sqlite", Conn: pool}},
		&gorm.Config{Logger: logger.Discard, SkipDefaultTransaction: true, TranslateError: true},
	)
}

// makeFile makes the file when it is missing and gives its data source name.
func makeFile(path string) (dsn string, err error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	file, err := os.OpenFile(full, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return "", err
	}
	if err := file.Close(); err != nil {
		return "", err
	}
	name := filepath.ToSlash(full)
	if !strings.HasPrefix(name, "/") {
		name = "/" + name
	}
	return "file://" + strings.NewReplacer("%", "%25", "?", "%3f", "#", "%23").Replace(name) + settings, nil
}

// Close lets go of the file.
func (db *DB) Close() error { return db.pool.Close() }
