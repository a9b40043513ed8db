package orders_test

import (
	"database/sql"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"wellstowed/orders/postgres/servertest"
)

// A mould is the content of a database, from which others are made that may be spoilt.
type mould struct {
	y       *sellerYard
	content []byte
}

// mould takes the content of the yard's file as it is now.
func (y *sellerYard) mould() mould {
	servertest.FileOnly(y.t)
	y.t.Helper()
	db, err := sql.Open("sqlite", "file:"+y.path)
	require.NoError(y.t, err)
	defer db.Close()
	whole := filepath.Join(y.t.TempDir(), "whole.db")
	_, err = db.Exec("VACUUM INTO ?", whole)
	require.NoError(y.t, err)
	content, err := os.ReadFile(whole)
	require.NoError(y.t, err)
	return mould{y: y, content: content}
}

// cast makes a yard of the mould's content, at the same time of day. Its file is gone
// when the test ends.
func (m mould) cast(t *testing.T) *sellerYard {
	t.Helper()
	twin := &sellerYard{t: t, ctx: m.y.ctx, path: filepath.Join(t.TempDir(), "shop.db"), now: m.y.now}
	require.NoError(t, os.WriteFile(twin.path, m.content, 0o600))
	twin.Service = twin.open()
	return twin
}
