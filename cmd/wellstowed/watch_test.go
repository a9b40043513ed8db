package main

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net/http"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// readMetrics has another program read the counts, by the standard they are written by.
const readMetrics = `
import json, sys
from prometheus_client.openmetrics.parser import text_string_to_metric_families
print(json.dumps([[s.name, s.labels, s.value] for f in text_string_to_metric_families(sys.stdin.read()) for s in f.samples]))
`

func TestTheOperatorIsToldOfAnswers(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	said := &hearing{at: make(chan []string, 1), look: regexp.MustCompile(`serves (http://\S+) (?s:.*)Metrics at (\S+)\.`)}
	var log bytes.Buffer
	m := machine{in: strings.NewReader(""), out: said, err: &log, clock: time.Now, env: func(string) (string, bool) { return "", false }}
	ended := make(chan int, 1)
	go func() {
		ended <- m.run(ctx, []string{"serve", "--db", filepath.Join(t.TempDir(), "shop.db"), "--listen", "127.0.0.1:0", "--metrics-listen", "127.0.0.1:0", "--log-requests", "--log-format", "json"})
	}()
	at := <-said.at
	get := func(address string) (string, http.Header) {
		res, err := http.Get(address)
		require.NoError(t, err)
		defer res.Body.Close()
		body, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		return string(body), res.Header
	}
	_, header := get(at[1] + "/receipts/987654")
	text, kind := get(at[2])
	stop()
	require.Equal(t, exitDone, <-ended)
	assert.Equal(t, "application/openmetrics-text; version=1.0.0; charset=utf-8", kind.Get("Content-Type"))
	assert.NotContains(t, text+log.String(), "987654", "what was asked for is nobody's business")

	var line map[string]any
	require.NoError(t, json.Unmarshal(log.Bytes(), &line), log.String())
	assert.Equal(t, header.Get("X-Request-Id"), line["request"])
	assert.Len(t, line["request"], 16)
	assert.Equal(t, []any{"answered", "GET", "/receipts/:number", 404.0}, []any{line["msg"], line["method"], line["route"], line["status"]})

	const python = "/usr/bin/python3" // Debian's, which its packages are for
	toolOr(t, exec.Command(python, "-c", "import prometheus_client").Run(), "python3 has no prometheus_client:")
	cmd := exec.Command(python, "-c", readMetrics)
	cmd.Stdin = strings.NewReader(text)
	read, err := cmd.Output()
	require.NoError(t, err, text)
	assert.Contains(t, string(read), `["wellstowed_answer_seconds_count", {"method": "GET", "route": "/receipts/:number", "status": "404"}, 1]`)
	assert.Contains(t, string(read), `["wellstowed_ready", {}, 1]`)
}

func TestWhatTheOperatorMayAskFor(t *testing.T) {
	for says, args := range map[string][]string{
		"accepted: text, json":            {"--log-format", "xml"},
		"this machine alone":              {"--metrics-listen", "0.0.0.0:9128"},
		"--metrics-listen: read \"9128\"": {"--metrics-listen", "9128"},
	} {
		r := program(t, "", append([]string{"serve", "--demo", "--listen", "127.0.0.1:0"}, args...)...)
		assert.Equal(t, exitRefused, r.code, says)
		assert.Contains(t, r.err, says)
	}
}
