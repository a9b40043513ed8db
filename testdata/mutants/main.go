// Mutants asks how strong the tests are: it changes the program in one small place at a
// time, and sees whether a test that reaches the place fails. Which places is drawn by
// a seed, so that a run can be repeated.
//
//	go run ./testdata/mutants                       # every group, 40 mutants each
//	go run ./testdata/mutants -n 10 -seed 7 orders  # ten in orders
//
// The tree is left alone: the changed file is handed to the compiler as an overlay.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// A group is packages that are counted together, each with the packages whose tests it
// is held by, and the share of mutants that have to be found, in per cent.
type group struct {
	name   string
	packs  []string
	tests  []string // besides a package's own
	wanted int
}

func groups() []group {
	return []group{
		{"measure", []string{"measure"}, nil, 85},
		{"measure’s folders", []string{"measure/draw", "measure/lot", "measure/rules", "measure/storage", "measure/wood"}, nil, 85},
		{"orders", []string{"orders", "orders/act", "orders/ledger", "orders/money", "orders/privacy", "orders/proof", "orders/yard"}, []string{"orders"}, 80},
		{"store", []string{"orders/store", "orders/witness"}, []string{"orders"}, 80},
		{"receipts", []string{"receipts"}, nil, 70},
		{"words", []string{"receipts/words"}, []string{"receipts"}, 70},
		{"web", []string{"web", "web/form"}, []string{"web"}, 70},
		{"cmd", []string{"cmd/wellstowed"}, nil, 70},
	}
}

// What became of a mutant.
const (
	killed     = "killed"
	timedOut   = "timed out"
	survived   = "survived"
	notReached = "not reached"
	unbuilt    = "does not compile"
)

func main() {
	seed := flag.Uint64("seed", 1, "decides which mutants are drawn")
	n := flag.Int("n", 40, "how many are drawn of each group")
	only := flag.String("packages", "", "only these packages, with commas between")
	list := flag.Bool("list", false, "list what would be drawn, and stop")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	weak := false
	for _, g := range groups() {
		if flag.NArg() > 0 && !slices.Contains(flag.Args(), g.name) {
			continue
		}
		if *only != "" {
			g.packs = slices.DeleteFunc(g.packs, func(p string) bool { return !slices.Contains(strings.Split(*only, ","), p) })
		}
		found, err := g.run(ctx, *seed, *n, *list)
		if err != nil {
			fmt.Fprintln(os.Stderr, "mutants:", err)
			os.Exit(1)
		}
		weak = weak || found < g.wanted
	}
	if weak && !*list {
		os.Exit(1)
	}
}

// run draws n mutants of a group and gives the share that was found, in per cent.
func (g group) run(ctx context.Context, seed uint64, n int, list bool) (share int, err error) {
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return 0, err
	}
	defer os.RemoveAll(work)
	var all []mutant
	for _, p := range g.packs {
		files, err := filepath.Glob(p + "/*.go")
		if err != nil {
			return 0, err
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			found, err := mutantsOf(file)
			if err != nil {
				return 0, err
			}
			all = append(all, found...)
		}
	}
	b := bench{ctx: ctx, work: work, suites: map[string][]suite{}, group: g}
	counts := map[string]int{}
	for _, m := range shuffled(all, seed) {
		if counts[killed]+counts[timedOut]+counts[survived]+counts[notReached] >= n {
			break
		}
		if list {
			counts[killed]++
			fmt.Println(m)
			continue
		}
		fate, err := b.try(m)
		if err != nil {
			return 0, err
		}
		counts[fate]++
		if fate != unbuilt {
			fmt.Printf("%-11s %s\n", fate, m)
		}
	}
	tried := counts[killed] + counts[timedOut] + counts[survived] + counts[notReached]
	if tried == 0 {
		return 100, nil
	}
	share = 100 * (counts[killed] + counts[timedOut]) / tried
	fmt.Printf("%s: %d of %d found (%d %%; wanted %d %%), %d of them by time; %d survived, %d not reached, of %d places\n\n",
		g.name, counts[killed]+counts[timedOut], tried, share, g.wanted, counts[timedOut], counts[survived], counts[notReached], len(all))
	return share, ctx.Err()
}

// A bench is where mutants are tried.
type bench struct {
	ctx    context.Context
	work   string
	suites map[string][]suite // by mutated package
	group  group
}

// holders are the packages whose tests hold a package, its own first.
func (b bench) holders(pack string) []string {
	all := []string{pack}
	for _, t := range b.group.tests {
		if t != pack {
			all = append(all, t)
		}
	}
	return all
}

// suite is the n-th of the suites that hold a package; what it reaches is found out when
// it is first asked for.
func (b bench) suite(pack string, n int) (suite, error) {
	if n < len(b.suites[pack]) {
		return b.suites[pack][n], nil
	}
	s, err := reachOf(b.ctx, "./"+b.holders(pack)[n], "./"+pack, b.work)
	if err == nil {
		b.suites[pack] = append(b.suites[pack], s)
	}
	return s, err
}

// try gives what becomes of a mutant.
func (b bench) try(m mutant) (fate string, err error) {
	overlay, err := b.overlay(m)
	if err != nil {
		return "", err
	}
	pack := filepath.Dir(m.file)
	if _, err := output(b.ctx, ".", "go", "build", "-overlay", overlay, "-o", os.DevNull, "./"+pack); err != nil {
		return unbuilt, b.ctx.Err()
	}
	fate = notReached
	for n := range b.holders(pack) {
		s, err := b.suite(pack, n)
		if err != nil {
			return "", err
		}
		tests, took := s.reaching(m.file, m.line)
		if len(tests) == 0 {
			continue
		}
		if fate, err = b.hold(s, overlay, tests, took); err != nil || fate != survived {
			return fate, err
		}
	}
	return fate, nil
}

// hold runs the tests of a suite on the changed program.
func (b bench) hold(s suite, overlay string, tests []string, took time.Duration) (string, error) {
	binary := filepath.Join(b.work, "mutant.test")
	if printed, err := output(b.ctx, ".", "go", "test", "-c", "-vet=off", "-overlay", overlay, "-o", binary, s.pack); err != nil {
		return "", fmt.Errorf("%w\n%s", err, printed)
	}
	slices.Sort(tests)
	patience := 3*took + 30*time.Second
	printed, err := output(b.ctx, s.folder, binary, "-test.failfast", "-test.timeout", patience.String(), "-test.run", "^("+strings.Join(tests, "|")+")$")
	switch {
	case b.ctx.Err() != nil:
		return "", b.ctx.Err()
	case err == nil:
		return survived, nil
	case strings.Contains(printed, "panic: test timed out"):
		return timedOut, nil
	}
	return killed, nil
}

// overlay writes the changed file and the overlay that names it.
func (b bench) overlay(m mutant) (string, error) {
	source, err := os.ReadFile(m.file)
	if err != nil {
		return "", err
	}
	changed := filepath.Join(b.work, "changed.go")
	if err := os.WriteFile(changed, slices.Concat(source[:m.start], []byte(m.new), source[m.end:]), 0o600); err != nil {
		return "", err
	}
	whole, err := filepath.Abs(m.file)
	if err != nil {
		return "", err
	}
	named, err := json.Marshal(map[string]map[string]string{"Replace": {whole: changed}})
	if err != nil {
		return "", err
	}
	path := filepath.Join(b.work, "overlay.json")
	return path, os.WriteFile(path, named, 0o600)
}
