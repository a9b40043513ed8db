package store

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/postgres/servertest"
)

// A write that the server undid, or whose connection it cut, is done again and once.
func TestAWriteIsDoneAgainWhereTheServerUndidIt(t *testing.T) {
	url := servertest.Start(t).Database(t)
	db, err := Open(context.Background(), url)
	require.NoError(t, err)
	defer db.Close()
	outside := servertest.Raw(t, url)
	for name, disturb := range map[string]func(tx) error{
		"a serialization failure": func(t tx) error {
			return t.db.Exec(`DO $$ BEGIN RAISE EXCEPTION 'undone' USING ERRCODE = '40001'; END $$`).Error
		},
		"a deadlock": func(t tx) error {
			return t.db.Exec(`DO $$ BEGIN RAISE EXCEPTION 'undone' USING ERRCODE = '40P01'; END $$`).Error
		},
		"a connection that was cut": func(tx tx) error {
			var own int
			require.NoError(t, tx.db.Raw(`SELECT pg_backend_pid()`).Scan(&own).Error)
			_, err := outside.Exec(`SELECT pg_terminate_backend($1)`, own)
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			before := lastOrder(t, db)
			runs := 0
			require.NoError(t, whole{db}.Write(t.Context(), func(tx tx) error {
				if runs++; runs == 1 {
					_, err := tx.NextNumber(orders.OrderNumbers)
					require.NoError(t, err)
					if err := disturb(tx); err != nil {
						return err
					}
				}
				_, err := tx.NextNumber(orders.OrderNumbers)
				return err
			}))
			require.Equal(t, 2, runs)
			require.Equal(t, before+1, lastOrder(t, db))
		})
	}
}

// A connection that was lost before the commit kept nothing, and that is said; other errors
// stay as they are.
func TestWhatWasLostBeforeTheCommitWasNotSaved(t *testing.T) {
	err := told(unsavedIfLost(&lostError{}))
	require.Equal(t, act.Unavailable, act.KindOf(err))
	require.ErrorContains(t, err, "Nothing was saved")
	require.ErrorIs(t, told(unsavedIfLost(context.Canceled)), context.Canceled)
	require.NoError(t, told(unsavedIfLost(nil)))
}

// A request whose commit went through and whose answer was lost is done once: the second
// time it is known.
func TestACommitWhoseAnswerWasLostIsKnownByItsRequest(t *testing.T) {
	db := &DB{says: postgresSQL}
	lost := &lostError{}
	for _, row := range []struct {
		repeatable bool
		runs       int
	}{{true, 2}, {false, 1}} {
		runs := 0
		err := db.insisting(t.Context(), func() (bool, error) {
			if runs++; runs == 1 {
				return row.repeatable, lost
			}
			return true, nil
		})
		require.Equal(t, row.runs, runs)
		if row.runs == 1 {
			require.Equal(t, act.Unavailable, act.KindOf(told(err)))
			require.ErrorContains(t, told(err), "look for it before you send it again")
		}
	}
}

// lostError is what a network says of a connection that was cut.
type lostError struct{}

func (*lostError) Error() string   { return "connection reset" }
func (*lostError) Timeout() bool   { return false }
func (*lostError) Temporary() bool { return false }

func lastOrder(t *testing.T, db *DB) (n int64) {
	t.Helper()
	require.NoError(t, db.Read(t.Context(), func(tx orders.Tx) (err error) {
		n, err = tx.LastNumber(orders.OrderNumbers)
		return err
	}))
	return n
}
