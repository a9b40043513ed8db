// Mutants asks how strong the tests are: it changes the program in one small place at a
// time, and sees whether a test that reaches the place fails. Which places is drawn by
// a seed, so that a run can be repeated.
//
//	go run ./testdata/mutants                       # every group, 40 mutants each
//	go run ./testdata/mutants -n 10 -seed 7 orders  # ten in orders
//
// The tree is left alone: the changed file is handed to the compiler as an overlay. The
// tests that reach the place are run quickest first, and no more of them than take -most
// altogether; a mutant that these let live counts as survived.
package main

import (
	"cmp"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
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
	store := []string{"orders/store", "orders/witness"}
	return []group{
		{"measure", []string{"measure", "measure/stack"}, nil, 85},
		{"measure’s folders", below("measure", "measure/stack"), nil, 85},
		{"orders", append([]string{"orders"}, below("orders", store...)...), []string{"orders"}, 80},
		{"store", store, []string{"orders"}, 80},
		{"receipts", []string{"receipts"}, nil, 70},
		{"words", below("receipts"), []string{"receipts"}, 70},
		{"web", append([]string{"web"}, below("web")...), []string{"web"}, 70},
		{"cmd", below("cmd"), nil, 70},
	}
}

// below are the packages in the folders of a folder, without some.
func below(folder string, without ...string) (packs []string) {
	files, _ := filepath.Glob(folder + "/*/*.go") // fails for bad patterns only
	for _, file := range files {
		if pack := filepath.Dir(file); !slices.Contains(packs, pack) && !slices.Contains(without, pack) {
			packs = append(packs, pack)
		}
	}
	return packs
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
	most := flag.Duration("most", time.Minute, "how long the tests of a package may take for one mutant")
	list := flag.Bool("list", false, "list what would be drawn, and stop")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	asked := slices.DeleteFunc(groups(), func(g group) bool { return flag.NArg() > 0 && !slices.Contains(flag.Args(), g.name) })
	for i, g := range asked {
		if *only != "" {
			asked[i].packs = slices.DeleteFunc(g.packs, func(p string) bool { return !slices.Contains(strings.Split(*only, ","), p) })
		}
	}
	weak, err := tryAll(ctx, asked, *most, *seed, *n, *list)
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutants:", err)
	}
	if err != nil || weak && !*list {
		os.Exit(1)
	}
}

// tryAll tries mutants of groups, and tells whether one is below what is wanted of it.
func tryAll(ctx context.Context, groups []group, most time.Duration, seed uint64, n int, list bool) (weak bool, err error) {
	work, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return false, err
	}
	defer os.RemoveAll(work)
	b := bench{ctx: ctx, work: work, most: most, suites: map[string]suite{}}
	for _, g := range groups {
		b.covered = append(b.covered, g.packs...)
	}
	for _, g := range groups {
		b.group = g
		found, err := b.run(seed, n, list)
		if err != nil {
			return weak, err
		}
		weak = weak || found < g.wanted
	}
	return weak, nil
}

// run draws n mutants of a group and gives the share that was found, in per cent.
func (b bench) run(seed uint64, n int, list bool) (share int, err error) {
	g := b.group
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
	counts, living := map[string]int{}, map[string]int{}
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
		if fate == survived || fate == notReached {
			living[m.kind]++
		}
		if fate != unbuilt {
			fmt.Printf("%-11s %s\n", fate, m)
		}
	}
	tried := counts[killed] + counts[timedOut] + counts[survived] + counts[notReached]
	if tried == 0 {
		return 100, nil
	}
	share = 100 * (counts[killed] + counts[timedOut]) / tried
	fmt.Printf("%s: %d of %d found (%d %%; wanted %d %%), %d of them by time; %d survived, %d not reached (%s), of %d places\n\n",
		g.name, counts[killed]+counts[timedOut], tried, share, g.wanted, counts[timedOut], counts[survived], counts[notReached], tally(living), len(all))
	return share, b.ctx.Err()
}

// tally lists counts, as "2 number, 1 answer", the most first.
func tally(counts map[string]int) string {
	kinds := slices.SortedFunc(maps.Keys(counts), func(a, b string) int {
		return cmp.Or(counts[b]-counts[a], strings.Compare(a, b))
	})
	for i, k := range kinds {
		kinds[i] = fmt.Sprint(counts[k], " ", k)
	}
	return strings.Join(kinds, ", ")
}

// A bench is where mutants are tried.
type bench struct {
	ctx     context.Context
	work    string
	most    time.Duration
	covered []string         // packages of all groups that are tried
	suites  map[string]suite // by package of the tests
	group   group
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

// suite is the tests of a package; what they reach is found out when it is first asked
// for.
func (b bench) suite(pack string) (suite, error) {
	if s, ok := b.suites[pack]; ok {
		return s, nil
	}
	s, err := reachOf(b.ctx, "./"+pack, "./"+strings.Join(b.covered, ",./"), b.work)
	if err == nil {
		b.suites[pack] = s
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
	fate = notReached
	for _, holder := range b.holders(pack) {
		s, err := b.suite(holder)
		if err != nil {
			return "", err
		}
		tests := s.reaching(m.file, m.line)
		if len(tests) == 0 {
			continue
		}
		if fate, err = b.hold(s, overlay, tests); err != nil || fate != survived {
			return fate, err
		}
	}
	if fate == notReached && !b.builds(overlay, pack) {
		return unbuilt, b.ctx.Err()
	}
	return fate, nil
}

func (b bench) builds(overlay, pack string) bool {
	_, err := output(b.ctx, ".", "go", "build", "-overlay", overlay, "-o", os.DevNull, "./"+pack)
	return err == nil
}

// hold runs the tests of a suite on the changed program, in two lots, so that most
// mutants never meet a slow test.
func (b bench) hold(s suite, overlay string, tests []string) (string, error) {
	binary := filepath.Join(b.work, "mutant.test")
	if _, err := output(b.ctx, ".", "go", "test", "-c", "-vet=off", "-ldflags=-s -w", "-overlay", overlay, "-o", binary, s.pack); err != nil {
		return unbuilt, b.ctx.Err()
	}
	quick := s.within(tests, b.most/20)
	all := max(quick, s.within(tests, b.most))
	for _, lot := range [][]string{tests[:quick], tests[quick:all]} {
		if len(lot) == 0 {
			continue
		}
		if fate, err := b.runs(s, binary, lot); err != nil || fate != survived {
			return fate, err
		}
	}
	return survived, nil
}

// runs tells what some tests of a suite make of the changed program.
func (b bench) runs(s suite, binary string, tests []string) (string, error) {
	patience := 30 * time.Second
	for _, test := range tests {
		patience += 3 * s.took[test]
	}
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
