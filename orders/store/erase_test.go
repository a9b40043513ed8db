package store

import (
	"context"
	"os"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/privacy"
)

// Papers from before there were erasures are whole, and their names can be erased;
// what an earlier program left in the file's free pages goes with them.
func TestPapersFromBeforeErasuresCanBeErased(t *testing.T) {
	path, pool := databaseAt(t, 11)
	const order = "019c0000-0000-7000-8000-000000000001"
	for _, row := range []string{
		`INSERT INTO customers VALUES ('` + order + `', 1, 'Zephyrine Ostrak', '', '', '', '')`,
		`INSERT INTO orders (id, number, version, customer_id, words, quantity, basis, species, piece_length, seasoning, currency, wood, fees, deposit, notes, created, changed)
			VALUES ('` + order + `', 1, 1, '` + order + `', '1 cord', 9, 'ranked', 'Red oak', 1, '', 'USD', 0, '[]', 0, '', 1, 1)`,
		`INSERT INTO receipts (number, order_id, issued, facts, facts_sha256, personal, salt, personal_sha256, chain, seal, pdf, pdf_sha256)
			VALUES (1, '` + order + `', 7, x'7b7d', hex(zeroblob(32)), CAST('{"name":"Zephyrine Ostrak"}' AS BLOB), zeroblob(16), hex(zeroblob(32)), hex(zeroblob(32)),
			'0000-0000-0000', CAST('%PDF Zephyrine Ostrak' AS BLOB), hex(zeroblob(32)))`,
		`CREATE TABLE draft (note TEXT)`, `INSERT INTO draft VALUES ('Zephyrine Ostrak waits')`, `DROP TABLE draft`,
	} {
		_, err := pool.ExecContext(t.Context(), row)
		require.NoError(t, err, row)
	}
	require.NoError(t, pool.Close())

	db, err := Open(context.Background(), path)
	require.NoError(t, err)
	defer db.Close()
	at := time.UnixMicro(9).UTC()
	require.NoError(t, db.Erasing().Write(t.Context(), func(tx privacy.Tx) error {
		r, err := tx.StoredReceipt(1)
		require.NoError(t, err)
		require.True(t, r.Erased.IsZero())
		named, err := tx.Named()
		require.NoError(t, err)
		require.Equal(t, []orders.Record{{Kind: orders.OrderRecord, ID: order}}, named)
		require.NoError(t, tx.EraseNames(named[0], at))
		return tx.AddErasure(privacy.Erasure{ID: order, By: "Odell", At: at, Erased: privacy.Erased{Receipts: []int64{1}}, Of: named})
	}))
	require.NoError(t, db.Clear(t.Context()))
	require.NoError(t, db.Erasing().Read(t.Context(), func(tx privacy.Tx) error {
		r, err := tx.StoredReceipt(1)
		require.NoError(t, err)
		require.Equal(t, at, r.Erased)
		require.Empty(t, r.Personal)
		require.Empty(t, r.PDF)
		named, err := tx.Named()
		require.Empty(t, named)
		return err
	}))
	for _, end := range []string{"", "-wal"} {
		content, err := os.ReadFile(path + end)
		require.NoError(t, err)
		require.NotContains(t, string(content), "Zephyrine")
	}
}
