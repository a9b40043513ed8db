package store_test

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/disk"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
)

// shopName is what is read of a file to tell that it is read at all.
func shopName(t *testing.T, from orders.Store) (name string) {
	t.Helper()
	require.NoError(t, from.Read(context.Background(), func(tx orders.Tx) error {
		shop, err := tx.Shop()
		name = shop.Name
		return err
	}))
	return name
}

// named is a new database whose shop has a name.
func named(t *testing.T, name string) (path string, db *store.DB) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "shop.db")
	db, err := store.Open(context.Background(), path)
	require.NoError(t, err)
	rename(t, db, name)
	return path, db
}

func rename(t *testing.T, db *store.DB, name string) {
	t.Helper()
	require.NoError(t, db.Write(context.Background(), func(tx orders.Tx) error {
		shop, err := tx.Shop()
		require.NoError(t, err)
		shop.Name = name
		return tx.ChangeShop(shop)
	}))
}

// A file that was closed holds all of it; one that was copied while a program used it,
// without its log, is told apart, and nothing goes on with it unasked.
func TestACopyWithoutItsLogIsToldApart(t *testing.T) {
	ctx := context.Background()
	path, db := named(t, "Alder Bend")
	copied := filepath.Join(t.TempDir(), "copied.db")
	require.NoError(t, disk.CopyFile(path, copied))

	_, err := store.Open(ctx, copied)
	require.ErrorContains(t, err, "its log copied.db-wal is not beside it")
	v, err := store.OpenToRead(ctx, copied)
	require.NoError(t, err)
	require.True(t, v.LacksLog)
	require.NotEqual(t, "Alder Bend", shopName(t, v), "what was saved last is in the log")
	require.NoError(t, v.Close())
	beside, err := filepath.Glob(copied + "-*")
	require.NoError(t, err)
	require.Empty(t, beside, "reading it leaves no log beside it, which would say that it is whole")

	require.NoError(t, disk.CopyFile(path+"-wal", copied+"-wal"))
	with, err := store.OpenToRead(ctx, copied)
	require.NoError(t, err)
	require.False(t, with.LacksLog)
	require.Equal(t, "Alder Bend", shopName(t, with))
	require.NoError(t, with.Close())

	require.NoError(t, db.Close())
	closed := filepath.Join(t.TempDir(), "closed.db")
	require.NoError(t, disk.CopyFile(path, closed))
	again, err := store.OpenToRead(ctx, closed)
	require.NoError(t, err)
	require.False(t, again.LacksLog)
	require.Equal(t, "Alder Bend", shopName(t, again), "a file that was closed is whole in itself")
	require.NoError(t, again.Close())
}

// Two programs use one file: the first to close it leaves it to the other.
func TestTheLastToCloseLeavesNoLog(t *testing.T) {
	path, first := named(t, "Alder Bend")
	second, err := store.Open(context.Background(), path)
	require.NoError(t, err)
	require.NoError(t, first.Close())
	require.FileExists(t, path+"-wal")
	rename(t, second, "Hartwell")
	require.NoError(t, second.Close())
	require.NoFileExists(t, path+"-wal")
	v, err := store.OpenToRead(context.Background(), path)
	require.NoError(t, err)
	require.Equal(t, "Hartwell", shopName(t, v))
	require.NoError(t, v.Close())
}

