package store_test

import (
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/journal"
	"wellstowed/orders/people"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/store"
)

// A shop on a PostgreSQL server is the shop that it is in a file. The other tests of this
// package are run on a server too where WELLSTOWED_TEST_POSTGRES names one.
func TestOnAServer(t *testing.T) {
	server := servertest.Start(t)

	t.Run("several open one new database at once", func(t *testing.T) {
		url := server.Database(t)
		openedByFour(t, url)
		_, faults := walked(t, url)
		require.Empty(t, faults)
	})

	t.Run("a shop moves there and back", func(t *testing.T) { movesThereAndBack(t, server) })

	t.Run("a name with a capital beyond A to Z is found", func(t *testing.T) {
		db := open(t, server.Database(t))
		write(t, db, func(tx allTx) error {
			return tx.AddPerson(people.Person{ID: "01900000-0000-7000-8000-0000000000aa", Name: "Émile Ash", Role: act.Driver, State: people.LetIn, Version: 1, Created: time.Unix(1, 0).UTC()})
		})
		read(t, db, func(tx allTx) error {
			for _, typed := range []string{"Émile Ash", "Émile ASH"} {
				_, err := tx.PersonNamed(typed)
				require.NoError(t, err, typed)
			}
			return nil
		})
	})

	t.Run("shops by schema know nothing of each other", func(t *testing.T) {
		url := server.Database(t)
		for _, shop := range []string{"alder", "birch"} {
			write(t, open(t, url+"&search_path="+shop), func(tx allTx) error {
				s, err := tx.Shop()
				require.NoError(t, err)
				require.Empty(t, s.Name)
				s.Name = shop
				return tx.ChangeShop(s)
			})
		}
		_, err := store.OpenToRead(t.Context(), url)
		require.ErrorContains(t, err, "no shop’s database")
		_, faults := walked(t, url+"&search_path=birch")
		require.Empty(t, faults)
	})

	t.Run("what can’t be opened is said", func(t *testing.T) {
		_, err := store.Open(t.Context(), "postgres://%zz")
		require.ErrorContains(t, err, "postgres://user@host:port/database")
		_, err = store.Open(t.Context(), strings.Replace(server.Database(t), "/wst_", "/gone_", 1))
		require.ErrorContains(t, err, "does not exist")
		_, err = store.Open(t.Context(), server.Database(t)+"&search_path=a,b")
		require.ErrorContains(t, err, "one schema")
		url := server.Database(t)
		open(t, url)
		_, err = servertest.Raw(t, url).Exec("INSERT INTO goose_db_version (version_id, is_applied) VALUES (9999, true)")
		require.NoError(t, err)
		_, err = store.Open(t.Context(), url)
		require.ErrorContains(t, err, "newer version of the program")
	})

	t.Run("a lock that another holds is waited for and then said", func(t *testing.T) {
		url := server.Database(t) + "&lock_timeout=50"
		db := open(t, url)
		held, err := servertest.Raw(t, url).Begin()
		require.NoError(t, err)
		defer held.Rollback()
		_, err = held.Exec("SELECT id FROM shop FOR UPDATE")
		require.NoError(t, err)
		err = db.Write(t.Context(), func(orders.Tx) error { return nil })
		require.Equal(t, act.Unavailable, act.KindOf(err))
		require.ErrorContains(t, err, "Another program holds the shop’s database")
		require.Error(t, db.Writable(t.Context()), "it says so while it lasts")
		require.NoError(t, held.Rollback())
		require.NoError(t, db.Writable(t.Context()))
	})
}

