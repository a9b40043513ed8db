package store_test

import (
	"context"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/journal"
	"wellstowed/orders/postgres/servertest"
	"wellstowed/orders/proof"
	"wellstowed/orders/store"
)

// walked is what the journal of a file finds.
func walked(t *testing.T, path string) (head journal.Act, faults []journal.Fault) {
	t.Helper()
	v, err := store.OpenToRead(context.Background(), path)
	require.NoError(t, err)
	defer v.Close()
	require.NoError(t, v.Proving().Read(context.Background(), func(tx proof.Tx) (err error) {
		head, faults, err = tx.WalkJournal()
		return err
	}))
	return head, faults
}

// refusesSchema tells whether a file isn't opened, since its schema is said to be another.
func refusesSchema(path string) bool {
	v, err := store.OpenToRead(context.Background(), path)
	if err == nil {
		v.Close()
		return false
	}
	return strings.Contains(err.Error(), "the database has schema ")
}

// stockedFile is a closed database in which one of everything was put.
func stockedFile(t *testing.T) (path string, content []byte) {
	t.Helper()
	servertest.FileOnly(t)
	s := stocked(t)
	require.NoError(t, s.db.Close())
	content, err := os.ReadFile(s.path)
	require.NoError(t, err)
	return s.path, content
}

// tampered changes a file as somebody does who has it and SQLite.
func tampered(t *testing.T, path string, statements ...string) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	defer db.Close()
	for _, statement := range append([]string{"PRAGMA foreign_keys = 0; PRAGMA ignore_check_constraints = 1; PRAGMA writable_schema = 1"}, statements...) {
		_, err = db.Exec(statement)
		require.NoError(t, err, statement)
	}
}

// An edit is one change of one value.
type edit struct{ table, column, where, statement string }

// edits draws changes of one value each: any row of any table, any column of it.
func edits(t *testing.T, path string, n int, seed uint64) (drawn []edit) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path)
	require.NoError(t, err)
	defer db.Close()
	var columns [][2]string
	rows, err := db.Query(`SELECT m.name, c.name FROM sqlite_schema m JOIN pragma_table_info(m.name) c WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite\_%' ESCAPE '\' ORDER BY 1, c.cid`)
	require.NoError(t, err)
	for rows.Next() {
		var c [2]string
		require.NoError(t, rows.Scan(&c[0], &c[1]))
		columns = append(columns, c)
	}
	require.NoError(t, rows.Close())
	random := rand.New(rand.NewPCG(seed, 1))
	for len(drawn) < n {
		c := columns[random.IntN(len(columns))]
		var count, row int64
		var kind, declared string
		require.NoError(t, db.QueryRow(`SELECT count(*) FROM "`+c[0]+`"`).Scan(&count))
		if count == 0 {
			continue
		}
		require.NoError(t, db.QueryRow(fmt.Sprintf(`SELECT t.rowid, typeof(t."%s"), (SELECT type FROM pragma_table_info('%s') WHERE name = '%s') FROM "%s" t LIMIT 1 OFFSET %d`,
			c[1], c[0], c[1], c[0], random.Int64N(count))).Scan(&row, &kind, &declared))
		to := map[string]string{"integer": `"%[1]s" + 1 + abs(random() %% 1000)`, "text": `"%[1]s" || 'x'`, "blob": `CAST("%[1]s" || x'07' AS BLOB)`}[kind]
		if kind == "null" {
			to = map[string]string{"INTEGER": "7", "TEXT": "'x'", "BLOB": "x'07'"}[declared]
		}
		require.NotEmpty(t, to, "%v holds %s", c, kind)
		if strings.Contains(to, "%[") {
			to = fmt.Sprintf(to, c[1])
		}
		where := fmt.Sprintf("rowid = %d", row)
		drawn = append(drawn, edit{c[0], c[1], where, fmt.Sprintf(`UPDATE "%s" SET "%s" = %s WHERE %s`, c[0], c[1], to, where)})
	}
	return drawn
}

// Any value of any table that is changed from outside is named: of an ordinary table with
// its row and field, of the journal itself by the journal.
func TestEveryEditOfAnyColumnIsNamed(t *testing.T) {
	n := 60
	if os.Getenv("WELLSTOWED_FULL") != "" {
		n = 1000
	}
	path, content := stockedFile(t)
	_, none := walked(t, path)
	require.Empty(t, none)
	for i, e := range edits(t, path, n, 20261128) {
		copied := filepath.Join(t.TempDir(), "shop.db")
		require.NoError(t, os.WriteFile(copied, content, 0o600))
		tampered(t, copied, e.statement)
		if e.table == "goose_db_version" && refusesSchema(copied) {
			continue
		}
		_, faults := walked(t, copied)
		require.NotEmpty(t, faults, "edit %d: %s", i, e.statement)
		if strings.HasPrefix(e.table, "journal_") || e.table == "goose_db_version" {
			continue
		}
		named := false
		for _, f := range faults {
			named = named || f.Table == e.table && (f.Why != journal.Altered || strings.Join(f.Fields, ",") == e.column)
		}
		require.True(t, named, "edit %d: %s: %+v", i, e.statement, faults)
	}
}

