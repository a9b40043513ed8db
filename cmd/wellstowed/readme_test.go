package main

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// root is the top of the project, where README's commands are typed.
const root = "../.."

var readmeCommand = regexp.MustCompile(`(?m)^    (go .+)$`)

// TestReadmeCommandsRun types every command that README shows, but the one that
// runs this test.
func TestReadmeCommandsRun(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile(filepath.Join(root, "README.md"))
	require.NoError(t, err)
	bin := buildProgram(t)
	var tests, serves, rest int
	for _, m := range readmeCommand.FindAllStringSubmatch(string(readme), -1) {
		args := strings.Fields(m[1])
		switch {
		case m[1] == "go test ./...":
			tests++
		case len(args) > 3 && args[1] == "run" && args[2] == "./cmd/wellstowed" && args[3] == "serve":
			serves++
			serveAndLook(t, bin, args[3:])
		case len(args) > 3 && args[1] == "run" && args[2] == "./cmd/wellstowed":
			rest++
			out, err := runProgram(t, bin, root, args[3:]...)
			require.NoError(t, err, "%s\n%s", m[1], out)
			assert.NotEmpty(t, out, m[1])
		default:
			t.Errorf("README shows %q, which no test knows how to run", m[1])
		}
	}
	assert.Equal(t, 1, tests, "README names the test command once")
	assert.Equal(t, 2, serves, "README shows serve with and without --demo")
	assert.Equal(t, 4, rest, "README's worked examples")
}

// TestHelpExamplesRun types each line that a verb's --help gives as an example,
// in a folder with a copy of testdata and a shop database of its own.
func TestHelpExamplesRun(t *testing.T) {
	t.Parallel()
	bin := buildProgram(t)
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(dir, "testdata"), os.DirFS(filepath.Join(root, "testdata"))))
	makeShop(t, filepath.Join(dir, "shop.db"))
	for _, cmd := range (machine{}).command().Commands() {
		if cmd.Name() == "help" {
			continue
		}
		require.NotEmpty(t, cmd.Example, cmd.Name())
		for line := range strings.Lines(cmd.Example) {
			args := typed(line)
			require.Equal(t, "wellstowed", args[0])
			t.Run(strings.TrimSpace(line), func(t *testing.T) {
				if args[1] == "serve" {
					serveAndLook(t, bin, args[1:])
					return
				}
				out, err := runProgram(t, bin, dir, args[1:]...)
				require.NoError(t, err, out)
			})
		}
	}
}

// typed takes a command line apart as a shell does, with double quotes.
func typed(line string) []string {
	var args []string
	for i, part := range strings.Split(line, `"`) {
		if i%2 == 1 {
			args = append(args, part)
			continue
		}
		args = append(args, strings.Fields(part)...)
	}
	return args
}

// buildProgram builds the program as go run would, without cgo, once for all tests.
func buildProgram(t *testing.T) string {
	t.Helper()
	bin, err := builtProgram()
	require.NoError(t, err)
	return bin
}

var builtProgram = sync.OnceValues(func() (bin string, err error) {
	bin = filepath.Join(kept, "wellstowed")
	cmd := exec.Command("go", "build", "-o", bin, ".")
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := cmd.CombinedOutput(); err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	return bin, nil
})

func runProgram(t *testing.T, bin, dir string, args ...string) (string, error) {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), bin, args...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	return string(out), err
}

// serveAndLook starts a serve command on a free port, opens its first page, and
// stops it as Ctrl-C would.
func serveAndLook(t *testing.T, bin string, args []string) {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, bin, args...)
	cmd.Dir = t.TempDir()
	cmd.Env = append(os.Environ(), "WELLSTOWED_LISTEN=127.0.0.1:0")
	cmd.Args = withoutListen(cmd.Args)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	stdout, err := cmd.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, cmd.Start())
	line, err := bufio.NewReader(stdout).ReadString('\n')
	require.NoError(t, err, stderr.String())
	address := regexp.MustCompile(`http://[0-9.:]+`).FindString(line)
	require.NotEmpty(t, address, line)
	page := get(t, address+"/")
	assert.Contains(t, page, "<h1")
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	go io.Copy(io.Discard, stdout)
	require.NoError(t, cmd.Wait(), stderr.String())
}

// withoutListen drops --listen, so that a test never meets a port in use; the
// variable in the environment says where.
func withoutListen(args []string) []string {
	for i, a := range args {
		if a == "--listen" {
			return append(append([]string{}, args[:i]...), args[i+2:]...)
		}
	}
	return args
}

func get(t *testing.T, url string) string {
	t.Helper()
	resp, err := http.Get(url)
	require.NoError(t, err)
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	require.NoError(t, err)
	require.Equal(t, http.StatusOK, resp.StatusCode, string(body))
	return string(body)
}
