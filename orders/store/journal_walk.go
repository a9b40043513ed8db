package store

import (
	"context"
	"database/sql"
	"errors"
	"maps"
	"slices"

	"wellstowed/orders/journal"
)

// mostFaults bounds how many faults of one kind are named.
const mostFaults = 1000

// WalkJournal holds the journal against itself and every stored row against it.
func (t tx) WalkJournal() (head journal.Act, faults []journal.Fault, err error) {
	under, plain := t.db.Statement.ConnPool.(sqlTx)
	if !plain {
		return head, nil, errors.New("the journal can’t be read through this connection")
	}
	ctx := t.db.Statement.Context
	w := walk{ctx: ctx, from: under, live: map[string]int{}}
	if err := w.chain(); err != nil {
		return head, nil, err
	}
	tables, err := t.says.tablesOf(ctx, under)
	if err != nil {
		return head, nil, err
	}
	for _, name := range slices.Sorted(maps.Keys(tables)) {
		if err := w.table(tables[name]); err != nil {
			return head, nil, err
		}
	}
	for table := range w.live {
		if _, known := tables[table]; !known {
			w.fault(journal.Fault{Why: journal.Missing, Table: table})
		}
	}
	return w.head, w.faults, w.named()
}

// A walk is one pass over the journal and all rows.
type walk struct {
	ctx    context.Context
	from   sqlTx
	head   journal.Act
	live   map[string]int // rows of each table that are there by the journal
	faults []journal.Fault
}

func (w *walk) fault(f journal.Fault) {
	if len(w.faults) < mostFaults {
		w.faults = append(w.faults, f)
	}
}

const actColumns = `a.id, a.at, a.person, a.session, a.verb, a.subject, a.request, a.rows_sha256, a.chain`

func scanAct(a *journal.Act, at *int64) []any {
	return []any{&a.ID, at, &a.Person, &a.Session, &a.Verb, &a.Subject, &a.Request, &a.Rows, &a.Chain}
}

// chain walks the acts with their changes, in order.
func (w *walk) chain() error {
	rows, err := w.from.QueryContext(w.ctx, `SELECT `+actColumns+`, coalesce(r.id, 0), coalesce(r.of_table, ''), coalesce(r.key, ''), coalesce(r.did, ''), coalesce(r.fields, ''), coalesce(r.before, ''), coalesce(r.after, ''),
		r.salt IS NOT NULL, coalesce(length(r.marks), 0) FROM journal_acts a LEFT JOIN journal_rows r ON r.act_id = a.id ORDER BY a.id, r.id`)
	if err != nil {
		return err
	}
	defer rows.Close()
	var now journal.Act
	hash, changes, lastChange := journal.NewRowsHash(), 0, int64(0)
	begun := false
	finish := func() {
		if begun {
			w.act(now, hash.Sum(), changes)
		}
	}
	for rows.Next() {
		var a journal.Act
		var c journal.Change
		var at, change int64
		var salted bool
		var marks int
		if err := rows.Scan(append(scanAct(&a, &at), &change, &c.Table, &c.Key, &c.Did, &c.Fields, &c.Before, &c.After, &salted, &marks)...); err != nil {
			return err
		}
		a.At = instant(at)
		if !begun || a.ID != now.ID {
			finish()
			now, hash, changes, begun = a, journal.NewRowsHash(), 0, true
		}
		if change == 0 {
			continue
		}
		if change != lastChange+1 || salted != (marks > 0) {
			w.fault(journal.Fault{Why: journal.Rewrote, Act: a, Table: c.Table, Key: c.Key})
		}
		lastChange = change
		hash.Add(c)
		changes++
		if salted {
			w.live[c.Table]++
		}
	}
	finish()
	if !begun {
		w.fault(journal.Fault{Why: journal.Unbegun})
	}
	return errors.Join(rows.Err(), w.astray(), w.salts())
}

// act holds an act against the one before it and its own changes.
func (w *walk) act(a journal.Act, rows string, changes int) {
	if a.ID != w.head.ID+1 {
		w.fault(journal.Fault{Why: journal.Lacks, Act: journal.Act{ID: w.head.ID + 1, At: a.At}, To: a.ID - 1})
	}
	if rows != a.Rows || changes == 0 || a.Link(w.head.Chain) != a.Chain {
		w.fault(journal.Fault{Why: journal.Rewrote, Act: a})
	}
	w.head = a
}

// astray finds changes that belong to no act.
func (w *walk) astray() error {
	return w.each(`SELECT r.of_table, r.key FROM journal_rows r WHERE NOT EXISTS (SELECT 1 FROM journal_acts a WHERE a.id = r.act_id) LIMIT 20`, journal.Astray)
}

// salts finds rows whose newest change can't be held against them, and older changes from
// which something could be guessed still.
func (w *walk) salts() error {
	return w.each(`SELECT r.of_table, r.key FROM journal_rows r WHERE (r.salt IS NOT NULL) <>
		(r.did <> 'gone' AND NOT EXISTS (SELECT 1 FROM journal_rows n WHERE n.of_table = r.of_table AND n.key = r.key AND n.id > r.id)) LIMIT 20`, journal.Unsalted)
}

