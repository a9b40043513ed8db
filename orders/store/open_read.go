package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"gorm.io/driver/postgres"
	"gorm.io/driver/sqlite"
	"gorm.io/gorm"
	"gorm.io/gorm/logger"

	"wellstowed/orders/disk"
	server "wellstowed/orders/postgres"
)

// toRead are the settings of a connection that changes nothing.
const toRead = "?mode=ro&_pragma=busy_timeout(10000)&_pragma=foreign_keys(1)"

// A View is a database that was opened to be read: nothing of its file is changed, its
// schema neither.
type View struct {
	*DB
	// Schema is the file's, and Known the newest that this program knows.
	Schema, Known int64
	// LacksLog tells that the file was copied while a program used it, and that its log is
	// not beside it, so that what was saved last may be lacking. LogUntold: a version of
	// the program from before that could be told left the file.
	LacksLog, LogUntold bool
	borrowed            string // folder of a copy that was made to be read, "" where none was
}

// Close lets go of the file.
func (v *View) Close() error {
	err := v.pool.Close()
	if v.borrowed != "" {
		err = errors.Join(err, os.RemoveAll(v.borrowed))
	}
	return err
}

// OpenToRead opens a database to be read, and refuses one of another schema.
func OpenToRead(ctx context.Context, path string) (*View, error) {
	v, err := OpenToCopy(ctx, path)
	if err != nil {
		return nil, err
	}
	switch {
	case v.Schema < v.Known:
		err = fmt.Errorf("it was last used with an older version of the program (schema %d; this one reads %d). Reading changes nothing of it, "+
			"so it is not brought up to date either. To read it, make an up-to-date copy: wellstowed restore --from %s --db NEW. serve brings the file itself up to date", v.Schema, v.Known, path)
	case v.Schema > v.Known:
		err = newer(v.Schema, v.Known)
	}
	if err != nil {
		return nil, errors.Join(err, v.Close())
	}
	return v, nil
}

// OpenToCopy opens a database of any schema to be copied.
func OpenToCopy(ctx context.Context, path string) (*View, error) {
	if server.Is(path) {
		return viewServer(ctx, path)
	}
	full, err := resolved(path)
	if err != nil {
		return nil, err
	}
	state, err := settledCondition(full)
	if err != nil {
		return nil, err
	}
	settings := toRead
	if state == logGone || state == logUntold {
		settings += "&immutable=1" // no log is begun beside it
	}
	v, err := view(ctx, full, settings)
	if err != nil && state == inTheLog && unopened(err) {
		v, err = viewBorrowed(ctx, full)
	}
	if err != nil {
		return nil, err
	}
	v.LacksLog, v.LogUntold = state == logGone, state == logUntold
	return v, nil
}

func resolved(path string) (string, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return "", err
	}
	return filepath.EvalSymlinks(full) // the log lies beside the file itself
}

// unopened tells that SQLite could not open a file that it needs, or not for writing
// (primary result codes 14 and 8): a log is read with a file beside it.
func unopened(err error) bool { return coded(err, 14) || coded(err, 8) }

// viewBorrowed reads a copy of file and log, where no file can be made beside them.
func viewBorrowed(ctx context.Context, full string) (*View, error) {
	folder, err := os.MkdirTemp("", "wellstowed-")
	if err != nil {
		return nil, err
	}
	to := filepath.Join(folder, "shop.db")
	err = errors.Join(disk.CopyFile(full, to), disk.CopyFile(full+"-wal", to+"-wal"))
	var v *View
	if err == nil {
		v, err = view(ctx, to, toRead)
	}
	if err != nil {
		return nil, errors.Join(err, os.RemoveAll(folder))
	}
	v.borrowed = folder
	return v, nil
}

func view(ctx context.Context, full, settings string) (*View, error) {
	pool, err := sql.Open("sqlite", sourceName(full)+settings)
	if err != nil {
		return nil, err
	}
	return viewOf(ctx, pool, sqliteSQL)
}

// viewOf looks at the database of a pool, or closes it.
func viewOf(ctx context.Context, pool *sql.DB, d dialect) (v *View, err error) {
	pool.SetMaxOpenConns(mostConnections)
	v = &View{DB: &DB{pool: pool, says: d, writing: make(chan struct{}, 1)}}
	if v.Schema, v.Known, err = d.schemas(ctx, pool); err == nil {
		v.gorm, err = d.overPool(pool)
	}
	if err != nil {
		return nil, errors.Join(err, pool.Close())
	}
	return v, nil
}

// schemas are the schema of a database and the newest that this program knows.
func (d dialect) schemas(ctx context.Context, pool *sql.DB) (has, known int64, err error) {
	var ours int
	err = pool.QueryRowContext(ctx, d.exists(), "goose_db_version").Scan(&ours)
	if err == nil && ours == 0 {
		err = errors.New("it is no shop’s database")
	}
	if err == nil {
		err = pool.QueryRowContext(ctx, `SELECT coalesce(max(version_id), 0) FROM goose_db_version WHERE is_applied`).Scan(&has)
	}
	if err != nil {
		return 0, 0, err
	}
	known, err = newestSchema()
	return has, known, err
}

func (d dialect) overPool(pool *sql.DB) (*gorm.DB, error) {
	over := gorm.Dialector(dialector{&sqlite.Dialector{DriverName: "sqlite", Conn: pool}})
	if d == postgresSQL {
		over = serverDialector{&postgres.Dialector{Config: &postgres.Config{Conn: pool}}}
	}
	return gorm.Open(
		over,
		&gorm.Config{Logger: logger.Discard, SkipDefaultTransaction: true, TranslateError: true},
	)
}
