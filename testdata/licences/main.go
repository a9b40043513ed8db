// Command licences writes the licences of all that is compiled into the program, on any of
// the systems it is released for, to cmd/wellstowed/licences.txt. With -check it only
// compares. Modules with the same text stand over it together.
package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

const into = "cmd/wellstowed/licences.txt"

// systems are those of .ci/release, whose modules differ.
var systems = []string{"linux", "windows", "darwin"}

func main() {
	check := flag.Bool("check", false, "compare, write nothing")
	flag.Parse()
	if err := run(*check); err != nil {
		fmt.Fprintln(os.Stderr, "licences:", err)
		os.Exit(1)
	}
}

func run(check bool) error {
	folders, err := modules()
	if err != nil {
		return err
	}
	texts := map[string][]string{}
	for name, folder := range folders {
		text, err := licence(folder)
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		texts[text] = append(texts[text], name)
	}
	var out bytes.Buffer
	for _, text := range slices.SortedFunc(maps.Keys(texts), func(a, b string) int { return strings.Compare(first(texts[a]), first(texts[b])) }) {
		fmt.Fprintf(&out, "%s\n\n%s\n\n\n", strings.Join(slices.Sorted(slices.Values(texts[text])), "\n"), text)
	}
	if !check {
		return os.WriteFile(into, out.Bytes(), 0o644)
	}
	there, err := os.ReadFile(into)
	if err == nil && !bytes.Equal(there, out.Bytes()) {
		err = errors.New(into + " is not that of today's modules: go run ./testdata/licences")
	}
	return err
}

func first(names []string) string { return slices.Min(names) }

// modules gives the folder of each module that is compiled in, and of Go's own library.
func modules() (map[string]string, error) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return nil, err
	}
	folders := map[string]string{"Go, its library": strings.TrimSpace(string(root))}
	for _, system := range systems {
		cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}|{{.Dir}}{{end}}{{end}}", "./cmd/wellstowed")
		cmd.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		list, err := cmd.Output()
		if err != nil {
			return nil, err
		}
		for line := range strings.Lines(string(list)) {
			if name, folder, found := strings.Cut(strings.TrimSpace(line), "|"); found {
				folders[name] = folder
			}
		}
	}
	return folders, nil
}

// licence is the text of a module's licence files, by their names.
func licence(folder string) (string, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return "", err
	}
	var all []string
	for _, e := range entries {
		name := strings.ToUpper(e.Name())
		if e.IsDir() || !strings.HasPrefix(name, "LICEN") && !strings.HasPrefix(name, "COPYING") && !strings.HasPrefix(name, "NOTICE") && !strings.HasPrefix(name, "UNLICENSE") {
			continue
		}
		text, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			return "", err
		}
		all = append(all, strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
	}
	if len(all) == 0 {
		return "", errors.New("no licence file")
	}
	return strings.Join(all, "\n\n"), nil
}