// Rows that were put in, taken out or moved, tables that lost a constraint, and a journal
// that was cut, are named.
func TestWhatElseIsDoneToAFileIsNamed(t *testing.T) {
	path, content := stockedFile(t)
	head, _ := walked(t, path)
	for name, row := range map[string]struct {
		statements []string
		why        journal.Why
		table      string
	}{
		"a payment taken out":   {[]string{`DELETE FROM payments WHERE rowid = (SELECT min(rowid) FROM payments)`}, journal.Missing, "payments"},
		"a row put in":          {[]string{`INSERT INTO counters VALUES ('other', 3)`}, journal.Unknown, "counters"},
		"a row in another's":    {[]string{`UPDATE counters SET name = 'other' WHERE name = (SELECT min(name) FROM counters)`}, journal.Unknown, "counters"},
		"a check taken out":     {[]string{`UPDATE sqlite_schema SET sql = replace(sql, 'CHECK (version >= 1)', '') WHERE name = 'orders'`}, journal.Altered, "sqlite_schema"},
		"a trigger put in":      {[]string{`CREATE TRIGGER taking AFTER INSERT ON payments BEGIN DELETE FROM payments; END`}, journal.Unknown, "sqlite_schema"},
		"a table emptied":       {[]string{`DELETE FROM tallies`}, journal.Missing, "tallies"},
		"the last act cut off":  {[]string{fmt.Sprintf(`DELETE FROM journal_rows WHERE act_id = %d`, head.ID), fmt.Sprintf(`DELETE FROM journal_acts WHERE id = %d`, head.ID)}, journal.Unknown, "orders"},
		"the first act cut off": {[]string{`DELETE FROM journal_rows WHERE act_id = 1`, `DELETE FROM journal_acts WHERE id = 1`}, journal.Lacks, ""},
		"the salt taken out":    {[]string{`UPDATE journal_rows SET salt = NULL, marks = x'' WHERE of_table = 'orders'`, `DELETE FROM orders`}, journal.Unsalted, "orders"},
		"no journal":            {[]string{`DELETE FROM journal_rows`, `DELETE FROM journal_acts`}, journal.Unbegun, ""},
	} {
		t.Run(name, func(t *testing.T) {
			copied := filepath.Join(t.TempDir(), "shop.db")
			require.NoError(t, os.WriteFile(copied, content, 0o600))
			tampered(t, copied, row.statements...)
			_, faults := walked(t, copied)
			found := false
			for _, f := range faults {
				found = found || f.Why == row.why && (row.table == "" || f.Table == row.table)
			}
			require.True(t, found, "%+v", faults)
		})
	}
}

// An act is written with who did it, in the transaction of what it did: one that is undone
// leaves nothing, and one that changes nothing is none.
func TestTheJournalIsOfTheSameTransaction(t *testing.T) {
	path, db := named(t, "Alder Bend")
	done := act.Done{Request: newID(), Verb: "change shop", Person: "Tam Birch", Session: newID(), At: time.UnixMicro(7).UTC(), Content: "c"}
	require.NoError(t, db.Write(t.Context(), func(tx orders.Tx) error {
		shop, err := tx.Shop()
		require.NoError(t, err)
		shop.Phone = "555 0100"
		require.NoError(t, tx.ChangeShop(shop))
		return tx.AddDone(done)
	}))
	require.ErrorContains(t, db.Write(t.Context(), func(tx orders.Tx) error {
		_, err := tx.NextNumber(orders.OrderNumbers)
		require.NoError(t, err)
		return fmt.Errorf("given up")
	}), "given up")
	require.NoError(t, db.Write(t.Context(), func(tx orders.Tx) error { return nil }))
	require.NoError(t, db.Close())
	head, faults := walked(t, path)
	require.Empty(t, faults)
	require.Equal(t, []string{"Tam Birch", "change shop", done.Request, done.Session}, []string{head.Person, head.Verb, head.Request, head.Session})
	require.Equal(t, done.At, head.At)
	var fields string
	require.NoError(t, raw(t, path).QueryRow(`SELECT fields FROM journal_rows WHERE act_id = ? AND of_table = 'shop'`, head.ID).Scan(&fields))
	require.Equal(t, "version,phone", fields)
}
