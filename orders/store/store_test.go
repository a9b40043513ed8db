package store_test

import (
	"context"
	"database/sql"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/calendar"
	"wellstowed/orders/cases"
	"wellstowed/orders/minute"
	"wellstowed/orders/money"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/road"
	"wellstowed/orders/store"
	"wellstowed/orders/yard"
)

func open(t *testing.T, path string) *store.DB {
	t.Helper()
	db, err := store.Open(context.Background(), path)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	return db
}

// newPath is where a database can be: a file, or where tests are run on a server, one there.
func newPath(t *testing.T) string {
	t.Helper()
	return servertest.Path(t)
}

// raw opens the file without the store.
func raw(t *testing.T, path string) *sql.DB {
	t.Helper()
	servertest.FileOnly(t)
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, db.Close()) })
	return db
}

func TestOpenMakesAFileForItsOwnerOnly(t *testing.T) {
	servertest.FileOnly(t)
	path := newPath(t)
	open(t, path)
	info, err := os.Stat(path)
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
}

func TestOpenTakesAnyPath(t *testing.T) {
	path := filepath.Join(t.TempDir(), "Alder Bend? 100% #1.db")
	open(t, path)
	_, err := os.Stat(path)
	require.NoError(t, err)
	mode, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	require.Equal(t, "Alder Bend? 100% #1.db", mode[0].Name())
}

func TestOpenRefuses(t *testing.T) {
	t.Run("a folder that is not there", func(t *testing.T) {
		_, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "none", "shop.db"))
		require.ErrorIs(t, err, os.ErrNotExist)
	})
	t.Run("a file that is no database", func(t *testing.T) {
		servertest.FileOnly(t)
		path := newPath(t)
		require.NoError(t, os.WriteFile(path, []byte("a letter about firewood, long enough to be read as a header of a file"), 0o600))
		_, err := store.Open(context.Background(), path)
		require.ErrorContains(t, err, "not a database")
	})
	t.Run("a newer schema", func(t *testing.T) {
		path := newPath(t)
		open(t, path)
		_, err := raw(t, path).Exec("INSERT INTO goose_db_version (version_id, is_applied) VALUES (9999, 1)")
		require.NoError(t, err)
		_, err = store.Open(context.Background(), path)
		require.ErrorContains(t, err, "the database has schema 9999")
		require.ErrorContains(t, err, "newer version of the program")
	})
}

func TestOpeningAgainKeepsWhatIsThere(t *testing.T) {
	path := newPath(t)
	write(t, open(t, path), func(tx allTx) error {
		shop, err := tx.Shop()
		if err != nil {
			return err
		}
		shop.Name = "Alder Bend Firewood"
		return tx.ChangeShop(shop)
	})
	read(t, open(t, path), func(tx allTx) error {
		shop, err := tx.Shop()
		require.Equal(t, "Alder Bend Firewood", shop.Name)
		return err
	})
}

func TestManyOpenOneNewFile(t *testing.T) { openedByFour(t, newPath(t)) }

// openedByFour opens one database, a file or on a server, four times at once.
func openedByFour(t *testing.T, where string) {
	t.Helper()
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			db, err := store.Open(context.Background(), where)
			if err != nil {
				t.Error(err)
				return
			}
			if err := db.Close(); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
}

// allTx is all that a transaction can do for the doors that write in it.
type allTx interface {
	orders.Tx
	cases.Tx
	audits.Tx
	road.Tx
	minute.Tx
	calendar.Tx
}

func write(t *testing.T, db *store.DB, do func(allTx) error) {
	t.Helper()
	require.NoError(t, db.Write(context.Background(), func(tx orders.Tx) error { return do(tx.(allTx)) }))
}

func read(t *testing.T, db *store.DB, do func(allTx) error) {
	t.Helper()
	require.NoError(t, db.Read(context.Background(), func(tx orders.Tx) error { return do(tx.(allTx)) }))
}

// Two handles read and then write one row, as two processes would. A transaction
// that took the lock only when it writes would be refused here.
func TestWritersQueue(t *testing.T) {
	path := newPath(t)
	handles := []*store.DB{open(t, path), open(t, path)}
	const each = 25
	var wg sync.WaitGroup
	for _, db := range handles {
		for range 2 {
			wg.Go(func() {
				for range each {
					err := db.Write(context.Background(), func(tx orders.Tx) error {
						before, err := tx.LastNumber(orders.OrderNumbers)
						if err != nil {
							return err
						}
						after, err := tx.NextNumber(orders.OrderNumbers)
						if after != before+1 {
							t.Errorf("%d after %d", after, before)
						}
						return err
					})
					if err != nil {
						t.Error(err)
						return
					}
				}
			})
		}
	}
	wg.Wait()
	read(t, handles[0], func(tx allTx) error {
		last, err := tx.LastNumber(orders.OrderNumbers)
		require.EqualValues(t, 4*each, last)
		return err
	})
}

