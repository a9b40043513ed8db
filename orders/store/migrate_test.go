package store

import (
	"context"
	"database/sql"
	"io/fs"
	"testing"

	"github.com/pressly/goose/v3"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/wood"
	"wellstowed/orders"
)

// databaseAt makes a database file as a program of that migration left it.
func databaseAt(t *testing.T, version int64) (path string, pool *sql.DB) {
	t.Helper()
	path = t.TempDir() + "/shop.db"
	pool, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	files, err := fs.Sub(migrations, "migrations")
	require.NoError(t, err)
	provider, err := goose.NewProvider(goose.DialectSQLite3, pool, files)
	require.NoError(t, err)
	_, err = provider.UpTo(t.Context(), version)
	require.NoError(t, err)
	return path, pool
}

// Readings from before there were batches are those of their order still.
func TestReadingsOutliveTheirMigration(t *testing.T) {
	path, pool := databaseAt(t, 5)
	const order, set = "019c0000-0000-7000-8000-000000000001", "019c0000-0000-7000-8000-000000000002"
	for _, row := range []string{
		`INSERT INTO customers VALUES ('` + order + `', 1, 'Ada Quill', '', '', '', '')`,
		`INSERT INTO orders (id, number, version, customer_id, words, quantity, basis, species, piece_length, seasoning, currency, wood, fees, deposit, notes, created, changed)
			VALUES ('` + order + `', 1, 1, '` + order + `', '1 cord', 9, 'ranked', 'Red oak', 1, '', 'USD', 0, '[]', 0, '', 1, 1)`,
		`INSERT INTO moistures (id, order_id, readings, season, read_by, read_on, created) VALUES ('` + set + `', '` + order + `',
			'[{"moisture":{"percent":15,"basis":"dry"},"method":"pin meter","piece":1,"fresh_face":true}]',
			'{"pieces":1,"readings":1,"mean":{"percent":15,"basis":"dry"},"spread_points":0,"driest":{"percent":15,"basis":"dry"},
			"wettest":{"percent":15,"basis":"dry"},"limit":{"percent":20,"basis":"dry"},"verdict":"not settled","more":4}', 'Wren', '2026-03-07', 7)`,
	} {
		_, err := pool.ExecContext(t.Context(), row)
		require.NoError(t, err)
	}
	require.NoError(t, pool.Close())

	db, err := Open(context.Background(), path)
	require.NoError(t, err)
	defer db.Close()
	require.NoError(t, db.Read(t.Context(), func(tx orders.Tx) error {
		sets, err := tx.Moistures(order)
		require.Len(t, sets, 1)
		require.Equal(t, set, sets[0].ID)
		require.Equal(t, order, sets[0].OrderID)
		require.Empty(t, sets[0].BatchID)
		require.Equal(t, wood.Neither, sets[0].Season.Verdict)
		o, more := tx.Order(order)
		require.NoError(t, more)
		require.Empty(t, o.Certificate)
		return err
	}))
}

// A shop from before it was asked where it is has said so where it is not in UTC.
func TestAShopInUTCIsAskedWhereItIs(t *testing.T) {
	for zone, located := range map[string]bool{"UTC": false, "America/New_York": true} {
		path, pool := databaseAt(t, 12)
		_, err := pool.ExecContext(t.Context(), `UPDATE shop SET zone = ?`, zone)
		require.NoError(t, err)
		require.NoError(t, pool.Close())
		db, err := Open(context.Background(), path)
		require.NoError(t, err)
		require.NoError(t, db.Read(t.Context(), func(tx orders.Tx) error {
			shop, err := tx.Shop()
			require.Equal(t, located, shop.Located, zone)
			require.Equal(t, zone, shop.Zone)
			return err
		}))
		require.NoError(t, db.Close())
	}
}
