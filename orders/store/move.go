package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"time"

	"wellstowed/orders/journal"
	server "wellstowed/orders/postgres"
)

// ErrNotEmpty tells that a database is there already where one was to be made.
var ErrNotEmpty = errors.New("a database is there already, and is left as it is")

// MoveTo writes all rows that a view reads into a new database: a file, or a database on a
// server in which no shop was begun. The journal goes along whole, with one act more: that
// the tables themselves are others. What was begun and failed leaves no rows.
func (v *View) MoveTo(ctx context.Context, name string) (err error) {
	to, begun, err := vacant(ctx, name)
	if err != nil {
		return err
	}
	defer func() {
		err = errors.Join(err, to.Close())
		if err != nil && begun != "" {
			for _, end := range []string{"", "-wal", "-shm"} {
				_ = os.Remove(begun + end)
			}
		}
	}()
	from, err := v.pool.BeginTx(ctx, v.says.reading())
	if err != nil {
		return err
	}
	defer from.Rollback()
	into, err := to.pool.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer into.Rollback()
	m := move{ctx: ctx, from: from, into: into, says: to.says, tables: to.tables}
	if err := m.all(); err != nil {
		return err
	}
	return into.Commit()
}

// vacant opens the new database; begun is the file that was made for it.
func vacant(ctx context.Context, name string) (db *DB, begun string, err error) {
	if !server.Is(name) {
		if _, err := os.Lstat(name); !errors.Is(err, os.ErrNotExist) {
			return nil, "", errors.Join(ErrNotEmpty, err)
		}
		db, err = Open(ctx, name)
		return db, name, err
	}
	at, err := server.At(name)
	if err != nil {
		return nil, "", err
	}
	if used, err := inUse(ctx, at); err != nil || used {
		if used {
			err = ErrNotEmpty
		}
		return nil, "", err
	}
	db, err = openServer(ctx, name)
	return db, "", err
}

