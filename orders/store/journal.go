package store

import (
	"context"
	"crypto/rand"
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"

	"gorm.io/gorm"
	"modernc.org/sqlite"

	"wellstowed/orders/act"
	"wellstowed/orders/journal"
)

// A touched row is one that a statement wrote to, by its key.
type touched struct {
	table table
	key   string
	by    []any // the key's values
}

// A watch keeps which rows one connection writes to. Every statement is seen, whoever made
// it; what came of the rows is read when the transaction ends, so that one that was undone
// leaves nothing.
type watch struct {
	tables map[string]table
	seen   map[string]bool
	rows   []touched
}

// watching has a connection tell a watch of each row, until stop is called.
func watching(conn *sql.Conn, tables map[string]table) (w *watch, stop func(), err error) {
	w = &watch{tables: tables, seen: map[string]bool{}}
	err = conn.Raw(func(driverConn any) error {
		switch c := driverConn.(type) {
		case interface{ RegisterPreUpdateHook(sqlite.PreUpdateHookFn) }:
			stop = onRaw(conn, func() { c.RegisterPreUpdateHook(nil) })
			c.RegisterPreUpdateHook(w.note)
		case interface {
			Watch(keys map[string][]string, tell func(table string, key []any))
		}:
			stop = onRaw(conn, func() { c.Watch(nil, nil) })
			c.Watch(keyColumns(tables), w.noteKey)
		default:
			return errors.New("the database driver tells nobody what it writes")
		}
		return nil
	})
	return w, stop, err
}

// onRaw does something to a connection that nothing else uses meanwhile.
func onRaw(conn *sql.Conn, do func()) func() {
	return func() {
		_ = conn.Raw(func(any) error {
			do()
			return nil
		})
	}
}

// keyColumns are the columns that a row of each table is known by.
func keyColumns(tables map[string]table) map[string][]string {
	keys := map[string][]string{}
	for name, t := range tables {
		for _, at := range t.key {
			keys[name] = append(keys[name], t.columns[at])
		}
	}
	return keys
}

// note is called before each row that is written.
func (w *watch) note(d sqlite.SQLitePreUpdateData) {
	t, kept := w.tables[d.TableName]
	if !kept || d.DatabaseName != "main" {
		return
	}
	for _, read := range []func(...any) error{d.Old, d.New} {
		values := make([]any, t.keyUpTo)
		if read(values...) != nil {
			continue // there is no such side
		}
		w.keep(t, t.keyOf(values))
	}
}

// noteKey is called after a statement for each row that it wrote.
func (w *watch) noteKey(table string, key []any) { w.keep(w.tables[table], key) }

func (w *watch) keep(t table, by []any) {
	row := touched{table: t, key: keyText(by), by: by}
	if at := t.name + "\x00" + row.key; !w.seen[at] {
		w.seen[at] = true
		w.rows = append(w.rows, row)
	}
}

// A pending act is what is known of the write that a transaction is, as its methods tell.
type pending struct{ act journal.Act }

// byRequest says that the write is what somebody asked for.
func (p *pending) byRequest(d act.Done) {
	p.act.At, p.act.Person, p.act.Session = d.At, d.Person, d.Session
	p.act.Verb, p.act.Subject, p.act.Request = string(d.Verb), d.Subject, d.Request
}

// unasked says what a write is that no request asked for, unless that is known already.
func (p *pending) unasked(at time.Time, person, verb string) {
	if p.act.Verb == "" {
		p.act.At, p.act.Person, p.act.Verb = at, person, verb
	}
}

// journaled runs do in a transaction and writes the rows that it changed into the journal,
// in the same transaction. It tells whether the transaction came to its commit, and what is
// known of the act.
func (db *DB) journaled(ctx context.Context, do func(tx) error) (committing bool, of *pending, err error) {
	of = &pending{}
	err = db.gorm.WithContext(ctx).Connection(func(g *gorm.DB) error {
		conn, single := g.Statement.ConnPool.(*sql.Conn)
		if !single {
			return errors.New("no connection of its own to write on")
		}
		w, stop, err := watching(conn, db.tables)
		if err != nil {
			return err
		}
		defer stop()
		return g.Transaction(func(g *gorm.DB) error {
			if err := db.says.alone(g); err != nil {
				return err
			}
			t := tx{db: g, says: db.says, pending: of}
			err := do(t)
			if err == nil {
				stop()
				err = t.journal(w.rows)
			}
			committing = err == nil
			return err
		})
	})
	return committing, of, err
}

// journal writes an act with the rows that it changed; nothing where no row did.
func (t tx) journal(rows []touched) error {
	if len(rows) == 0 {
		return nil
	}
	book, err := openBook(t.db)
	if err != nil {
		return err
	}
	defer book.close()
	for _, row := range rows {
		if err := book.row(row); err != nil {
			return fmt.Errorf("journal of %s: %w", row.table.name, err)
		}
	}
	return book.end(t.pending.act)
}

// A book is the journal as it is being written to by one act.
type book struct {
	tx      sqlTx
	last    journal.Act
	next    int64 // id of the next change
	changes journal.RowsHash
	wrote   int
	reads   map[string]*sql.Stmt
}

// sqlTx is a transaction below gorm, whose reading of rows by reflection is too slow here.
type sqlTx interface {
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
	PrepareContext(ctx context.Context, query string) (*sql.Stmt, error)
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
}

func openBook(g *gorm.DB) (*book, error) {
	under, plain := g.Statement.ConnPool.(sqlTx)
	if !plain {
		return nil, fmt.Errorf("the journal can’t be written through %T", g.Statement.ConnPool)
	}
	return bookOf(g.Statement.Context, under)
}

