package store

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"github.com/pressly/goose/v3"
)

//go:embed migrations/*.sql migrations/postgres/*.sql
var migrations embed.FS

// migrate brings the schema up to date. A schema newer than this program knows is
// refused: nothing of it is touched.
func migrate(ctx context.Context, pool *sql.DB) error {
	files, err := fs.Sub(migrations, "migrations")
	if err != nil {
		return err
	}
	provider, err := goose.NewProvider(goose.DialectSQLite3, pool, files)
	if err != nil {
		return fmt.Errorf("reading the migrations: %w", err)
	}
	for {
		before, target, err := provider.GetVersions(ctx)
		if err != nil {
			return fmt.Errorf("reading the schema's version: %w", err)
		}
		if before > target {
			return newer(before, target)
		}
		_, failed := provider.Up(ctx)
		if failed == nil {
			return nil
		}
		// Another process may have taken the same step first: then go on from
		// where it left the schema.
		if after, _, err := provider.GetVersions(ctx); err != nil || after == before {
			return fmt.Errorf("bringing the schema up to date: %w", failed)
		}
	}
}

func newer(has, known int64) error {
	return fmt.Errorf("the database has schema %d and this program knows schemas up to %d: "+
		"it was used with a newer version of the program; use that one", has, known)
}

// newestSchema is the number of the last migration.
func newestSchema() (newest int64, err error) {
	files, err := fs.Glob(migrations, "migrations/*.sql")
	for _, name := range files {
		n, unnumbered := goose.NumericComponent(name)
		if unnumbered != nil {
			return 0, unnumbered
		}
		newest = max(newest, n)
	}
	return newest, err
}