// inUse tells whether there are tables on a server other than those of a shop in which
// nothing was ever saved.
func inUse(ctx context.Context, at server.Server) (used bool, err error) {
	pool := at.Pool()
	defer pool.Close()
	var tables, journals int
	err = pool.QueryRowContext(ctx, `SELECT count(*), count(*) FILTER (WHERE tablename = 'journal_acts') FROM pg_tables WHERE schemaname = current_schema()`).Scan(&tables, &journals)
	if err != nil || tables == 0 {
		return false, err
	}
	if journals == 0 {
		return true, nil
	}
	err = pool.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM journal_acts WHERE verb <> 'tables')`).Scan(&used)
	return used, err
}

// A move is the moving of all rows from one transaction into another.
type move struct {
	ctx    context.Context
	from   *sql.Tx
	into   *sql.Tx
	says   dialect // of the new database
	tables map[string]table
}

// ofTheDatabase are the tables whose rows each database has of its own.
var ofTheDatabase = []string{theSchema, theServerSchema, versions}

func (m move) all() error {
	order, err := m.inOrder()
	if err != nil {
		return err
	}
	for _, name := range slices.Backward(order) { // what a new shop begins with
		if _, err := m.into.ExecContext(m.ctx, `DELETE FROM "`+name+`"`); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	for _, name := range order {
		if err := m.table(name); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return m.journal()
}

// references asks which table names which by a foreign key.
func (d dialect) references() string {
	if d == postgresSQL {
		return `SELECT DISTINCT c.relname::text, p.relname::text FROM pg_constraint k JOIN pg_class c ON c.oid = k.conrelid JOIN pg_class p ON p.oid = k.confrelid
			WHERE k.contype = 'f' AND c.relnamespace = current_schema()::regnamespace`
	}
	return `SELECT DISTINCT m.name, k."table" FROM sqlite_schema m JOIN pragma_foreign_key_list(m.name) k WHERE m.type = 'table'`
}

// inOrder are all tables that move, each after those that it names.
func (m move) inOrder() (order []string, err error) {
	names := map[string][]string{"journal_acts": nil, "journal_rows": nil}
	for name := range m.tables {
		if !slices.Contains(ofTheDatabase, name) {
			names[name] = nil
		}
	}
	rows, err := m.into.QueryContext(m.ctx, m.says.references())
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var child, parent string
		if err := rows.Scan(&child, &parent); err != nil {
			return nil, err
		}
		if child != parent {
			names[child] = append(names[child], parent)
		}
	}
	var place func(string)
	place = func(name string) {
		if slices.Contains(order, name) {
			return
		}
		for _, parent := range names[name] {
			place(parent)
		}
		order = append(order, name)
	}
	for _, name := range slices.Sorted(maps.Keys(names)) {
		place(name)
	}
	return order, rows.Err()
}

// How much is written by one statement: rows, and about so many bytes.
const (
	rowsAtOnce  = 100
	bytesAtOnce = 4 << 20
)

// table moves the rows of a table, by their key: ids are in the order of their making, so
// that a row that names another of its table comes after it.
func (m move) table(name string) error {
	columns, key := m.tables[name].columns, []string{"id"}
	if own, known := m.tables[name]; known {
		key = key[:0]
		for _, at := range own.key {
			key = append(key, own.columns[at])
		}
	} else {
		columns = journalColumns[name]
	}
	list := `"` + strings.Join(columns, `", "`) + `"`
	rows, err := m.from.QueryContext(m.ctx, `SELECT `+list+` FROM "`+name+`" ORDER BY "`+strings.Join(key, `", "`)+`"`)
	if err != nil {
		return err
	}
	defer rows.Close()
	into := `INSERT INTO "` + name + `" (` + list + `) VALUES `
	one := "(" + strings.TrimSuffix(strings.Repeat("?, ", len(columns)), ", ") + ")"
	var values []any
	size := 0
	flush := func() error {
		if len(values) == 0 {
			return nil
		}
		n := len(values) / len(columns)
		_, err := m.into.ExecContext(m.ctx, into+strings.TrimSuffix(strings.Repeat(one+", ", n), ", "), values...)
		values, size = values[:0], 0
		return err
	}
	for rows.Next() {
		place := table{columns: columns}.places()
		if err := rows.Scan(place.into...); err != nil {
			return err
		}
		for i, value := range place.got {
			if b, big := value.([]byte); big {
				size += len(b)
				place.got[i] = append([]byte{}, b...) // none are read as nil, which is written as null
			}
		}
		values = append(values, place.got...)
		if len(values) >= rowsAtOnce*len(columns) || size >= bytesAtOnce {
			if err := flush(); err != nil {
				return err
			}
		}
	}
	return errors.Join(rows.Err(), flush())
}

// journalColumns are those of the journal's own tables.
var journalColumns = map[string][]string{
	"journal_acts": {"id", "at", "person", "session", "verb", "subject", "request", "rows_sha256", "chain"},
	"journal_rows": {"id", "act_id", "of_table", "key", "did", "fields", "before", "after", "salt", "marks"},
}

// journal writes down what each database has of its own: that the one's is gone, and the
// other's is as it is.
func (m move) journal() error {
	b, err := bookOf(m.ctx, m.into)
	if err != nil {
		return err
	}
	defer b.close()
	for _, name := range ofTheDatabase {
		there := map[string]bool{}
		if t, has := m.tables[name]; has {
			if there, err = b.keys(m.ctx, t); err != nil {
				return err
			}
			if err := b.table(m.ctx, t, nil); err != nil {
				return err
			}
		}
		if err := b.leave(m.ctx, name, there); err != nil {
			return err
		}
	}
	schema, err := newestSchema()
	if err != nil {
		return err
	}
	return b.end(journal.Act{At: time.Now(), Verb: journal.Tables, Subject: strconv.FormatInt(schema, 10)})
}

// keys are those of all rows of a table that the database has of its own.
func (b *book) keys(ctx context.Context, t table) (map[string]bool, error) {
	return b.texts(ctx, "SELECT CAST("+t.columns[t.key[0]]+" AS TEXT) FROM "+t.source())
}

// leave writes down that all rows of a table but some are gone.
func (b *book) leave(ctx context.Context, name string, but map[string]bool) error {
	known, err := b.texts(ctx, `SELECT key FROM journal_rows WHERE of_table = ? AND salt IS NOT NULL`, name)
	if err != nil {
		return err
	}
	for _, key := range slices.Sorted(maps.Keys(known)) {
		if but[key] {
			continue
		}
		was, err := b.newest(name, key)
		if err == nil {
			err = b.gone(touched{table: table{name: name}, key: key}, was)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (b *book) texts(ctx context.Context, query string, args ...any) (map[string]bool, error) {
	rows, err := b.tx.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	all := map[string]bool{}
	for rows.Next() {
		var text string
		if err := rows.Scan(&text); err != nil {
			return nil, err
		}
		all[text] = true
	}
	return all, rows.Err()
}