func TestAReaderSeesOneView(t *testing.T) {
	path := newPath(t)
	db := open(t, path)
	read(t, db, func(tx allTx) error {
		before, err := tx.LastNumber(orders.OrderNumbers)
		require.NoError(t, err)
		write(t, db, func(other allTx) error {
			_, err := other.NextNumber(orders.OrderNumbers)
			return err
		})
		after, err := tx.LastNumber(orders.OrderNumbers)
		require.Equal(t, before, after)
		return err
	})
}

func TestAFailedWriteLeavesNothing(t *testing.T) {
	db := open(t, newPath(t))
	err := db.Write(context.Background(), func(tx orders.Tx) error {
		if _, err := tx.NextNumber(orders.OrderNumbers); err != nil {
			return err
		}
		return os.ErrInvalid
	})
	require.ErrorIs(t, err, os.ErrInvalid)
	require.Panics(t, func() {
		_ = db.Write(context.Background(), func(tx orders.Tx) error {
			_, err := tx.NextNumber(orders.OrderNumbers)
			require.NoError(t, err)
			panic("in the middle")
		})
	})
	read(t, db, func(tx allTx) error {
		last, err := tx.LastNumber(orders.OrderNumbers)
		require.Zero(t, last)
		return err
	})
}

func newID() string { return uuid.Must(uuid.NewV7()).String() }

// order is a row that keeps every constraint.
func order(customer orders.Customer, number int64) orders.Order {
	at := time.Date(2026, 3, 9, 12, 0, 0, 123_000, time.UTC)
	usd := func(minor int64) money.Money { return money.Money{Minor: minor, Currency: "USD"} }
	return orders.Order{
		ID: newID(), Number: number, Version: 1, Customer: customer, Words: "1/3 cord",
		Quantity: measure.Quantity{Volume: measure.Cord / 3, Basis: measure.Ranked}, Species: "Red oak", PieceLength: 16 * measure.Inch,
		Seasoning: yard.Green, Deposit: usd(0), Notes: "gate\nleft", State: orders.Taken, Created: at, Changed: at,
		Price: orders.Price{PerCord: usd(28000), Wood: usd(9333), Fees: []orders.PriceLine{{Kind: orders.OtherLine, Words: "tolls & <more>", Amount: usd(5)}}},
	}
}

func customer() orders.Customer {
	return orders.Customer{ID: newID(), Version: 1, Name: "Ada Quill", Address: "7 Ferry Lane\nAlder Bend", PrintName: "A. Quill"}
}

func TestAnOrderIsReadAsItWasWritten(t *testing.T) {
	db := open(t, newPath(t))
	o := order(customer(), 1)
	write(t, db, func(tx allTx) error {
		if err := tx.AddCustomer(o.Customer); err != nil {
			return err
		}
		return tx.AddOrder(o)
	})
	read(t, db, func(tx allTx) error {
		got, err := tx.Order(o.ID)
		require.Equal(t, o, got)
		return err
	})
}

func TestConstraintsAreToldApart(t *testing.T) {
	db := open(t, newPath(t))
	c := customer()
	write(t, db, func(tx allTx) error {
		if err := tx.AddCustomer(c); err != nil {
			return err
		}
		return tx.AddOrder(order(c, 1))
	})
	negative := order(c, 2)
	negative.Quantity.Volume = -1
	for name, row := range map[string]struct {
		do   func(orders.Tx) error
		want act.Kind
	}{
		"a number twice":           {func(tx orders.Tx) error { return tx.AddOrder(order(c, 1)) }, act.Conflict},
		"an id twice":              {func(tx orders.Tx) error { return tx.AddCustomer(c) }, act.Conflict},
		"a customer not there":     {func(tx orders.Tx) error { return tx.AddOrder(order(customer(), 2)) }, act.Conflict},
		"a load without a receipt": {func(tx orders.Tx) error { return tx.AddLoad(yard.Load{}) }, act.Invalid},
		"less than nothing":        {func(tx orders.Tx) error { return tx.AddOrder(negative) }, act.Invalid},
		"an old version": {func(tx orders.Tx) error {
			old := c
			old.Version = 9
			return tx.ChangeCustomer(old)
		}, act.Conflict},
		"an order not there": {func(tx orders.Tx) error { _, err := tx.Order("1=1"); return err }, act.NotFound},
	} {
		err := db.Write(context.Background(), row.do)
		var e *act.Error
		require.ErrorAs(t, err, &e, name)
		require.Equal(t, row.want.String(), e.Kind.String(), name)
		require.NotEmpty(t, e.Message.Key, name)
	}
}