// Each reading answers alike of a file, of the database on a server that it was copied to,
// and of a file that this was copied to; the journal goes along, and whatever is there is
// left alone.
func movesThereAndBack(t *testing.T, server servertest.Server) {
	first := filepath.Join(t.TempDir(), "first.db")
	s := stockedAt(t, first)
	calls := s.calls()
	require.Greater(t, len(calls), 60)
	whole := answers(t, calls, s.db)
	head, faults := walked(t, first)
	require.Empty(t, faults)

	url, back := server.Database(t), filepath.Join(t.TempDir(), "back.db")
	for i, step := range []struct{ from, to string }{{first, url}, {url, back}} {
		moved(t, step.from, step.to)
		db := open(t, step.to)
		for name, answer := range answers(t, calls, db) {
			if !strings.HasPrefix(name, "JournalLine") && !strings.HasPrefix(name, "WalkJournal") {
				require.Equal(t, whole[name], answer, "%s in %s", name, step.to)
			}
		}
		now, faults := walked(t, step.to)
		require.Empty(t, faults, step.to)
		require.Equal(t, head.ID+int64(i)+1, now.ID, "one act more in %s", step.to)
		require.ErrorIs(t, move(t, step.from, step.to), store.ErrNotEmpty)
		require.NoError(t, db.Close())
	}
	write(t, open(t, back), func(tx allTx) error { // it goes on there
		_, err := tx.NextNumber(orders.OrderNumbers)
		return err
	})
	_, faults = walked(t, back)
	require.Empty(t, faults)
}

func answers(t *testing.T, calls map[string]call, db *store.DB) map[string]string {
	t.Helper()
	all := map[string]string{}
	for name, c := range calls {
		answer, err := c.answered(db)
		require.NoError(t, err, name)
		all[name] = answer
	}
	return all
}

func move(t *testing.T, from, to string) error {
	t.Helper()
	v, err := store.OpenToRead(t.Context(), from)
	require.NoError(t, err)
	defer v.Close()
	return v.MoveTo(t.Context(), to)
}

func moved(t *testing.T, from, to string) { t.Helper(); require.NoError(t, move(t, from, to)) }

// Whatever is changed on a server from outside is named with its table.
func TestWhatIsDoneToAServerIsNamed(t *testing.T) {
	server := servertest.Start(t)
	url := server.Database(t)
	s := stockedAt(t, url)
	require.NoError(t, s.db.Close())
	head, faults := walked(t, url)
	require.Empty(t, faults)
	for _, row := range []struct {
		name, statement string
		why             journal.Why
		table           string
	}{
		{"an amount", `UPDATE payments SET amount = amount + 100`, journal.Altered, "payments"},
		{"a name", `UPDATE customers SET name = name || 'x'`, journal.Altered, "customers"},
		{"bytes", `UPDATE receipts SET pdf = pdf || '\x07'`, journal.Altered, "receipts"},
		{"a null", `UPDATE orders SET cancelled = 7 WHERE cancelled IS NULL`, journal.Altered, "orders"},
		{"a counter put in", `ALTER TABLE counters DROP CONSTRAINT counters_now_name_check; INSERT INTO counters VALUES ('case2', 3)`, journal.Unknown, "counters"},
		{"a place gone", `DELETE FROM wish_ends`, journal.Missing, "wish_ends"},
		{"an index gone", `DROP INDEX payments_order`, journal.Missing, "postgres_schema"},
		{"a check gone", `ALTER TABLE shop DROP CONSTRAINT shop_version_check`, journal.Missing, "postgres_schema"},
		{"a column put in", `ALTER TABLE shop ADD COLUMN more TEXT`, journal.Altered, "shop"},
		{"a trigger put in", `CREATE TRIGGER taking AFTER INSERT ON payments FOR EACH ROW EXECUTE FUNCTION suppress_redundant_updates_trigger()`, journal.Unknown, "postgres_schema"},
		{"the journal's text", `UPDATE journal_acts SET person = 'Nobody' WHERE id = 2`, journal.Rewrote, ""},
		{"the journal's end", `DELETE FROM journal_rows WHERE act_id = 2; DELETE FROM journal_acts WHERE id = 2`, journal.Unknown, "orders"},
	} {
		t.Run(row.name, func(t *testing.T) {
			require.EqualValues(t, 2, head.ID)
			copied := server.Database(t, url)
			_, err := servertest.Raw(t, copied).Exec(row.statement)
			require.NoError(t, err)
			_, faults := walked(t, copied)
			found := false
			for _, f := range faults {
				found = found || f.Why == row.why && (row.table == "" || f.Table == row.table)
			}
			require.True(t, found, "%+v", faults)
		})
	}
}
