package main

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// A suite is the tests of one package, and what of the mutated package each reaches.
type suite struct {
	pack   string
	folder string
	reach  map[string][]block // by test
	took   map[string]time.Duration
}

// A block is lines of a file that are run together.
type block struct {
	file     string
	from, to int
}

// reachOf runs each test of a package by itself and notes what it reaches in the
// mutated package.
func reachOf(ctx context.Context, pack, mutated, work string) (s suite, err error) {
	s = suite{pack: pack, reach: map[string][]block{}, took: map[string]time.Duration{}}
	if s.folder, err = output(ctx, ".", "go", "list", "-f", "{{.Dir}}", pack); err != nil {
		return s, err
	}
	binary := filepath.Join(work, "reach.test")
	if err := os.RemoveAll(binary); err != nil {
		return s, err
	}
	if _, err := output(ctx, ".", "go", "test", "-c", "-cover", "-coverpkg", mutated, "-o", binary, pack); err != nil {
		return s, err
	}
	if _, err := os.Stat(binary); errors.Is(err, fs.ErrNotExist) {
		return s, nil // a package without tests
	}
	listed, err := output(ctx, s.folder, binary, "-test.list", ".")
	if err != nil {
		return s, err
	}
	profile := filepath.Join(work, "reach.out")
	for test := range strings.FieldsSeq(listed) {
		if !strings.HasPrefix(test, "Test") && !strings.HasPrefix(test, "Example") && !strings.HasPrefix(test, "Fuzz") {
			continue
		}
		began := time.Now()
		if _, err := output(ctx, s.folder, binary, "-test.run", "^"+test+"$", "-test.coverprofile", profile, "-test.timeout", "10m"); err != nil {
			if ctx.Err() != nil {
				return s, err
			}
			fmt.Printf("left out: %s of %s fails before anything is changed: %v\n", test, pack, err)
			continue
		}
		s.took[test] = time.Since(began)
		if s.reach[test], err = blocks(profile); err != nil {
			return s, err
		}
	}
	return s, nil
}

var profileLine = regexp.MustCompile(`^wellstowed/(.+\.go):(\d+)\.\d+,(\d+)\.\d+ \d+ (\d+)$`)

// blocks are those that a profile says were run.
func blocks(profile string) (run []block, err error) {
	file, err := os.Open(profile)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		m := profileLine.FindStringSubmatch(lines.Text())
		if m == nil || m[4] == "0" {
			continue
		}
		b := block{file: m[1]}
		fmt.Sscan(m[2], &b.from)
		fmt.Sscan(m[3], &b.to)
		run = append(run, b)
	}
	return run, lines.Err()
}

// reaching are the tests that run a line, the quickest first.
func (s suite) reaching(file string, line int) (tests []string) {
	for test, reach := range s.reach {
		if slices.ContainsFunc(reach, func(b block) bool { return b.file == file && b.from <= line && line <= b.to }) {
			tests = append(tests, test)
		}
	}
	slices.SortFunc(tests, func(a, b string) int { return cmp.Or(cmp.Compare(s.took[a], s.took[b]), cmp.Compare(a, b)) })
	return tests
}

// within is how many of the first tests take a time altogether, one at least.
func (s suite) within(tests []string, time time.Duration) int {
	for n, test := range tests {
		if time -= s.took[test]; time < 0 {
			return max(n, 1)
		}
	}
	return len(tests)
}

// output runs a command in a folder and gives what it printed.
func output(ctx context.Context, folder, name string, args ...string) (string, error) {
	command := exec.CommandContext(ctx, name, args...)
	command.Dir = folder
	printed, err := command.CombinedOutput()
	if err != nil {
		err = errors.Join(fmt.Errorf("%s %s: %w", filepath.Base(name), strings.Join(args, " "), err), errors.New(lastLines(string(printed), 12)))
	}
	return strings.TrimSpace(string(printed)), err
}

func lastLines(text string, n int) string {
	lines := strings.Split(strings.TrimSpace(text), "\n")
	return strings.Join(lines[max(0, len(lines)-n):], "\n")
}
