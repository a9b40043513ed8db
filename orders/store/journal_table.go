package store

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

// A table is one whose rows the journal holds, with how a row is read and hashed.
type table struct {
	name    string
	from    string // what its rows are read from; empty where that is the name
	columns []string
	key     []int // places of the key's columns
	keyUpTo int   // how many columns hold the key
	byKey   string
	all     string // reads every row with its newest change
	after   string // of all, those after a key
	inOrder string // of all, by key
}

const (
	saltBytes = 16
	markBytes = 8
)

// The names under which the journal keeps the tables, indexes and views themselves, so that
// a constraint that was taken out is named as well.
const (
	theSchema       = "sqlite_schema"
	theServerSchema = "postgres_schema"
)

// sqliteColumns reads the columns of all tables but the journal's and SQLite's own, and
// whether each belongs to the key: the primary one, and where there is none what is unique.
const sqliteColumns = `SELECT m.name, c.name, CASE WHEN EXISTS (SELECT 1 FROM pragma_table_info(m.name) WHERE pk > 0) THEN c.pk
		ELSE EXISTS (SELECT 1 FROM pragma_index_list(m.name) i, pragma_index_info(i.name) u WHERE i."unique" = 1 AND u.name = c.name) END
	FROM sqlite_schema m JOIN pragma_table_info(m.name) c
	WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite\_%' ESCAPE '\' AND m.name NOT IN ('journal_acts', 'journal_rows') ORDER BY m.name, c.cid`

// serverColumns reads the same of PostgreSQL.
const serverColumns = `SELECT c.relname::text, a.attname::text, EXISTS (SELECT 1 FROM pg_index i WHERE i.indrelid = c.oid AND a.attnum = ANY (i.indkey)
		AND CASE WHEN EXISTS (SELECT 1 FROM pg_index p WHERE p.indrelid = c.oid AND p.indisprimary) THEN i.indisprimary ELSE i.indisunique END)
	FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace JOIN pg_attribute a ON a.attrelid = c.oid
	WHERE n.nspname = current_schema() AND c.relkind IN ('r', 'p') AND a.attnum > 0 AND NOT a.attisdropped AND c.relname NOT IN ('journal_acts', 'journal_rows')
	ORDER BY c.relname::text COLLATE "C", a.attnum`

// serverSchema is how PostgreSQL says what tables, constraints, indexes and views there are.
const serverSchema = `(
	SELECT 'column ' || c.relname || '.' || a.attname AS name, 'column' AS type, c.relname::text AS tbl_name,
		concat_ws(' ', format_type(a.atttypid, a.atttypmod), (SELECT l.collname FROM pg_collation l WHERE l.oid = a.attcollation), CASE WHEN a.attnotnull THEN 'NOT NULL' END, pg_get_expr(f.adbin, f.adrelid)) AS sql
	FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid LEFT JOIN pg_attrdef f ON f.adrelid = c.oid AND f.adnum = a.attnum
	WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind IN ('r', 'p', 'v') AND a.attnum > 0 AND NOT a.attisdropped
	UNION ALL SELECT 'constraint ' || c.relname || '.' || k.conname, 'constraint', c.relname::text, pg_get_constraintdef(k.oid, true)
	FROM pg_class c JOIN pg_constraint k ON k.conrelid = c.oid WHERE c.relnamespace = current_schema()::regnamespace
	UNION ALL SELECT 'index ' || i.relname, 'index', c.relname::text, pg_get_indexdef(x.indexrelid, 0, true)
	FROM pg_class c JOIN pg_index x ON x.indrelid = c.oid JOIN pg_class i ON i.oid = x.indexrelid WHERE c.relnamespace = current_schema()::regnamespace
	UNION ALL SELECT 'view ' || c.relname, 'view', c.relname::text, pg_get_viewdef(c.oid, true)
	FROM pg_class c WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind = 'v'
	UNION ALL SELECT 'trigger ' || c.relname || '.' || g.tgname, 'trigger', c.relname::text, pg_get_triggerdef(g.oid, true)
	FROM pg_class c JOIN pg_trigger g ON g.tgrelid = c.oid WHERE c.relnamespace = current_schema()::regnamespace AND NOT g.tgisinternal)`

// tablesOf are the tables whose rows the journal holds: all but its own and SQLite's. A row
// is known by its primary key, and where there is none by what is unique.
func (d dialect) tablesOf(ctx context.Context, from sqlTx) (map[string]table, error) {
	columns, schema := sqliteColumns, table{name: theSchema, from: `(SELECT * FROM sqlite_schema WHERE name NOT LIKE 'sqlite\_%' ESCAPE '\')`}
	if d == postgresSQL {
		columns, schema = serverColumns, table{name: theServerSchema, from: serverSchema}
	}
	rows, err := from.QueryContext(ctx, columns)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	tables := map[string]table{}
	for rows.Next() {
		var name, column string
		var pk int
		if err := rows.Scan(&name, &column, &pk); err != nil {
			return nil, err
		}
		t := tables[name]
		t.name = name
		if pk > 0 {
			t.key = append(t.key, len(t.columns))
			t.keyUpTo = len(t.columns) + 1
		}
		t.columns = append(t.columns, column)
		tables[name] = t
	}
	schema.columns, schema.key, schema.keyUpTo = []string{"name", "type", "tbl_name", "sql"}, []int{0}, 1
	tables[schema.name] = schema
	for name, t := range tables {
		if len(t.key) == 0 { // none of the program's: it is named itself
			delete(tables, name)
			continue
		}
		t.statements()
		tables[name] = t
	}
	return tables, rows.Err()
}

