package store_test

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/store"
)

// A call is a reading method of a transaction with arguments that it answers.
type call struct {
	method string
	args   []reflect.Value
}

func (c call) String() string {
	shown := make([]string, len(c.args))
	for i, a := range c.args {
		shown[i] = fmt.Sprint(a.Interface())
	}
	return c.method + "(" + strings.Join(shown, ", ") + ")"
}

// writes are the first words of methods that write.
var writes = regexp.MustCompile(`^(Add|Cancel|Change|Close|Drop|End[A-Z]|EraseNames|Keep|Mark|Move|NameOrder|Next|Use|Receive|Remove|Renew|Retire|Save|Strike|Touch|Withdraw)`)

// answered makes a call, and gives its answer written out.
func (c call) answered(db *store.DB) (answer string, err error) {
	err = db.Read(context.Background(), func(tx orders.Tx) error {
		out := reflect.ValueOf(tx).MethodByName(c.method).Call(c.args)
		if failed, ok := out[len(out)-1].Interface().(error); ok && failed != nil {
			return failed
		}
		for _, o := range out[:len(out)-1] {
			answer += fmt.Sprintf("%#v\n", pointed(o))
		}
		return nil
	})
	return answer, err
}

// pointed is what a pointer points to, so that answers are held by what they say.
func pointed(v reflect.Value) any {
	if v.Kind() == reflect.Pointer && !v.IsNil() {
		v = v.Elem()
	}
	return spelled(v)
}

// spelled is a value without addresses.
func spelled(v reflect.Value) any {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return nil
		}
		return spelled(v.Elem())
	case reflect.Slice, reflect.Array:
		list := make([]any, v.Len())
		for i := range list {
			list[i] = spelled(v.Index(i))
		}
		return list
	case reflect.Struct:
		if at, ok := v.Interface().(time.Time); ok {
			return at.UnixMicro()
		}
		var list []any
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				list = append(list, v.Type().Field(i).Name, spelled(v.Field(i)))
			}
		}
		return list
	}
	return v.Interface()
}

// calls are all reading methods with all arguments that lead to an answer.
func (s *shelf) calls() map[string]call {
	texts := []any{s.order.ID, s.cancelled.ID, s.batch.ID, s.body.ID, s.payment.ID, s.audit.ID, s.loneAudit.ID, s.measurer.ID, s.photo.ID,
		s.buyersCase.ID, s.ownCase.ID, s.link.CodeHash, s.done.Request, string(s.renewedCode), s.taken.ID, s.settlement.ID, s.person.ID, s.person.Name, s.entryCode.Hash,
		audits.SellerKey(s.loneAudit.Subject.Vendor.Name), "receipt", "sheet", "audit", "order", "case"}
	numbers := []any{0, 1, s.sheet.Number, 1 << 40}
	found := map[string]call{}
	var tx reflect.Type
	s.must(s.db.Read(context.Background(), func(t orders.Tx) error { tx = reflect.TypeOf(t); return nil }))
	for i := range tx.NumMethod() {
		m := tx.Method(i)
		if writes.MatchString(m.Name) || m.Type.NumOut() == 0 || m.Type.Out(m.Type.NumOut()-1) != reflect.TypeFor[error]() {
			continue
		}
		for _, args := range arguments(m.Type, texts, numbers, []reflect.Value{reflect.ValueOf(s.plan.Day)}) {
			c := call{m.Name, args}
			if answer, err := c.answered(s.db); err == nil && answer != "" {
				found[c.String()] = c
			}
		}
	}
	return found
}

// arguments are all lists of arguments that a method can be given.
func arguments(method reflect.Type, texts, numbers []any, dates []reflect.Value) [][]reflect.Value {
	lists := [][]reflect.Value{nil}
	for n := 1; n < method.NumIn(); n++ {
		in := method.In(n)
		var values []reflect.Value
		switch {
		case in == reflect.TypeFor[time.Time]():
			values = []reflect.Value{reflect.ValueOf(time.UnixMicro(1 << 50).UTC())}
		case in == reflect.TypeFor[act.Date]():
			values = dates
		case in == reflect.TypeFor[orders.Record]():
			for _, kind := range []orders.RecordKind{"order", "wish", "case", "audit"} {
				for _, id := range texts {
					values = append(values, reflect.ValueOf(orders.Record{Kind: kind, ID: id.(string)}))
				}
			}
		case in.Kind() == reflect.String:
			values = converted(texts, in)
		case in.Kind() == reflect.Int64, in.Kind() == reflect.Int:
			values = converted(numbers, in)
		case in.Kind() == reflect.Bool:
			values = converted([]any{true, false}, in)
		}
		var longer [][]reflect.Value
		for _, list := range lists {
			for _, v := range values {
				longer = append(longer, append(slices.Clone(list), v))
			}
		}
		lists = longer
	}
	return lists
}

