package web_test

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Pages go out compressed to whoever takes it, and say the same.
func TestPagesGoOutCompressed(t *testing.T) {
	d := newDesk(t)
	ask := func(encoding string) *http.Response {
		r := httptest.NewRequest(http.MethodGet, "/measure", nil)
		r.Host = "localhost"
		r.Header.Set("Accept-Encoding", encoding)
		answer, err := d.server.App().Test(r, -1)
		require.NoError(t, err)
		return answer
	}
	plain, err := io.ReadAll(ask("identity").Body)
	require.NoError(t, err)
	packed := ask("gzip")
	require.Equal(t, "gzip", packed.Header.Get("Content-Encoding"))
	small, err := io.ReadAll(packed.Body)
	require.NoError(t, err)
	assert.Less(t, len(small), len(plain)/2)
	r, err := gzip.NewReader(bytes.NewReader(small))
	require.NoError(t, err)
	open, err := io.ReadAll(r)
	require.NoError(t, err)
	assert.Contains(t, string(open), "<h1>")
}

// A browser's silent connection must not hold up the stop; a request under way is
// answered.
func TestStopDoesNotWaitForSilentConnections(t *testing.T) {
	d := newDesk(t)
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	served := make(chan error, 1)
	go func() { served <- d.server.Serve(l) }()
	quiet, err := net.Dial("tcp", l.Addr().String())
	require.NoError(t, err)
	defer quiet.Close()
	// An answer on a second connection shows that the first was accepted.
	busy, err := net.Dial("tcp", l.Addr().String())
	require.NoError(t, err)
	defer busy.Close()
	_, err = io.WriteString(busy, "GET /healthz HTTP/1.1\r\nHost: localhost\r\n\r\n")
	require.NoError(t, err)
	answer, err := http.ReadResponse(bufio.NewReader(busy), nil)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, answer.StatusCode)

	ctx, cancel := context.WithTimeout(context.Background(), 25*time.Second)
	defer cancel()
	require.NoError(t, d.server.Shutdown(ctx), "it waited for the silent connection")
	require.NoError(t, <-served)
}
