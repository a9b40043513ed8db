package web_test

import (
	"io"
	"net"
	"net/http"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/web"
)

// What a fault of the program answers is counted as what was sent for it.
func TestAPanicIsCountedAsAFault(t *testing.T) {
	d := withShop(t)
	breaks := false
	d.server = d.serverOf(func() time.Time {
		if breaks {
			breaks = false
			panic("a clock that broke")
		}
		return testClock()
	}, func(*web.Config) {})
	listener, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	defer listener.Close()
	go func() { _ = d.server.ServeMetrics(listener) }() // until the listener is closed
	breaks = true
	require.Equal(t, http.StatusInternalServerError, d.get("/promise").status)
	require.False(t, breaks)
	answer, err := http.Get("http://" + listener.Addr().String() + "/metrics")
	require.NoError(t, err)
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	assert.Contains(t, string(text), `wellstowed_answer_seconds_count{method="GET",route="/promise",status="500"} 1`)
	assert.NotContains(t, string(text), `route="/promise",status="200"`)
}
