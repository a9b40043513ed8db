package store

import (
	"context"
	"io/fs"
	"slices"
	"testing"

	"github.com/pressly/goose/v3"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/proof"
)

// schemasThereWere are the numbers of all migrations, in order.
func schemasThereWere(t *testing.T) (all []int64) {
	t.Helper()
	files, err := fs.Glob(migrations, "migrations/*.sql")
	require.NoError(t, err)
	for _, name := range files {
		n, err := goose.NumericComponent(name)
		require.NoError(t, err)
		all = append(all, n)
	}
	slices.Sort(all)
	return all
}

// A database of each earlier schema, as its migrations made it, with an order and its
// customer, is brought up to date with nothing of them lost: the fixtures are made
// here, by the migrations up to that one.
func TestEveryEarlierSchemaIsBroughtUpToDate(t *testing.T) {
	const id = "019c0000-0000-7000-8000-000000000001"
	all := schemasThereWere(t)
	for _, schema := range all[:len(all)-1] {
		path, pool := databaseAt(t, all[0])
		for _, row := range []string{
			`INSERT INTO customers VALUES ('` + id + `', 1, 'Ada Quill', '12 Mill Road', '555 0100', '', '')`,
			`INSERT INTO orders (id, number, version, customer_id, words, quantity, basis, species, piece_length, seasoning, currency, wood, fees, deposit, notes, created, changed)
				VALUES ('` + id + `', 1, 1, '` + id + `', '1 cord', 9, 'ranked', 'Red oak', 1, '', 'USD', 28000, '[]', 500, 'gate code 7', 1, 1)`,
			`UPDATE counters SET last = 1 WHERE name = 'order'`,
		} {
			_, err := pool.ExecContext(t.Context(), row)
			require.NoError(t, err, row)
		}
		files, err := fs.Sub(migrations, "migrations")
		require.NoError(t, err)
		provider, err := goose.NewProvider(goose.DialectSQLite3, pool, files)
		require.NoError(t, err)
		_, err = provider.UpTo(t.Context(), schema)
		require.NoError(t, err)
		require.NoError(t, pool.Close())

		_, err = OpenToRead(t.Context(), path)
		require.ErrorContains(t, err, "older version", "schema %d", schema)
		db, err := Open(context.Background(), path)
		require.NoError(t, err, "schema %d", schema)
		require.NoError(t, db.Proving().Read(t.Context(), func(tx proof.Tx) error {
			o, err := tx.Order(id)
			require.NoError(t, err)
			require.Equal(t, []string{"Ada Quill", "12 Mill Road", "555 0100", "gate code 7", "Red oak"},
				[]string{o.Customer.Name, o.Customer.Address, o.Customer.Phone, o.Notes, o.Species})
			require.EqualValues(t, 28000, o.Price.Wood.Minor)
			last, err := tx.LastNumber(orders.OrderNumbers)
			require.NoError(t, err)
			require.EqualValues(t, 1, last)
			damage, err := tx.Damage()
			require.NoError(t, err)
			require.Empty(t, damage)
			_, faults, err := tx.WalkJournal()
			require.Empty(t, faults, "schema %d", schema)
			return err
		}))
		require.NoError(t, db.Close())
	}
}
