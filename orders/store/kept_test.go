package store_test

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/money"
	"wellstowed/orders/people"
	"wellstowed/orders/store"
)

// Draws for a lot come back in the order they were made, each with how its seed came
// about, and none of another lot.
func TestDrawsOfALotComeBack(t *testing.T) {
	db := open(t, newPath(t))
	at := time.Date(2026, 3, 9, 12, 0, 0, 0, time.UTC)
	drawn := audits.LotDraw{ID: newID(), Lot: "Mill shed, north bay", Size: 250, Seed: 1<<64 - 1, By: "Pim", At: at.Add(time.Second)}
	typed := audits.LotDraw{ID: newID(), Lot: "Mill shed, north bay", Size: 250, Seed: 7, Typed: true, By: "Una", At: at}
	other := audits.LotDraw{ID: newID(), Lot: "Ferry yard", Size: 12, Seed: 3, By: "Pim", At: at}
	write(t, db, func(tx allTx) error {
		for key, draws := range map[string][]audits.LotDraw{"mill shed": {drawn, typed}, "ferry yard": {other}} {
			for _, d := range draws {
				require.NoError(t, tx.AddLotDraw(key, d))
			}
		}
		return nil
	})
	read(t, db, func(tx allTx) error {
		back(t, []audits.LotDraw{typed, drawn})(tx.LotDraws("mill shed"))
		back(t, []audits.LotDraw{other})(tx.LotDraws("ferry yard"))
		back(t, []audits.LotDraw{})(tx.LotDraws("nowhere"))
		return nil
	})
}

// A person is changed at the version that was seen and at no other, so that of two who
// change a role at once one is told.
func TestAPersonIsChangedAtTheVersionSeen(t *testing.T) {
	s := stocked(t)
	changed := s.person
	changed.Role, changed.State, changed.Password = "owner", people.LetOut, "another"
	write(t, s.db, func(tx allTx) error {
		require.NoError(t, tx.ChangePerson(changed))
		changed.Version++
		back(t, changed)(one[people.Person](t)(tx.People()))
		return nil
	})
	for _, version := range []int64{s.person.Version, changed.Version + 1} {
		late := s.person
		late.Version, late.Password = version, "a third"
		err := s.db.Write(context.Background(), func(tx orders.Tx) error { return tx.(allTx).ChangePerson(late) })
		var e *act.Error
		require.ErrorAs(t, err, &e)
		require.Equal(t, act.Conflict, e.Kind)
	}
	read(t, s.db, func(tx allTx) error {
		back(t, changed)(one[people.Person](t)(tx.People()))
		_, err := tx.PersonNamed("somebody else")
		var e *act.Error
		require.ErrorAs(t, err, &e)
		require.Equal(t, act.NotFound, e.Kind)
		return nil
	})
}

// An open audit goes from version to version, a closed one and an old version go nowhere.
func TestAnAuditIsTouchedWhileItIsOpen(t *testing.T) {
	s := stocked(t)
	fresh := s.audit
	fresh.ID, fresh.Number, fresh.Subject.Receipt.Number = newID(), s.audit.Number+s.loneAudit.Number, 0
	write(t, s.db, func(tx allTx) error {
		require.NoError(t, tx.AddAudit(fresh))
		require.NoError(t, tx.TouchAudit(fresh.ID, 1))
		require.NoError(t, tx.TouchAudit(fresh.ID, 2))
		stored, err := tx.StoredAudit(fresh.ID)
		require.Equal(t, int64(3), stored.Audit.Version)
		require.Equal(t, audits.Open, stored.Audit.State)
		return err
	})
	for name, touch := range map[string]struct {
		id      string
		version int64
	}{"an old version": {fresh.ID, 2}, "a closed audit": {s.audit.ID, s.audit.Version}, "none": {newID(), 1}} {
		err := s.db.Write(context.Background(), func(tx orders.Tx) error { return tx.(allTx).TouchAudit(touch.id, touch.version) })
		var e *act.Error
		require.ErrorAs(t, err, &e, name)
		require.Equal(t, act.Conflict, e.Kind, name)
	}
}

// What was brought without money comes back without money, not as nothing in a currency.
func TestASettlementStepWithoutMoney(t *testing.T) {
	s := stocked(t)
	step := s.step
	step.Receipt, step.Closes, step.Given = 2, false, money.Money{}
	write(t, s.db, func(tx allTx) error {
		require.NoError(t, tx.AddSettlementStep(s.settlement.ID, step))
		settlements, err := tx.Settlements(s.order.ID)
		require.Equal(t, []orders.SettlementStep{step, s.step}, settlements[1].Steps, "by their receipts")
		return err
	})
}

// A database whose list of migrations can't be read, or that holds what a migration is to
// make, isn't opened and stays as it is.
func TestOpenRefusesASchemaItCannotFollow(t *testing.T) {
	for name, c := range map[string]struct{ sql, want string }{
		"no list of migrations to read": {"ALTER TABLE goose_db_version RENAME COLUMN version_id TO other", "reading the schema's version"},
		"a migration twice":             {"DELETE FROM goose_db_version WHERE version_id > 1", "bringing the schema up to date"},
	} {
		path := newPath(t)
		db, err := store.Open(context.Background(), path)
		require.NoError(t, err)
		require.NoError(t, db.Close())
		_, err = raw(t, path).Exec(c.sql)
		require.NoError(t, err)
		_, err = store.Open(context.Background(), path)
		require.ErrorContains(t, err, c.want, name)
		var orderTables int
		require.NoError(t, raw(t, path).QueryRow("SELECT count(*) FROM sqlite_master WHERE name = 'orders'").Scan(&orderTables))
		require.Equal(t, 1, orderTables, name)
	}
}

// A path from where one stands is told apart from a folder that is gone.
func TestOpenFromAFolderThatIsGone(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("only there can the folder one stands in be removed")
	}
	gone := filepath.Join(t.TempDir(), "gone")
	require.NoError(t, os.Mkdir(gone, 0o700))
	t.Chdir(gone)
	require.NoError(t, os.Remove(gone))
	_, err := store.Open(context.Background(), "shop.db")
	require.ErrorIs(t, err, os.ErrNotExist)
}