// source is where its rows are read from, as t.
func (t table) source() string {
	if t.from != "" {
		return t.from + " t"
	}
	return t.name + " t"
}

// statements makes how its rows are read.
func (t *table) statements() {
	quoted := make([]string, len(t.columns))
	for i, c := range t.columns {
		quoted[i] = `t."` + c + `"`
		if t.name == versions {
			quoted[i] = `CAST(t."` + c + `" AS TEXT)` // its times are else read as such
		}
	}
	var where, key, by []string
	for _, i := range t.key {
		where = append(where, quoted[i]+" = ?")
		by = append(by, quoted[i])
		key = append(key, "CAST("+quoted[i]+" AS TEXT)")
	}
	from := " FROM " + t.source()
	t.byKey = "SELECT " + strings.Join(quoted, ", ") + from + " WHERE " + strings.Join(where, " AND ")
	t.all = "SELECT " + strings.Join(quoted, ", ") + `, coalesce(j.id, 0), coalesce(j.did, ''), coalesce(j.after, ''), j.salt, j.marks` + from +
		" LEFT JOIN journal_rows j ON j.id = (SELECT max(id) FROM journal_rows WHERE of_table = '" + t.name + "' AND key = " + strings.Join(key, " || '/' || ") + ")"
	t.after = " WHERE (" + strings.Join(by, ", ") + ") > (" + strings.TrimSuffix(strings.Repeat("?, ", len(by)), ", ") + ")"
	t.inOrder = " ORDER BY " + strings.Join(by, ", ")
}

// versions is the table in which goose keeps which migrations were taken.
const versions = "goose_db_version"

// keyOf are the key's values of a row.
func (t table) keyOf(values []any) []any {
	key := make([]any, len(t.key))
	for i, at := range t.key {
		key[i] = values[at]
	}
	return key
}

// keyText is a key as the journal has it.
func keyText(key []any) string {
	parts := make([]string, len(key))
	for i, value := range key {
		switch v := value.(type) {
		case int64:
			parts[i] = strconv.FormatInt(v, 10)
		default:
			parts[i] = fmt.Sprint(v)
		}
	}
	return strings.Join(parts, "/")
}

// scanned are values as they are read.
type scanned struct {
	got  []any
	into []any
}

// places are where a row is read to, and more after its columns.
func (t table) places(more ...any) scanned {
	s := scanned{got: make([]any, len(t.columns))}
	for i := range s.got {
		s.into = append(s.into, &s.got[i])
	}
	s.into = append(s.into, more...)
	return s
}

// hash is a row's hash under a salt, and the mark of each field, in the order of columns.
func (t table) hash(salt []byte, key string, values []any) (after string, marks []byte) {
	row := sha256.New()
	row.Write([]byte(t.name + "\x00" + key + "\x00"))
	buffer := make([]byte, 0, 256)
	for i, column := range t.columns {
		field := sha256.New()
		buffer = append(append(append(buffer[:0], salt...), column...), 0)
		buffer = appendValue(buffer, values[i])
		field.Write(buffer)
		if b, big := values[i].([]byte); big {
			field.Write(b)
		}
		sum := field.Sum(nil)
		row.Write(sum)
		marks = append(marks, sum[:markBytes]...)
	}
	return hex.EncodeToString(row.Sum(nil)), marks
}

// appendValue writes a value with its type, so that no two are written alike; of bytes the
// type alone, since they may be many.
func appendValue(to []byte, value any) []byte {
	switch v := value.(type) {
	case nil:
		return append(to, 'n')
	case int64:
		return binary.BigEndian.AppendUint64(append(to, 'i'), uint64(v))
	case string:
		return append(append(to, 't'), v...)
	case []byte:
		return append(to, 'b')
	case time.Time:
		return append(append(to, 'd'), v.UTC().Format(time.RFC3339Nano)...)
	default:
		return fmt.Appendf(append(to, '?'), "%T %v", v, v)
	}
}

// differing are the columns whose marks differ; nil where the marks are of other columns.
func (t table) differing(was, now []byte) (names []string) {
	if len(was) != len(now) || len(now) != markBytes*len(t.columns) {
		return nil
	}
	for i, c := range t.columns {
		if !slices.Equal(was[i*markBytes:(i+1)*markBytes], now[i*markBytes:(i+1)*markBytes]) {
			names = append(names, c)
		}
	}
	return names
}
