// Phone builds the measuring page's own answer, web/phone, as WebAssembly, and writes it
// compressed to web/static/measure.wasm.br, with what it was built by to web/phone/BUILT.
// With -check it builds it again and fails where what is kept is not that.
package main

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"

	brotli "github.com/molecule-man/go-brrr"
)

const (
	kept  = "web/static/measure.wasm.br"
	built = "web/phone/BUILT"
)

func main() {
	check := flag.Bool("check", false, "build it again and hold what is kept against it")
	flag.Parse()
	run := write
	if *check {
		run = hold
	}
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "phone:", err)
		os.Exit(1)
	}
}

// build gives the program. The same source and toolchain give the same bytes, wherever they
// stand.
func build() ([]byte, error) {
	dir, err := os.MkdirTemp("", "phone")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "measure.wasm")
	cmd := exec.Command("go", "build", "-trimpath", "-buildvcs=false", "-buildmode=c-shared", "-ldflags", "-s -w -buildid=", "-o", out, "./web/phone")
	cmd.Env = append(os.Environ(), "GOOS=wasip1", "GOARCH=wasm", "GOFLAGS=", "GOWASM=", "CGO_ENABLED=0")
	cmd.Stderr = os.Stderr
	if err := cmd.Run(); err != nil {
		return nil, err
	}
	return os.ReadFile(out)
}

func write() error {
	program, err := build()
	if err != nil {
		return err
	}
	var packed bytes.Buffer
	w, err := brotli.NewWriterOptions(&packed, brotli.BestCompression, brotli.WriterOptions{LGWin: 24})
	if err != nil {
		return err
	}
	if _, err := w.Write(program); err != nil {
		return err
	}
	if err := w.Close(); err != nil {
		return err
	}
	if err := os.WriteFile(kept, packed.Bytes(), 0o644); err != nil {
		return err
	}
	return os.WriteFile(built, []byte(label(program, packed.Bytes())), 0o644)
}

// label says what was built, by what and how.
func label(program, packed []byte) string {
	return fmt.Sprintf("go run ./testdata/phone\n%s\nmeasure.wasm     %d bytes, SHA-256 %x\nmeasure.wasm.br  %d bytes, SHA-256 %x\n",
		runtime.Version(), len(program), sha256.Sum256(program), len(packed), sha256.Sum256(packed))
}

func hold() error {
	packed, err := os.ReadFile(kept)
	if err != nil {
		return err
	}
	said, err := os.ReadFile(built)
	if err != nil {
		return err
	}
	unpacked, err := brotli.Decompress(packed)
	if err != nil {
		return fmt.Errorf("%s: %w", kept, err)
	}
	program, err := build()
	if err != nil {
		return err
	}
	if !bytes.Equal(program, unpacked) || label(program, packed) != string(said) {
		return fmt.Errorf("%s is not what the source gives with %s: go run ./testdata/phone", kept, runtime.Version())
	}
	return nil
}
