package store

import (
	"context"
	"database/sql"
	"fmt"
	"hash/fnv"
	"io/fs"
	"path"
	"regexp"
	"strings"

	"github.com/pressly/goose/v3"
	"github.com/pressly/goose/v3/lock"

	server "wellstowed/orders/postgres"
)

// The migrations are written once, for SQLite; PostgreSQL is given them in its own words. One
// that can't be said so has a file of its own of the same name in this folder.
const ownMigrations = "migrations/postgres/"

// said are the words of a migration that are others in PostgreSQL. Texts are compared byte
// by byte, as SQLite does.
var said = []struct {
	words *regexp.Regexp
	as    string
}{
	{regexp.MustCompile(`\bTEXT\b([^)])`), `TEXT COLLATE "C"$1`}, // a column, not a CAST
	{regexp.MustCompile(`(?m)^PRAGMA .*$`), ""},
	{regexp.MustCompile(`\bINTEGER\b`), "BIGINT"},
	{regexp.MustCompile(`\bBLOB\b`), "BYTEA"},
	{regexp.MustCompile(`\bx''`), "''::bytea"},
	{regexp.MustCompile(`\)\s*STRICT;`), ");"},
	{regexp.MustCompile(`\bjson_valid\((\w+)\)`), "($1 IS NULL OR $1::jsonb IS NOT NULL)"},
}

// comment is one in SQL, up to the end of its line.
var comment = regexp.MustCompile(`(?m)--.*$`)

// forServer is a migration as PostgreSQL is given it.
func forServer(name string) (string, error) {
	if own, err := fs.ReadFile(migrations, ownMigrations+path.Base(name)); err == nil {
		return string(own), nil
	}
	content, err := fs.ReadFile(migrations, name)
	text := comment.ReplaceAllString(string(content), "")
	for _, s := range said {
		text = s.words.ReplaceAllString(text, s.as)
	}
	return text, err
}

// migrateServer brings the tables on a server up to date, alone among all programs that do.
func migrateServer(ctx context.Context, at server.Server) error {
	steps, err := serverSteps()
	if err != nil {
		return err
	}
	// a lock of its own for each schema, so that shops don't wait for each other
	locker, err := lock.NewPostgresSessionLocker(lock.WithLockID(lockOf(at.Name())), lock.WithLockTimeout(1, 120))
	if err != nil {
		return err
	}
	pool := at.PlainPool()
	defer pool.Close()
	provider, err := goose.NewProvider(goose.DialectPostgres, pool, nil, goose.WithGoMigrations(steps...), goose.WithSessionLocker(locker), goose.WithDisableGlobalRegistry(true))
	if err != nil {
		return fmt.Errorf("reading the migrations: %w", err)
	}
	before, target, err := provider.GetVersions(ctx)
	if err != nil {
		return fmt.Errorf("reading the schema's version: %w", err)
	}
	if before > target {
		return newer(before, target)
	}
	if before == target {
		return nil
	}
	if _, err := provider.Up(ctx); err != nil {
		return fmt.Errorf("bringing the schema up to date: %w", err)
	}
	return nil
}

// lockOf is the number of a schema's lock.
func lockOf(schema string) int64 {
	hash := fnv.New64a()
	hash.Write([]byte("wellstowed " + schema))
	return int64(hash.Sum64() >> 1)
}

// serverSteps are the migrations for goose.
func serverSteps() ([]*goose.Migration, error) {
	files, err := fs.Glob(migrations, "migrations/*.sql")
	if err != nil {
		return nil, err
	}
	steps := make([]*goose.Migration, len(files))
	for i, name := range files {
		number, err := goose.NumericComponent(name)
		if err != nil {
			return nil, err
		}
		text, err := forServer(name)
		if err != nil {
			return nil, err
		}
		steps[i] = goose.NewGoMigration(number, &goose.GoFunc{RunTx: func(ctx context.Context, tx *sql.Tx) error {
			if _, err := tx.ExecContext(ctx, strings.TrimSpace(text)); err != nil {
				return fmt.Errorf("%s: %w", path.Base(name), err)
			}
			return nil
		}}, nil)
	}
	return steps, nil
}