func converted(values []any, to reflect.Type) (all []reflect.Value) {
	for _, v := range values {
		all = append(all, reflect.ValueOf(v).Convert(to))
	}
	return all
}

// A damage is one that was done to a file from outside.
type damage struct{ name, sql string }

// damages take away each table, and spoil each column that holds JSON or a day.
func damages(t *testing.T, path string) (all []damage) {
	db := raw(t, path)
	rows, err := db.Query(`SELECT m.name, c.name FROM sqlite_schema m JOIN pragma_table_info(m.name) c
		WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%' AND m.name <> 'goose_db_version' ORDER BY m.name, c.cid`)
	require.NoError(t, err)
	defer rows.Close()
	tables := map[string][]string{}
	for rows.Next() {
		var table, column string
		require.NoError(t, rows.Scan(&table, &column))
		tables[table] = append(tables[table], column)
	}
	require.NoError(t, rows.Err())
	for _, table := range slices.Sorted(maps.Keys(tables)) {
		all = append(all, damage{"no " + table, "PRAGMA legacy_alter_table=1; ALTER TABLE " + table + " RENAME TO gone"})
		for _, column := range tables[table] {
			var parsed int
			require.NoError(t, db.QueryRow(`SELECT count(*) FROM `+table+` WHERE typeof(`+column+`) = 'text' AND
				(`+column+` GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]' OR substr(`+column+`, 1, 1) IN ('{', '['))`).Scan(&parsed))
			if parsed > 0 {
				all = append(all, damage{table + "." + column, "PRAGMA ignore_check_constraints=1; UPDATE " + table + " SET " + column + " = '?'"})
			}
		}
	}
	return all
}

// asStored are readings that give what lies there unread, for those to find who hold it
// against something: papers, what was written down at an audit. What is looked for by a key
// that is damaged isn't found; verify, which reads every row, names it.
func asStored(d damage, c call) bool {
	for spoiled, method := range map[string]string{"loads.": "StoredReceipt", "tallies.": "StoredSheet", "audit_entries.body": "StoredAudit", "journal_rows.key": "JournalOf", "road_plans.day": "Plan"} {
		if strings.HasPrefix(d.name, spoiled) && strings.HasPrefix(c.method, method) {
			return true
		}
	}
	return false
}

// A damaged file is never read as something else: where a table is gone or what lies in
// it can't be understood, a reading says so, or it is one that does not need it and
// answers as before.
func TestADamagedFileIsNeverReadAsSomethingElse(t *testing.T) {
	s := stocked(t)
	calls := s.calls()
	require.Greater(t, len(calls), 60)
	whole := map[string]string{}
	for name, c := range calls {
		answer, err := c.answered(s.db)
		require.NoError(t, err)
		whole[name] = answer
	}
	_, err := raw(t, s.path).Exec(`PRAGMA wal_checkpoint(TRUNCATE)`)
	require.NoError(t, err)
	file, err := os.ReadFile(s.path)
	require.NoError(t, err)
	for _, d := range damages(t, s.path) {
		t.Run(d.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "shop.db")
			require.NoError(t, os.WriteFile(path, file, 0o600))
			_, err := raw(t, path).Exec(d.sql)
			require.NoError(t, err)
			db, err := store.Open(t.Context(), path)
			if err != nil {
				require.ErrorContains(t, err, strings.TrimPrefix(d.name, "no "), "it says what is gone")
				return
			}
			t.Cleanup(func() { require.NoError(t, db.Close()) })
			noticed := 0
			for name, c := range calls {
				if c.method == "Damage" || c.method == "WalkJournal" { // they are what names damage
					continue
				}
				answer, err := c.answered(db)
				if err != nil {
					noticed++
					continue
				}
				if answer != whole[name] && !asStored(d, c) {
					t.Errorf("%s answers %s, whole it is %s", name, answer, whole[name])
				}
			}
			if strings.HasPrefix(d.name, "no ") {
				require.Positive(t, noticed, "nothing reads this table")
			}
		})
	}
}

// Who waits to write and gives up is told, and writes nothing.
func TestAWriterThatGaveUpWritesNothing(t *testing.T) {
	db := open(t, newPath(t))
	ctx, giveUp := context.WithCancel(context.Background())
	write(t, db, func(allTx) error {
		giveUp()
		require.ErrorIs(t, db.Write(ctx, func(orders.Tx) error { return errors.New("it ran") }), context.Canceled)
		return nil
	})
	_, err := store.Open(ctx, newPath(t))
	require.ErrorIs(t, err, context.Canceled)
}
