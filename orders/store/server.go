package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"time"

	server "wellstowed/orders/postgres"
)

// openServer opens a database of a PostgreSQL server, makes the schema that its URL names
// where it is missing, and brings the tables up to date.
func openServer(ctx context.Context, name string) (*DB, error) {
	at, err := server.At(name)
	if err != nil {
		return nil, err
	}
	if err := serverUpToDate(ctx, at); err != nil {
		return nil, err
	}
	pool := at.Pool()
	pool.SetMaxOpenConns(mostConnections)
	pool.SetMaxIdleConns(mostConnections)
	pool.SetConnMaxIdleTime(idleFor)
	db := &DB{pool: pool, says: postgresSQL, writing: make(chan struct{}, 1)}
	db.tables, err = db.says.upToDate(ctx, pool, func() error { return migrateServer(ctx, at) })
	if err == nil {
		db.gorm, err = db.says.overPool(pool)
	}
	if err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	return db, nil
}

// idleFor is how long a connection that nobody uses is kept: many shops may be on one server.
const idleFor = 5 * time.Minute

// viewServer opens a database of a PostgreSQL server to be read.
func viewServer(ctx context.Context, name string) (*View, error) {
	at, err := server.At(name)
	if err != nil {
		return nil, err
	}
	return viewOf(ctx, at.ReadPool(), postgresSQL)
}

// oldestServer is the first version of PostgreSQL that the tests were run against, as the
// server says it: its major version and four digits.
const oldestServer = 13_00_00

// serverUpToDate makes the schema where it is missing, and refuses a server that would not
// keep what is promised: a commit that is answered is on the disk, and all of Unicode is kept.
func serverUpToDate(ctx context.Context, at server.Server) error {
	pool := at.PlainPool()
	defer pool.Close()
	conn, err := pool.Conn(ctx)
	if err != nil {
		return err
	}
	defer conn.Close()
	if err := checkServer(ctx, conn); err != nil {
		return err
	}
	if at.Schema != "" {
		if there, err := hasSchema(ctx, conn, at.Schema); err != nil || !there {
			if err == nil {
				_, err = conn.ExecContext(ctx, `CREATE SCHEMA IF NOT EXISTS "`+at.Schema+`"`)
			}
			if err != nil {
				return fmt.Errorf("making the schema %s: %w", at.Schema, err)
			}
		}
	}
	return nil
}

func hasSchema(ctx context.Context, conn *sql.Conn, name string) (there bool, err error) {
	err = conn.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM pg_namespace WHERE nspname = $1)`, name).Scan(&there)
	return there, err
}

// serverPromises are settings of a server and what each must be.
func serverPromises() []promise {
	return []promise{{"fsync", "on"}, {"full_page_writes", "on"}, {"synchronous_commit", "on"}, {"server_encoding", "UTF8"}, {"transaction_read_only", "off"}}
}

func checkServer(ctx context.Context, conn *sql.Conn) error {
	for _, p := range serverPromises() {
		var value string
		if err := conn.QueryRowContext(ctx, "SHOW "+p.pragma).Scan(&value); err != nil {
			return fmt.Errorf("reading the server’s %s: %w", p.pragma, err)
		}
		if value != p.value {
			return fmt.Errorf("the server has %s %s, where %s is needed so that nothing that was saved is lost", p.pragma, value, p.value)
		}
	}
	var version string
	if err := conn.QueryRowContext(ctx, "SHOW server_version_num").Scan(&version); err != nil {
		return fmt.Errorf("reading the server’s version: %w", err)
	}
	if n, err := strconv.Atoi(version); err != nil || n < oldestServer {
		return fmt.Errorf("the server is of version %s; %d or newer is needed", version, oldestServer/10000)
	}
	return nil
}

// How often a transaction is tried that another undid or whose connection was lost, and how
// long apart at first; each wait is twice the one before.
const (
	mostInsisting  = 8
	firstInsisting = 20 * time.Millisecond
)

// An unsaved error is that a connection was lost before anything could be kept.
type unsaved struct{ error }

func (u unsaved) Unwrap() error { return u.error }

func unsavedIfLost(err error) error {
	if server.Lost(err) {
		return unsaved{err}
	}
	return err
}

// insisting runs a transaction again where the server undid it since others wrote at the
// same time, or its connection was lost, and once says that it may: nothing of it was kept,
// or what was kept is known by its request.
func (db *DB) insisting(ctx context.Context, once func() (repeatable bool, err error)) error {
	wait := firstInsisting
	for tries := 1; ; tries++ {
		repeatable, err := once()
		again := repeatable && (server.Undone(err) || server.Lost(err))
		if db.says != postgresSQL || !again || tries == mostInsisting {
			return err
		}
		select {
		case <-time.After(wait):
			wait *= 2
		case <-ctx.Done():
			return err
		}
	}
}

// clearServer rewrites the tables without what was deleted.
func (db *DB) clearServer(ctx context.Context) error {
	names := slices.Collect(maps.Keys(journalColumns)) // its marks can be guessed from until it is rewritten too
	for name, t := range db.tables {
		if t.from == "" {
			names = append(names, name)
		}
	}
	for _, name := range names {
		if _, err := db.pool.ExecContext(ctx, `VACUUM (FULL) "`+name+`"`); err != nil {
			return fmt.Errorf("rewriting %s: %w", name, err)
		}
	}
	return nil
}

// serverDamage is what PostgreSQL says that it does not hold to: it checks its own pages when
// it reads them, and constraints where they weren't turned off.
func (t tx) serverDamage() (found []string, err error) {
	err = t.db.Raw(`SELECT 'the constraint ' || k.conname || ' of ' || c.relname || ' was not checked against the rows' AS what
			FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid WHERE c.relnamespace = current_schema()::regnamespace AND NOT k.convalidated
		UNION ALL SELECT 'foreign keys of ' || c.relname || ' are turned off'
			FROM pg_class c WHERE c.relnamespace = current_schema()::regnamespace AND EXISTS (SELECT 1 FROM pg_trigger g WHERE g.tgrelid = c.oid AND g.tgisinternal AND g.tgenabled = 'D')
		UNION ALL SELECT 'the index ' || i.relname || ' is not valid'
			FROM pg_index x JOIN pg_class i ON i.oid = x.indexrelid WHERE i.relnamespace = current_schema()::regnamespace AND NOT x.indisvalid
		ORDER BY what LIMIT 20`).Scan(&found).Error
	return found, err
}
