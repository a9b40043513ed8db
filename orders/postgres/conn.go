package postgres

import (
	"context"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"github.com/jackc/pgx/v5/stdlib"
)

// A conn is a connection that is spoken to as SQLite's.
type conn struct {
	*stdlib.Conn
	keys map[string][]string
	tell func(table string, key []any)
}

// Watch has the connection tell, of each row that a statement adds, changes or deletes in
// the tables with those key columns, what its key is. It ends with a nil tell.
func (c *conn) Watch(keys map[string][]string, tell func(table string, key []any)) {
	c.keys, c.tell = keys, tell
}

// IsValid keeps a connection whose rows are watched from being taken by another.
func (c *conn) IsValid() bool { return c.tell == nil && !c.Conn.Conn().IsClosed() }

// CheckNamedValue turns what is true into 1: the tables hold no booleans.
func (c *conn) CheckNamedValue(v *driver.NamedValue) error {
	if is, truth := v.Value.(bool); truth {
		v.Value = int64(0)
		if is {
			v.Value = int64(1)
		}
		return nil
	}
	return c.Conn.CheckNamedValue(v)
}

func (c *conn) ExecContext(ctx context.Context, query string, args []driver.NamedValue) (driver.Result, error) {
	query = numbered(query)
	if table := c.watched(query); table != "" {
		return c.telling(ctx, table, query, args)
	}
	return c.Conn.ExecContext(ctx, query, args)
}

func (c *conn) QueryContext(ctx context.Context, query string, args []driver.NamedValue) (driver.Rows, error) {
	query = numbered(query)
	if table := c.watched(query); table != "" {
		return nil, fmt.Errorf("a write to %s that reads rows back cannot be watched", table)
	}
	return asSQLite(c.Conn.QueryContext(ctx, query, args))
}

func (c *conn) PrepareContext(ctx context.Context, query string) (driver.Stmt, error) {
	query = numbered(query)
	if table := c.watched(query); table != "" {
		return nil, fmt.Errorf("a prepared write to %s cannot be watched", table)
	}
	made, err := c.Conn.PrepareContext(ctx, query)
	if err != nil {
		return nil, err
	}
	plain, is := made.(*stdlib.Stmt)
	if !is {
		return nil, fmt.Errorf("a statement of another kind: %T", made)
	}
	return stmt{plain}, nil
}

type stmt struct{ *stdlib.Stmt }

func (s stmt) QueryContext(ctx context.Context, args []driver.NamedValue) (driver.Rows, error) {
	return asSQLite(s.Stmt.QueryContext(ctx, args))
}

// writes finds the table that a statement writes to.
var writes = regexp.MustCompile(`(?i)^\s*(?:INSERT\s+INTO|UPDATE|DELETE\s+FROM)\s+"?(\w+)"?`)

// watched is the table of a statement whose rows are to be told, empty where none are.
func (c *conn) watched(query string) string {
	if c.tell == nil {
		return ""
	}
	if found := writes.FindStringSubmatch(query); found != nil && c.keys[found[1]] != nil {
		return found[1]
	}
	return ""
}

// telling executes a write and tells the keys of its rows.
func (c *conn) telling(ctx context.Context, table, query string, args []driver.NamedValue) (driver.Result, error) {
	rows, err := c.Conn.QueryContext(ctx, query+` RETURNING "`+strings.Join(c.keys[table], `", "`)+`"`, args)
	if err != nil {
		return nil, err
	}
	written := 0
	for ; ; written++ {
		key := make([]driver.Value, len(c.keys[table]))
		if err = rows.Next(key); err != nil {
			break
		}
		told := make([]any, len(key))
		for i, value := range key {
			told[i] = value
		}
		c.tell(table, told)
	}
	if errors.Is(err, io.EOF) {
		err = nil
	}
	return driver.RowsAffected(written), errors.Join(err, rows.Close())
}

// A result is rows whose values are as SQLite gives them.
type result struct {
	*stdlib.Rows
	sums []bool // of each column, whether it is a sum of whole numbers
}

func asSQLite(rows driver.Rows, err error) (driver.Rows, error) {
	if err != nil {
		return nil, err
	}
	plain, is := rows.(*stdlib.Rows)
	if !is {
		return nil, fmt.Errorf("rows of another kind: %T", rows)
	}
	r := result{Rows: plain}
	for i := range plain.Columns() {
		r.sums = append(r.sums, plain.ColumnTypeDatabaseTypeName(i) == "NUMERIC")
	}
	return r, nil
}

func (r result) Next(to []driver.Value) error {
	if err := r.Rows.Next(to); err != nil {
		return err
	}
	for i, value := range to {
		switch v := value.(type) {
		case bool:
			to[i] = int64(0)
			if v {
				to[i] = int64(1)
			}
		case string:
			if n, err := strconv.ParseInt(v, 10, 64); r.sums[i] && err == nil {
				to[i] = n
			}
		}
	}
	return nil
}

// numbered gives the question marks of a statement their numbers, those in texts and names
// aside.
func numbered(query string) string {
	if !strings.Contains(query, "?") {
		return query
	}
	var b strings.Builder
	n, within := 0, rune(0)
	for _, r := range query {
		switch {
		case within != 0:
			if r == within {
				within = 0
			}
		case r == '\'' || r == '"':
			within = r
		case r == '?':
			n++
			b.WriteByte('$')
			b.WriteString(strconv.Itoa(n))
			continue
		}
		b.WriteRune(r)
	}
	return b.String()
}