func bookOf(ctx context.Context, under sqlTx) (*book, error) {
	b := &book{tx: under, changes: journal.NewRowsHash(), reads: map[string]*sql.Stmt{}}
	var at int64
	err := under.QueryRowContext(ctx, `SELECT id, at, chain FROM journal_acts ORDER BY id DESC LIMIT 1`).Scan(&b.last.ID, &at, &b.last.Chain)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return nil, err
	}
	b.last.At = instant(at)
	return b, under.QueryRowContext(ctx, `SELECT coalesce(max(id), 0) + 1 FROM journal_rows`).Scan(&b.next)
}

func (b *book) close() {
	for _, s := range b.reads {
		_ = s.Close()
	}
}

// prepared is a statement that is prepared once for an act.
func (b *book) prepared(query string) (*sql.Stmt, error) {
	if s := b.reads[query]; s != nil {
		return s, nil
	}
	s, err := b.tx.PrepareContext(context.Background(), query)
	if err == nil {
		b.reads[query] = s
	}
	return s, err
}

// A kept change is a row's newest in the journal.
type kept struct {
	id    int64
	did   string
	after string
	salt  []byte
	marks []byte
}

const newestChange = `SELECT id, did, after, salt, marks FROM journal_rows WHERE of_table = ? AND key = ? ORDER BY id DESC LIMIT 1`

// newest is a row's newest change, the zero one where it has none.
func (b *book) newest(table, key string) (k kept, err error) {
	read, err := b.prepared(newestChange)
	if err != nil {
		return k, err
	}
	err = read.QueryRow(table, key).Scan(&k.id, &k.did, &k.after, &k.salt, &k.marks)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return k, err
}

// row writes down what came of a row that was touched, if anything.
func (b *book) row(r touched) error {
	was, err := b.newest(r.table.name, r.key)
	if err != nil {
		return err
	}
	read, err := b.prepared(r.table.byKey)
	if err != nil {
		return err
	}
	values := r.table.places()
	err = read.QueryRow(r.by...).Scan(values.into...)
	if errors.Is(err, sql.ErrNoRows) {
		return b.gone(r, was)
	}
	if err != nil {
		return err
	}
	return b.there(r.table, r.key, values.got, was)
}

// gone writes down that a row is no more there.
func (b *book) gone(r touched, was kept) error {
	if was.id == 0 || was.did == journal.Gone {
		return nil // it came and went in one act
	}
	return b.add(journal.Change{Table: r.table.name, Key: r.key, Did: journal.Gone, Before: was.after}, was.id, nil, nil)
}

// there writes down a row that is as it was not before.
func (b *book) there(t table, key string, values []any, was kept) error {
	c := journal.Change{Table: t.name, Key: key, Did: journal.Added}
	if was.id != 0 && was.did != journal.Gone {
		after, marks := t.hash(was.salt, key, values)
		if after == was.after {
			return nil
		}
		c.Did, c.Before, c.Fields = journal.Changed, was.after, strings.Join(t.differing(was.marks, marks), ",")
	}
	salt, err := newSalt()
	if err != nil {
		return err
	}
	var marks []byte
	c.After, marks = t.hash(salt, key, values)
	return b.add(c, was.id, salt, marks)
}

func newSalt() ([]byte, error) {
	salt := make([]byte, saltBytes)
	_, err := rand.Read(salt)
	return salt, err
}

const (
	addChange = `INSERT INTO journal_rows (id, act_id, of_table, key, did, fields, before, after, salt, marks) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`
	// dropSalt leaves of a change that another followed nothing that could be guessed from.
	dropSalt = `UPDATE journal_rows SET salt = NULL, marks = ? WHERE id = ?`
)

func (b *book) add(c journal.Change, former int64, salt, marks []byte) error {
	if b.wrote == 0 {
		if err := b.begin(); err != nil {
			return err
		}
	}
	if former != 0 {
		drop, err := b.prepared(dropSalt)
		if err == nil {
			_, err = drop.Exec([]byte{}, former)
		}
		if err != nil {
			return err
		}
	}
	write, err := b.prepared(addChange)
	if err != nil {
		return err
	}
	if marks == nil {
		marks = []byte{}
	}
	_, err = write.Exec(b.next, b.last.ID+1, c.Table, c.Key, c.Did, c.Fields, c.Before, c.After, salt, marks)
	b.changes.Add(c)
	b.next++
	b.wrote++
	return err
}

// noHash stands in an act until its changes are written.
var noHash = strings.Repeat("0", 64)

// begin makes place for the act, since its changes name it.
func (b *book) begin() error {
	_, err := b.tx.ExecContext(context.Background(), `INSERT INTO journal_acts (id, at, person, session, verb, subject, request, rows_sha256, chain)
		VALUES (?, 0, '', '', 'begun', '', '', ?, ?)`, b.last.ID+1, noHash, noHash)
	return err
}

// end links the act to the one before it.
func (b *book) end(a journal.Act) error {
	if b.wrote == 0 {
		return nil
	}
	a.ID, a.Rows = b.last.ID+1, b.changes.Sum()
	if a.Verb == "" {
		a.Verb = journal.ByItself
	}
	if a.At.IsZero() {
		a.At = b.last.At
	}
	a.Chain = a.Link(b.last.Chain)
	_, err := b.tx.ExecContext(context.Background(), `UPDATE journal_acts SET at = ?, person = ?, session = ?, verb = ?, subject = ?, request = ?, rows_sha256 = ?, chain = ?
		WHERE id = ?`, micros(a.At), a.Person, a.Session, a.Verb, a.Subject, a.Request, a.Rows, a.Chain, a.ID)
	return err
}
