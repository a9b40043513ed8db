// Package servertest gives tests databases on a real PostgreSQL server.
package servertest

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/orders/postgres"
)

// Everywhere is the URL of a server on which all tests of the store are run, instead of on
// files: its user may make databases. Empty where they are run on files.
func Everywhere() string { return os.Getenv("WELLSTOWED_TEST_POSTGRES") }

// Path is where a test's database can be: a file, or where tests are run on a server, one there.
func Path(t testing.TB) string {
	t.Helper()
	if Everywhere() != "" {
		return Start(t).Database(t)
	}
	return filepath.Join(t.TempDir(), "shop.db")
}

// FileOnly skips a test that looks into SQLite's file where tests are run on a server.
func FileOnly(t testing.TB) {
	t.Helper()
	if Everywhere() != "" {
		t.Skip("it looks into SQLite’s file, and tests are run on a PostgreSQL server")
	}
}

// A Server is one that runs while a test does.
type Server struct{ url string }

// Start gives the server that WELLSTOWED_TEST_POSTGRES names, or starts one in a folder that
// is thrown away. Where there is no PostgreSQL the test is skipped, and fails where CI is
// true.
func Start(t testing.TB) Server {
	t.Helper()
	if named := Everywhere(); named != "" {
		return Server{named}
	}
	initdb := program("initdb")
	if initdb == "" {
		require.NotEqual(t, "true", os.Getenv("CI"), "PostgreSQL is not installed; CI needs it")
		t.Skip("PostgreSQL is not installed (initdb): nothing is tested on a server")
	}
	folder, err := os.MkdirTemp("", "wellstowed-postgres-") // its socket's path must be short
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(folder) })
	as := unprivileged(t, folder)
	data := filepath.Join(folder, "data")
	out, err := ran(as, initdb, "--pgdata", data, "--auth", "trust", "--encoding", "UTF8", "--locale", "C.UTF-8", "--username", "tester", "--no-sync").CombinedOutput()
	require.NoError(t, err, string(out))
	server := ran(as, filepath.Join(filepath.Dir(initdb), "postgres"), "-D", data, "-k", folder, "-c", "listen_addresses=", "-c", "max_connections=400")
	log, err := os.Create(filepath.Join(folder, "log"))
	require.NoError(t, err)
	defer log.Close()
	server.Stdout, server.Stderr = log, log
	require.NoError(t, server.Start())
	t.Cleanup(func() {
		_ = server.Process.Signal(syscall.SIGINT) // ends connections that are left
		_ = server.Wait()
	})
	s := Server{"postgres://tester@/postgres?host=" + url.QueryEscape(folder)}
	require.Eventually(t, func() bool { return s.do("SELECT 1") == nil }, 30*time.Second, 20*time.Millisecond, "the server does not start")
	return s
}

// program finds one of PostgreSQL's, which Debian keeps out of the path.
func program(name string) string {
	if found, err := exec.LookPath(name); err == nil {
		if real, err := filepath.EvalSymlinks(found); err == nil {
			return real
		}
	}
	found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/" + name)
	slices.SortFunc(found, func(a, b string) int { return version(b) - version(a) })
	if len(found) == 0 {
		return ""
	}
	return found[0]
}

func version(program string) int {
	n, _ := strconv.Atoi(filepath.Base(filepath.Dir(filepath.Dir(program))))
	return n
}

// unprivileged is who the server runs as where the tests are root's, which it refuses.
func unprivileged(t testing.TB, folder string) *syscall.SysProcAttr {
	if os.Geteuid() != 0 {
		return nil
	}
	nobody, err := user.Lookup("nobody")
	require.NoError(t, err)
	uid, err := strconv.Atoi(nobody.Uid)
	require.NoError(t, err)
	gid, err := strconv.Atoi(nobody.Gid)
	require.NoError(t, err)
	require.NoError(t, os.Chown(folder, uid, gid))
	return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}
}

func ran(as *syscall.SysProcAttr, name string, args ...string) *exec.Cmd {
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.SysProcAttr = "/", as
	return cmd
}

var made atomic.Int64

// Database gives the URL of a new, empty database, or of a copy of one.
func (s Server) Database(t testing.TB, of ...string) string {
	t.Helper()
	name := newName()
	statement := "CREATE DATABASE " + name
	for _, other := range of {
		parsed, err := url.Parse(other)
		require.NoError(t, err)
		statement += " TEMPLATE " + strings.TrimPrefix(parsed.Path, "/")
	}
	require.NoError(t, s.do(statement))
	t.Cleanup(func() { require.NoError(t, s.do("DROP DATABASE "+name+" WITH (FORCE)")) })
	at, err := s.at(name)
	require.NoError(t, err)
	return at
}

// Kept gives the URL of a new, empty database that stays as long as the server.
func (s Server) Kept() (string, error) {
	name := newName()
	if err := s.do("CREATE DATABASE " + name); err != nil {
		return "", err
	}
	return s.at(name)
}

func newName() string { return fmt.Sprintf("wst_%d_%d", os.Getpid(), made.Add(1)) }

func (s Server) at(database string) (string, error) {
	parsed, err := url.Parse(s.url)
	if err != nil {
		return "", err
	}
	parsed.Path = "/" + database
	return parsed.String(), nil
}

func (s Server) do(statement string) error {
	at, err := postgres.At(s.url)
	if err != nil {
		return err
	}
	pool := at.PlainPool()
	defer pool.Close()
	_, err = pool.ExecContext(context.Background(), statement)
	return err
}

// Raw opens a database without the store.
func Raw(t testing.TB, database string) *sql.DB {
	t.Helper()
	at, err := postgres.At(database)
	require.NoError(t, err)
	pool := at.PlainPool()
	t.Cleanup(func() { require.NoError(t, pool.Close()) })
	return pool
}

// Contents are all values of all rows of all tables of a database.
func Contents(t testing.TB, database string) []byte {
	t.Helper()
	pool := Raw(t, database)
	rows, err := pool.Query(`SELECT tablename FROM pg_tables WHERE schemaname = current_schema()`)
	require.NoError(t, err)
	var tables []string
	for rows.Next() {
		var name string
		require.NoError(t, rows.Scan(&name))
		tables = append(tables, name)
	}
	require.NoError(t, rows.Err())
	var all bytes.Buffer
	for _, table := range tables {
		appendRows(t, pool, table, &all)
	}
	return all.Bytes()
}

func appendRows(t testing.TB, pool *sql.DB, table string, to *bytes.Buffer) {
	rows, err := pool.Query(`SELECT * FROM "` + table + `"`)
	require.NoError(t, err)
	defer rows.Close()
	columns, err := rows.Columns()
	require.NoError(t, err)
	values, into := make([][]byte, len(columns)), make([]any, len(columns))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		require.NoError(t, rows.Scan(into...))
		for _, value := range values {
			to.Write(value)
			to.WriteByte('\n')
		}
	}
	require.NoError(t, rows.Err())
}
