package main

import (
	"bufio"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An asked is the built program serving a shop, and a token for it made at the machine.
type asked struct {
	base, token string
}

// serveForPrograms serves a shop by the built program, as its owner would start it.
func serveForPrograms(t *testing.T) asked {
	t.Helper()
	bin, dir := buildProgram(t), t.TempDir()
	makeShop(t, filepath.Join(dir, "shop.db"))
	out, err := runProgram(t, bin, dir, "owner", "add", "Nell Ashby", "--db", "shop.db")
	require.NoError(t, err, out)
	token, err := runProgram(t, bin, dir, "token", "--as", "Nell Ashby", "--program", "day", "--db", "shop.db")
	require.NoError(t, err, token)
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	t.Cleanup(cancel)
	cmd := exec.CommandContext(ctx, bin, "serve", "--db", "shop.db", "--listen", "127.0.0.1:0")
	cmd.Dir = dir
	stdout, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	t.Cleanup(func() { _ = cmd.Process.Signal(os.Interrupt); _ = cmd.Wait() })
	line, err := bufio.NewReader(stdout).ReadString('\n')
	require.NoError(t, err)
	go func() { _, _ = io.Copy(io.Discard, stdout) }()
	base := regexp.MustCompile(`http://[0-9.:]+`).FindString(line)
	require.NotEmpty(t, base, line)
	return asked{base: base, token: strings.TrimSpace(token)}
}

// program runs a Go program with the token in its environment.
func (s asked) program(t *testing.T, dir string, args ...string) string {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), "go", args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "WELLSTOWED_TOKEN="+s.token)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, string(out))
	return string(out)
}

// A day's work of a shop through its API alone, by a program that knows nothing else of it.
func TestADayByTheAPIAlone(t *testing.T) {
	t.Parallel()
	s := serveForPrograms(t)
	said := s.program(t, root, "run", "./testdata/day", s.base, "testdata/example-short.json")
	// 280 and the demonstration's tax of 5.5 %, less 140
	for _, step := range []string{`batch Day’s row\n`, `order \d+\n`, `receipt \d+\n`, `still due 15540\n`, `sheet \d+ short\n`, `board of \d{4}-\d\d-\d\d\n`} {
		assert.Regexp(t, step, said)
	}
}

// A client that a generator made of the OpenAPI document compiles and takes an order.
func TestAGeneratedClientTakesAnOrder(t *testing.T) {
	t.Parallel()
	tool, err := exec.LookPath("oapi-codegen")
	if err != nil {
		require.NotEqual(t, "true", os.Getenv("CI"), "oapi-codegen is not installed; CI needs it")
		t.Skip("oapi-codegen is not installed")
	}
	s, dir := serveForPrograms(t), t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS(filepath.Join(root, "testdata", "client"))))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "openapi.json"), []byte(get(t, s.base+"/api/v1/openapi.json")), 0o600))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "shop"), 0o700))
	out, err := runProgram(t, tool, dir, "-generate", "types,client", "-package", "shop", "-o", "shop/shop.go", "openapi.json")
	require.NoError(t, err, out)
	assert.Regexp(t, `^order \d+\n$`, s.program(t, dir, "run", ".", s.base))
}
