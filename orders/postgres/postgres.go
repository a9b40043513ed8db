// Package postgres opens a database on a PostgreSQL server so that the store can speak to it
// as it speaks to SQLite: ? stands for a value, what is true is 1, a sum is a whole number,
// and a connection tells which rows it writes.
package postgres

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"errors"
	"fmt"
	"io"
	"maps"
	"net"
	"net/url"
	"regexp"
	"slices"
	"strings"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgconn"
	"github.com/jackc/pgx/v5/stdlib"
)

// Is tells whether a database is named by its server and not by its file.
func Is(name string) bool {
	return strings.HasPrefix(name, "postgres://") || strings.HasPrefix(name, "postgresql://")
}

// Shown is a database's name as it may be read by anybody: without a password.
func Shown(name string) string {
	if !Is(name) {
		return name
	}
	parsed, err := url.Parse(name)
	if err != nil {
		return "postgres://…"
	}
	values := parsed.Query()
	for _, secret := range []string{"password", "sslpassword"} {
		if values.Has(secret) {
			values.Set(secret, "xxxxx")
			parsed.RawQuery = values.Encode()
		}
	}
	return parsed.Redacted()
}

// A Server is where a database is.
type Server struct {
	config *pgx.ConnConfig
	// Schema is the one that the URL names by search_path, empty where it names none.
	Schema string
}

// plainName is a name that a server reads as it is written, quoted or not.
var plainName = regexp.MustCompile(`^[a-z_][a-z0-9_]*$`)

// At reads a database's URL: postgres://user@host:port/database, with search_path=NAME
// for one schema of it. What it leaves out comes from the environment, as for psql
// (PGPASSWORD, PGPASSFILE, PGSSLMODE).
func At(name string) (Server, error) {
	config, err := pgx.ParseConfig(name)
	if err != nil {
		return Server{}, fmt.Errorf("that is no address of a PostgreSQL database (accepted: postgres://user@host:port/database): %w", err)
	}
	s := Server{config: config, Schema: config.RuntimeParams["search_path"]}
	if s.Schema != "" && !plainName.MatchString(s.Schema) {
		return Server{}, fmt.Errorf("search_path: read %q; accepted: the name of one schema, in small letters, digits and underscores", s.Schema)
	}
	return s, nil
}

// Name is what files beside the database are called after: the schema, or the database.
func (s Server) Name() string {
	name := s.Schema
	if name == "" {
		name = s.config.Database
	}
	return strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:`, r) {
			return '_'
		}
		return r
	}, name)
}

// session are the settings of every connection: a commit is on the disk before it is
// answered, a lock is waited for as long as SQLite's, and instants are read back alike.
func (s Server) session(more map[string]string) *pgx.ConnConfig {
	config := s.config.Copy()
	for name, value := range map[string]string{"application_name": "wellstowed", "lock_timeout": "10000"} {
		if config.RuntimeParams[name] == "" { // the URL may say another
			config.RuntimeParams[name] = value
		}
	}
	maps.Copy(config.RuntimeParams, map[string]string{"synchronous_commit": "on", "timezone": "UTC", "datestyle": "ISO", "client_encoding": "UTF8"})
	maps.Copy(config.RuntimeParams, more)
	return config
}

// Pool is a pool of connections that are spoken to as SQLite's.
func (s Server) Pool() *sql.DB { return s.pool(nil) }

// ReadPool is one whose connections change nothing.
func (s Server) ReadPool() *sql.DB {
	return s.pool(map[string]string{"default_transaction_read_only": "on"})
}

func (s Server) pool(more map[string]string) *sql.DB {
	return sql.OpenDB(connector{stdlib.GetConnector(*s.session(more))})
}

// PlainPool is one of PostgreSQL as it is, whose statements may be several at once.
func (s Server) PlainPool() *sql.DB {
	config := s.session(nil)
	config.DefaultQueryExecMode = pgx.QueryExecModeSimpleProtocol
	return stdlib.OpenDB(*config)
}

// A connector makes connections that are spoken to as SQLite's.
type connector struct{ driver.Connector }

func (c connector) Connect(ctx context.Context) (driver.Conn, error) {
	made, err := c.Connector.Connect(ctx)
	if err != nil {
		return nil, err
	}
	plain, is := made.(*stdlib.Conn)
	if !is {
		return nil, fmt.Errorf("a connection of another kind: %T", made)
	}
	return &conn{Conn: plain}, nil
}

// State is the server's code of an error (PostgreSQL manual, appendix A), empty where the
// error isn't the server's.
func State(err error) string {
	var said *pgconn.PgError
	if errors.As(err, &said) {
		return said.Code
	}
	return ""
}

// Codes that say that the server ends the connection or does not take one yet.
var goingCodes = []string{"57P01", "57P02", "57P03", "57P05"}

// Lost tells whether the connection was lost, or none was to be had.
func Lost(err error) bool {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return false
	}
	if code := State(err); code != "" {
		return strings.HasPrefix(code, "08") || slices.Contains(goingCodes, code)
	}
	var network net.Error
	var connecting *pgconn.ConnectError
	return errors.As(err, &connecting) || errors.As(err, &network) || pgconn.SafeToRetry(err) ||
		errors.Is(err, driver.ErrBadConn) || errors.Is(err, sql.ErrConnDone) || errors.Is(err, net.ErrClosed) ||
		errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF)
}

// Undone tells whether the server undid a transaction since others wrote at the same time:
// a serialization failure, or two that waited for each other.
func Undone(err error) bool {
	code := State(err)
	return code == "40001" || code == "40P01"
}
