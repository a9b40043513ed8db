package main

import (
	"context"
	"encoding/json"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// served starts the program and stops it once it serves, or when it ends by itself.
func served(t *testing.T, args ...string) ran {
	t.Helper()
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	var errs strings.Builder
	out := &stopper{stop: stop}
	m := machine{in: strings.NewReader(""), out: out, err: &errs, clock: time.Now, env: func(string) (string, bool) { return "", false }}
	code := m.run(ctx, append([]string{"serve", "--listen", "127.0.0.1:0"}, args...))
	return ran{code, out.text.String(), errs.String()}
}

// A stopper keeps what is printed, and stops the program once it has answered at the
// address that it says it serves.
type stopper struct {
	text strings.Builder
	stop func()
}

var servesAt = regexp.MustCompile(`serves (http://\S+) `)

func (s *stopper) Write(p []byte) (int, error) {
	if m := servesAt.FindSubmatch(p); m != nil {
		address := string(m[1])
		go func() {
			defer s.stop()
			if res, err := http.Get(address + "/healthz"); err == nil {
				res.Body.Close()
			}
		}()
	}
	return s.text.Write(p)
}

func TestServeKeepsAWitnessAndVerifyReadsIt(t *testing.T) {
	dir := t.TempDir()
	db, file := filepath.Join(dir, "shop.db"), filepath.Join(dir, "witness.txt")
	makeShop(t, db)
	first := served(t, "--db", db, "--witness", file)
	require.Equal(t, exitDone, first.code, first.err)
	assert.Contains(t, first.out, "is begun now")
	content, err := os.ReadFile(file)
	require.NoError(t, err)
	again := served(t, "--db", db, "--witness", file)
	require.Equal(t, exitDone, again.code, again.err)
	assert.NotContains(t, again.out, "is begun now")
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(now), string(content)), "what is there is not written again")
	assert.Equal(t, 1, strings.Count(strings.TrimPrefix(string(now), string(content)), "\n"), "how far the journal goes is, since each start makes a code")

	v := program(t, "", "verify", "--db", db, "--witness", file)
	require.Equal(t, exitDone, v.code, v.out)
	var got verificationJSON
	require.NoError(t, json.Unmarshal([]byte(program(t, "", "verify", "--db", db, "--witness", file, "--json").out), &got))
	assert.True(t, got.Agrees)
	assert.Positive(t, got.Receipts)
	assert.Contains(t, v.out, "The newest seal is "+got.Seal)
	assert.Empty(t, got.Notes)

	line := strings.Split(string(content), "\n")[2]
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(content), line+"\n", "spilled coffee\n", 1)), 0o600))
	wrong := program(t, "", "verify", "--db", db, "--witness", file)
	assert.Equal(t, exitFailed, wrong.code)
	assert.Contains(t, wrong.out, "the witness file, line 3: read \"spilled coffee\"")
	assert.Equal(t, exitRefused, program(t, "", "verify", "--db", db, "--witness", filepath.Join(dir, "none")).code)
}

// A disk that is not in stops nobody; a file of another database stops the program
// before it adds to it.
func TestServeWithAWitnessThatIsNotThereOrNotItsOwn(t *testing.T) {
	dir := t.TempDir()
	db, other, file := filepath.Join(dir, "shop.db"), filepath.Join(dir, "other.db"), filepath.Join(dir, "witness.txt")
	makeShop(t, db)
	require.NoError(t, seedFile(other))
	out := served(t, "--db", db, "--witness", filepath.Join(dir, "stick", "witness.txt"))
	require.Equal(t, exitDone, out.code, out.err)
	assert.Contains(t, out.out, "serves http://")
	assert.Contains(t, out.err, "The witness file cannot be read or written")

	require.Equal(t, exitDone, served(t, "--db", db, "--witness", file).code)
	before, err := os.ReadFile(file)
	require.NoError(t, err)
	refused := served(t, "--db", other, "--witness", file)
	require.Equal(t, exitFailed, refused.code)
	assert.NotContains(t, refused.out, "serves http://")
	assert.Contains(t, refused.err, "line 2 has another chain of receipt 1")
	assert.Contains(t, refused.err, "wellstowed verify --db "+other+" --witness "+file)
	after, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(before), string(after))
}