func (w *walk) each(query string, why journal.Why, args ...any) error {
	rows, err := w.from.QueryContext(w.ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		f := journal.Fault{Why: why}
		if err := rows.Scan(&f.Table, &f.Key); err != nil {
			return err
		}
		w.fault(f)
	}
	return rows.Err()
}

// table holds the rows of a table against the journal.
func (w *walk) table(t table) error {
	found, err := compare(w.ctx, w.from, t, w.fault)
	if err != nil || found == w.live[t.name] {
		return err
	}
	keys := make([]string, len(t.key))
	for i, at := range t.key {
		keys[i] = `CAST(t."` + t.columns[at] + `" AS TEXT)`
	}
	key := keys[0]
	for _, more := range keys[1:] {
		key += " || '/' || " + more
	}
	return w.each(`SELECT ?, key FROM (SELECT key FROM journal_rows WHERE of_table = ? AND salt IS NOT NULL EXCEPT SELECT `+key+` FROM `+t.source()+`) lacking LIMIT 20`,
		journal.Missing, t.name, t.name)
}

// compare holds each row of a table against its newest change, and tells how many have one
// that says that they are there.
func compare(ctx context.Context, from sqlTx, t table, fault func(journal.Fault)) (found int, err error) {
	var k kept
	place := t.places(&k.id, &k.did, &k.after, &k.salt, &k.marks)
	rows, err := from.QueryContext(ctx, t.all)
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	for rows.Next() {
		if err := rows.Scan(place.into...); err != nil {
			return found, err
		}
		f := journal.Fault{Table: t.name, Key: keyText(t.keyOf(place.got)), Why: journal.Altered}
		if k.id == 0 || k.did == journal.Gone {
			f.Why = journal.Unknown
			fault(f)
			continue
		}
		if k.salt != nil {
			found++
		}
		after, marks := t.hash(k.salt, f.Key, place.got)
		f.Fields = t.differing(k.marks, marks)
		if after != k.after || !slices.Equal(k.marks, marks) {
			fault(f)
		}
	}
	return found, rows.Err()
}

// named adds to each fault of a row who wrote the row last, and which order or audit it is
// about.
func (w *walk) named() error {
	for i := range w.faults {
		f := &w.faults[i]
		if f.Key == "" {
			continue
		}
		var at int64
		err := w.from.QueryRowContext(w.ctx, `SELECT `+actColumns+` FROM journal_acts a JOIN journal_rows r ON r.act_id = a.id
			WHERE r.of_table = ? AND r.key = ? ORDER BY r.id DESC LIMIT 1`, f.Table, f.Key).Scan(scanAct(&f.Act, &at)...)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		f.Act.At = instant(at)
		if err := w.about(f); err != nil {
			return err
		}
	}
	return nil
}

// belongs is where the id of an order or audit stands in a row of a table.
var belongs = map[string]struct{ of, number string }{
	"orders":           {"order", `SELECT number FROM orders WHERE id = ?`},
	"customers":        {"order", `SELECT number FROM orders WHERE customer_id = ? ORDER BY number LIMIT 1`},
	"payments":         {"order", `SELECT o.number FROM orders o JOIN payments x ON x.order_id = o.id WHERE x.id = ?`},
	"loads":            {"order", `SELECT o.number FROM orders o JOIN loads x ON x.order_id = o.id WHERE x.id = ?`},
	"tallies":          {"order", `SELECT o.number FROM orders o JOIN tallies x ON x.order_id = o.id WHERE x.id = ?`},
	"moistures":        {"order", `SELECT o.number FROM orders o JOIN moistures x ON x.order_id = o.id WHERE x.id = ?`},
	"settlements":      {"order", `SELECT o.number FROM orders o JOIN settlements x ON x.order_id = o.id WHERE x.id = ?`},
	"receipts":         {"receipt", `SELECT number FROM receipts WHERE number = ?`},
	"sheets":           {"sheet", `SELECT number FROM sheets WHERE number = ?`},
	"audits":           {"audit", `SELECT number FROM audits WHERE id = ?`},
	"audit_reports":    {"audit", `SELECT number FROM audits WHERE id = ?`},
	"customer_records": {"", ``},
}

// about finds the order, paper or audit that a row belongs to: by the row, or where it is
// gone by what the act that wrote it was about.
func (w *walk) about(f *journal.Fault) error {
	for _, try := range []struct{ of, query, arg string }{
		{belongs[f.Table].of, belongs[f.Table].number, f.Key},
		{"order", belongs["orders"].number, f.Act.Subject},
		{"audit", belongs["audits"].number, f.Act.Subject},
	} {
		if try.query == "" || try.arg == "" {
			continue
		}
		err := w.from.QueryRowContext(w.ctx, try.query, try.arg).Scan(&f.Number)
		if err == nil {
			f.Of = try.of
			return nil
		}
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
	}
	return nil
}
