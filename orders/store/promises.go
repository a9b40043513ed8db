package store

import (
	"context"
	"database/sql"
	"fmt"
	"strconv"
	"strings"
)

// settings are what every connection is opened with: a write-ahead log, durable
// commits, foreign keys held to, a wait for the file's lock, what is deleted written
// over, and transactions that take the lock at their start.
const settings = "?_pragma=busy_timeout(10000)&_pragma=journal_mode(WAL)&_pragma=foreign_keys(1)" +
	"&_pragma=synchronous(FULL)&_pragma=secure_delete(1)&_txlock=immediate"

// promise is a pragma and what it must read back as.
type promise struct{ pragma, value string }

func promises() []promise {
	return []promise{
		{"busy_timeout", "10000"},
		{"journal_mode", "wal"},
		{"foreign_keys", "1"},
		{"synchronous", "2"},
		{"secure_delete", "1"},
	}
}

// oldestSQLite is the first release without the bug that could damage a file
// whose write-ahead log is reset: SQLite release notes, 3.51.3.
const oldestSQLite = "3.51.3"

// checkPromises reads the settings back on two connections, since a misspelt one
// is ignored without a word and some hold for one connection only.
func checkPromises(ctx context.Context, pool *sql.DB) error {
	first, err := pool.Conn(ctx)
	if err != nil {
		return fmt.Errorf("opening: %w", err)
	}
	defer first.Close()
	second, err := pool.Conn(ctx)
	if err != nil {
		return fmt.Errorf("opening: %w", err)
	}
	defer second.Close()
	for _, conn := range []*sql.Conn{first, second} {
		if err := checkConnection(ctx, conn); err != nil {
			return err
		}
	}
	return nil
}

func checkConnection(ctx context.Context, conn *sql.Conn) error {
	for _, p := range promises() {
		var value string
		if err := conn.QueryRowContext(ctx, "PRAGMA "+p.pragma).Scan(&value); err != nil {
			return fmt.Errorf("reading back %s: %w", p.pragma, err)
		}
		if value != p.value {
			return fmt.Errorf("SQLite holds %s at %s, where %s is needed; the file may lie on a disk that cannot keep it", p.pragma, value, p.value)
		}
	}
	var version string
	if err := conn.QueryRowContext(ctx, "SELECT sqlite_version()").Scan(&version); err != nil {
		return fmt.Errorf("reading SQLite's version: %w", err)
	}
	if older(version, oldestSQLite) {
		return fmt.Errorf("SQLite is %s; %s or newer is needed", version, oldestSQLite)
	}
	return nil
}

// older compares versions number by number.
func older(a, b string) bool {
	as, bs := strings.Split(a, "."), strings.Split(b, ".")
	for i := range min(len(as), len(bs)) {
		x, _ := strconv.Atoi(as[i])
		y, _ := strconv.Atoi(bs[i])
		if x != y {
			return x < y
		}
	}
	return len(as) < len(bs)
}