// What must not be changed is read where nothing can be written, also with a log beside it.
func TestEvidenceIsReadWhereNothingCanBeWritten(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Log("root may write anywhere: what is read is held all the same, not that nothing could be written")
	}
	path, db := named(t, "Alder Bend")
	defer db.Close()
	folder := t.TempDir()
	evidence := filepath.Join(folder, "shop.db")
	require.NoError(t, disk.CopyFile(path, evidence))
	require.NoError(t, disk.CopyFile(path+"-wal", evidence+"-wal"))
	require.NoError(t, os.Chmod(evidence, 0o400))
	require.NoError(t, os.Chmod(evidence+"-wal", 0o400))
	require.NoError(t, os.Chmod(folder, 0o500))
	defer os.Chmod(folder, 0o700)
	before := bytesOf(t, evidence, evidence+"-wal")
	v, err := store.OpenToRead(context.Background(), evidence)
	require.NoError(t, err)
	require.Equal(t, "Alder Bend", shopName(t, v))
	require.Error(t, v.Write(context.Background(), func(tx orders.Tx) error {
		shop, err := tx.Shop()
		require.NoError(t, err)
		return tx.ChangeShop(shop)
	}))
	require.NoError(t, v.Close())
	require.Equal(t, before, bytesOf(t, evidence, evidence+"-wal"))
}

func bytesOf(t *testing.T, paths ...string) (all [][]byte) {
	t.Helper()
	for _, path := range paths {
		content, err := os.ReadFile(path)
		require.NoError(t, err)
		all = append(all, content)
	}
	return all
}

// A copy is whole in itself, holds what was saved by then, and writes over nothing.
func TestCopyTo(t *testing.T) {
	_, db := named(t, "Alder Bend")
	defer db.Close()
	copied := filepath.Join(t.TempDir(), "copied.db")
	require.NoError(t, db.CopyTo(context.Background(), copied))
	info, err := os.Stat(copied)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	v, err := store.OpenToRead(context.Background(), copied)
	require.NoError(t, err)
	require.Equal(t, "Alder Bend", shopName(t, v))
	require.False(t, v.LacksLog)
	require.NoError(t, v.Close())
	require.ErrorIs(t, db.CopyTo(context.Background(), copied), os.ErrExist)
	require.Error(t, db.CopyTo(context.Background(), filepath.Join(t.TempDir(), "gone", "copied.db")))
}

// Looking never changes a file of another schema: it is refused in words.
func TestReadingRefusesAnotherSchema(t *testing.T) {
	for schema, says := range map[int]string{1: "last used with an older version", 99_999: "newer version of the program"} {
		path, db := named(t, "Alder Bend")
		require.NoError(t, db.Close())
		other, err := sql.Open("sqlite", "file:"+path)
		require.NoError(t, err)
		_, err = other.Exec(`UPDATE goose_db_version SET is_applied = 0 WHERE version_id > 1; INSERT INTO goose_db_version (version_id, is_applied) VALUES (?, 1)`, schema)
		require.NoError(t, err)
		require.NoError(t, other.Close())
		before := bytesOf(t, path)
		_, err = store.OpenToRead(context.Background(), path)
		require.ErrorContains(t, err, says)
		require.Equal(t, before, bytesOf(t, path))
	}
	empty := filepath.Join(t.TempDir(), "other.db")
	other, err := sql.Open("sqlite", "file:"+empty)
	require.NoError(t, err)
	_, err = other.Exec(`CREATE TABLE things (id INTEGER)`)
	require.NoError(t, err)
	require.NoError(t, other.Close())
	_, err = store.OpenToRead(context.Background(), empty)
	require.ErrorContains(t, err, "no shop’s database")
}

// Damage names a page that was written over and a row that lacks the one it names.
func TestDamageNamesWhatIsBroken(t *testing.T) {
	path, db := named(t, "Alder Bend")
	require.NoError(t, db.Close())
	other, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	_, err = other.Exec(`PRAGMA foreign_keys = 0; INSERT INTO sessions VALUES ('` + newID() + `', '` + strings.Repeat("a", 64) + `', 'nobody', 1, '', 1, 1, 1, NULL, '')`)
	require.NoError(t, err)
	require.NoError(t, other.Close())
	v, err := store.OpenToRead(context.Background(), path)
	require.NoError(t, err)
	defer v.Close()
	require.NoError(t, v.Proving().Read(context.Background(), func(tx proof.Tx) error {
		damage, err := tx.Damage()
		require.Equal(t, []string{"row 1 of sessions names a row of people that is not there"}, damage)
		return err
	}))
}
