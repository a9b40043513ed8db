package store

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Faults of the file, its disk or its neighbours are told in words, as SQLite gives them.
func TestFaultsOfTheFileAreToldInWords(t *testing.T) {
	for name, row := range map[string]struct {
		says  string
		cause func(t *testing.T, path string) error
	}{
		"held": {"Another program holds the shop’s file", func(t *testing.T, path string) error {
			holder := other(t, path, "")
			_, err := holder.Exec("BEGIN EXCLUSIVE")
			require.NoError(t, err)
			_, err = other(t, path, "?_pragma=busy_timeout(0)").Exec("UPDATE shop SET version = 9")
			return err
		}},
		"full": {"The disk is full", func(t *testing.T, path string) error {
			db := other(t, path, "")
			var pages int
			require.NoError(t, db.QueryRow("PRAGMA page_count").Scan(&pages))
			_, err := db.Exec("PRAGMA max_page_count = 1")
			require.NoError(t, err)
			_, err = db.Exec("CREATE TABLE more AS SELECT zeroblob(9000000) AS b")
			return err
		}},
		"read-only": {"only lets itself be read", func(t *testing.T, path string) error {
			_, err := other(t, path, "?mode=ro").Exec("UPDATE shop SET version = 9")
			return err
		}},
		"gone": {"The disk with the shop’s file doesn’t answer", func(t *testing.T, path string) error {
			_, err := other(t, filepath.Join(filepath.Dir(path), "gone", "shop.db"), "").Exec("UPDATE shop SET version = 9")
			return err
		}},
		"damaged": {"The shop’s file is damaged", func(t *testing.T, path string) error {
			require.NoError(t, os.WriteFile(path, []byte(strings.Repeat("no database ", 1000)), 0o600))
			_, err := other(t, path, "").Exec("UPDATE shop SET version = 9")
			return err
		}},
		"late": {"It took too long", func(*testing.T, string) error { return context.DeadlineExceeded }},
	} {
		t.Run(name, func(t *testing.T) {
			path, pool := databaseAt(t, 1)
			require.NoError(t, pool.Close())
			cause := row.cause(t, path)
			require.Error(t, cause)
			err := told(cause)
			require.Equal(t, act.Unavailable, act.KindOf(err), "%v", cause)
			require.Contains(t, err.Error(), row.says)
			require.ErrorIs(t, err, cause)
		})
	}
	require.NoError(t, told(nil))
}

// other is the file as another program has it open, on one connection.
func other(t *testing.T, path, settings string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+settings)
	require.NoError(t, err)
	db.SetMaxOpenConns(1)
	t.Cleanup(func() { _ = db.Close() })
	return db
}

// A file that was replaced is not written to, whatever still is open; once it is back,
// writing goes on.
func TestAFileThatWasReplacedIsNotWrittenTo(t *testing.T) {
	path := filepath.Join(t.TempDir(), "shop.db")
	db, err := Open(t.Context(), path)
	require.NoError(t, err)
	defer db.Close()
	count := func() error {
		return db.Write(t.Context(), func(tx orders.Tx) error {
			_, err := tx.NextNumber(orders.OrderNumbers)
			return err
		})
	}
	require.NoError(t, count())
	require.NoError(t, os.Rename(path, path+".away"))
	require.NoError(t, os.WriteFile(path, nil, 0o600))
	require.Equal(t, act.Unavailable, act.KindOf(count()))
	require.Error(t, db.Writable(t.Context()))
	require.NoError(t, os.Rename(path+".away", path))
	require.NoError(t, db.Writable(t.Context()), "it tries")
	require.NoError(t, count())
}

// Every table of the program's has a key, by which the journal knows its rows.
func TestEveryTableIsInTheJournal(t *testing.T) {
	db := opened(t)
	var tables []string
	require.NoError(t, db.gorm.Raw(`SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\_%' ESCAPE '\' AND name NOT IN ('journal_acts', 'journal_rows')`).Scan(&tables).Error)
	require.Len(t, db.tables, len(tables)+1) // and the tables themselves
	for _, name := range tables {
		require.NotEmpty(t, db.tables[name].key, name)
	}
}
