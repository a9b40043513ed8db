// Speed compares what measuring costs with bare loops that do the least of the same: CPU
// time, user and system, of processes that take turns, the least of each one's rounds.
//
//	go run ./testdata/speed              # 20 000 tallies, five rounds
//	go run ./testdata/speed -n 100000
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"time"

	"wellstowed/measure/stack"
)

func main() {
	n := flag.Int("n", 20_000, "how many tallies")
	rounds := flag.Int("rounds", 5, "how often each process runs")
	part := flag.String("part", "", "used by itself: run one of the loops over a file")
	flag.Parse()
	var err error
	if *part != "" {
		err = loops()[*part](flag.Arg(0))
	} else {
		err = compare(*n, *rounds)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "speed:", err)
		os.Exit(1)
	}
}

// A runner is a process that is compared, and the row that it is compared with.
type runner struct {
	name, with string
	args       []string
}

// compare times every runner in turn, round by round, and prints the table.
func compare(n, rounds int) error {
	work, err := os.MkdirTemp("", "speed")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	program := filepath.Join(work, "wellstowed")
	if out, err := exec.Command("go", "build", "-trimpath", "-o", program, "./cmd/wellstowed").CombinedOutput(); err != nil {
		return fmt.Errorf("%w: %s", err, out)
	}
	table, lines := filepath.Join(work, "stacks.csv"), filepath.Join(work, "stacks.jsonl")
	if err := write(n, table, lines); err != nil {
		return err
	}
	self, err := os.Executable()
	if err != nil {
		return err
	}
	loop := func(part, file string) []string { return []string{self, "-part", part, file} }
	runners := []runner{
		{"a bare loop over CSV: volume, doubt and P, gonum’s quantile", "", loop("bare", table)},
		{"the program, CSV", "a bare loop over CSV: volume, doubt and P, gonum’s quantile", []string{program, "measure", table}},
		{"the program, JSON Lines", "a bare loop over CSV: volume, doubt and P, gonum’s quantile", []string{program, "measure", lines, "--lines"}},
		{"reading nothing", "", loop("read", lines)},
		{"encoding/json into the same structs", "", loop("json", lines)},
		{"reading a tally, all checks", "encoding/json into the same structs", loop("parse", lines)},
		{"reading and measuring it", "encoding/json into the same structs", loop("measure", lines)},
	}
	least := map[string]time.Duration{}
	for range rounds {
		for _, r := range runners {
			took, err := cpu(r.args)
			if err != nil {
				return fmt.Errorf("%s: %w", r.name, err)
			}
			if before, ok := least[r.name]; !ok || took < before {
				least[r.name] = took
			}
		}
	}
	fmt.Printf("%d one-row tallies, %d rounds, %s %s/%s, %d processors\n\n", n, rounds, runtime.Version(), runtime.GOOS, runtime.GOARCH, runtime.NumCPU())
	for _, r := range runners {
		ratio := ""
		if r.with != "" {
			ratio = fmt.Sprintf("%.2f × %s", least[r.name].Seconds()/least[r.with].Seconds(), r.with)
		}
		fmt.Printf("%-62s %7.2f µs each  %s\n", r.name, float64(least[r.name].Microseconds())/float64(n), ratio)
	}
	return nil
}

// cpu is the processor time of one run.
func cpu(args []string) (time.Duration, error) {
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Stdout, cmd.Stderr = io.Discard, os.Stderr
	err := cmd.Run()
	if err != nil {
		return 0, err
	}
	return cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(), nil
}

// write makes n tallies of one row, as a table and as lines, readings in quarters of an
// inch about the same stack.
func write(n int, table, lines string) error {
	random := rand.New(rand.NewPCG(5, 5))
	quarters := func(middle, spread, count int) []string {
		readings := make([]string, count)
		for i := range readings {
			readings[i] = strconv.FormatFloat(float64(4*middle+random.IntN(2*spread+1)-spread)/4, 'f', -1, 64)
		}
		return readings
	}
	var csv, jsonl strings.Builder
	csv.WriteString("sold,stack.pieces[] (in),stack.rows[0].length (in),stack.rows[0].heights[] (in)\n")
	for range n {
		pieces, length, heights := quarters(16, 6, 6), quarters(96, 8, 1), quarters(48, 8, 5)
		fmt.Fprintf(&csv, "1/3 cord,%s,%s,%s\n", strings.Join(pieces, "; "), length[0], strings.Join(heights, "; "))
		doc, err := json.Marshal(map[string]any{"format": stack.TallyFormat, "sold": "1/3 cord", "stack": map[string]any{
			"kind": "rows", "pieces": inInches(pieces), "rows": []any{map[string]any{"length": inInches(length)[0], "heights": inInches(heights)}}}})
		if err != nil {
			return err
		}
		jsonl.Write(append(doc, '\n'))
	}
	if err := os.WriteFile(table, []byte(csv.String()), 0o600); err != nil {
		return err
	}
	return os.WriteFile(lines, []byte(jsonl.String()), 0o600)
}

func inInches(numbers []string) []string {
	readings := make([]string, len(numbers))
	for i, n := range numbers {
		readings[i] = n + " in"
	}
	return readings
}
