package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"strconv"

	"github.com/google/uuid"
	"github.com/spf13/cobra"

	"wellstowed/measure/lot"
	"wellstowed/measure/rules"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/receipts"
	"wellstowed/receipts/words"
)

type lotFlags struct {
	json         bool
	out          string
	paper, units string
	size         int
	seed         uint64
	seeded       bool   // a seed was given
	name, db     string // of the lot, and of the database that keeps its draws
	under, rules string // a rule set's code, and a file of one's own
}

func (m machine) lotCommand() *cobra.Command {
	var f lotFlags
	cmd := &cobra.Command{
		Use:   "lot FILE|-",
		Short: "Draw a sample of packaged wood, or judge one that was measured",
		Long: "With --size, says how many packages of a lot to measure and which, drawn from a\n" +
			"seed that anyone can draw from again. With a file (JSON format 1, or CSV; - reads\n" +
			"standard input), judges the lot on the average of the packages measured, and\n" +
			"writes a report with -o. Each rule used says whether its source was read or is\n" +
			"from memory. The CSV file begins:\n\n" +
			"  # format: 1\n  # labelled: 0.75 cu ft\n  # lot size: 30\n  # seed: 12345\n  number,volume\n  3,0.74 cu ft\n\n" +
			"Its columns may be number,length,area too, and # limit: an individual limit.\n" +
			"Exit code: 0 when the lot was taken, whatever the verdict; 2 when it was refused.",
		Example: "  wellstowed lot --size 30 --seed 12345\n  wellstowed lot testdata/lot-rack.json\n" +
			"  wellstowed lot testdata/lot-rack.csv --json\n  wellstowed lot testdata/lot-rack.csv -o lot-report.pdf\n" +
			"  wellstowed lot testdata/lot-canada.csv --under canada --units metric",
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			f.seeded = cmd.Flags().Changed("seed")
			if cmd.Flags().Changed("size") {
				return m.drawLot(cmd.Context(), args, f)
			}
			if f.name != "" {
				return refuse("--lot belongs to --size; the seeds drawn for a measured lot stand in its file, as # drawn: 777, 12345")
			}
			return m.lot(cmd, args, f)
		},
	}
	cmd.Flags().StringVar(&f.under, "under", "", "code of the rule set whose plan for lots is taken, such as canada; without it, NIST Handbook 133's")
	rulesFlag(cmd, &f.rules)
	cmd.Flags().BoolVar(&f.json, "json", false, "print the answer as JSON")
	cmd.Flags().StringVarP(&f.out, "output", "o", "", "PDF file to write the report to")
	cmd.Flags().StringVar(&f.paper, "paper", string(orders.Letter), "paper of the report: letter or a4")
	cmd.Flags().StringVar(&f.units, "units", string(act.Imperial), "units of the answer for people: imperial or metric")
	cmd.Flags().IntVar(&f.size, "size", 0, "packages in a lot to draw a sample of")
	cmd.Flags().Uint64Var(&f.seed, "seed", 0, "seed of the draw; one is made up where it is left out")
	cmd.Flags().StringVar(&f.name, "lot", "", "whose packages, and where: the draw is then kept in the database, and every draw for that lot is printed")
	cmd.Flags().StringVar(&f.db, "db", defaultDB, "the database file that keeps draws")
	return cmd
}

// ruleSet is the rule set whose plan is taken; the zero set where none was named.
func (f lotFlags) ruleSet() (rules.Set, error) {
	if f.under == "" {
		if f.rules != "" {
			return rules.Set{}, refuse("--rules: name the set in it with --under CODE")
		}
		return rules.Set{}, nil
	}
	book, err := ruleBook(f.rules)
	if err != nil {
		return rules.Set{}, err
	}
	set, err := book.Get(f.under)
	if err != nil {
		return rules.Set{}, refuse("--under: %w", err)
	}
	return set, nil
}

// drawKept draws a sample and keeps that it was drawn; the seeds are all that were drawn
// for the lot, this one last.
func (m machine) drawKept(ctx context.Context, f lotFlags) (seeds []uint64, err error) {
	r := audits.LotDrawRequest{Lot: f.name, Size: strconv.Itoa(f.size)}
	if f.seeded {
		r.Seed = strconv.FormatUint(f.seed, 10)
	}
	err = m.withShop(ctx, f.db, func(s services) error {
		draws, err := s.audits.DrawLot(ctx, act.Act{Actor: atTheTerminal(), Request: uuid.Must(uuid.NewV7()).String()}, r)
		for _, d := range draws {
			seeds = append(seeds, d.Seed)
		}
		return err
	})
	return seeds, err
}

// drawLot prints the plan for a lot and the packages that a seed draws.
func (m machine) drawLot(ctx context.Context, args []string, f lotFlags) error {
	if len(args) > 0 || f.out != "" {
		return refuse("--size draws a sample: it takes no file and writes no report; leave it out to judge a lot")
	}
	set, err := f.ruleSet()
	if err != nil {
		return err
	}
	plan, err := lot.PlanFor(set, f.size)
	if err != nil {
		return refuse("--size: %w", err)
	}
	var drawn lot.Lot
	switch {
	case f.name != "":
		if drawn.Drawn, err = m.drawKept(ctx, f); err != nil {
			return err
		}
		f.seed = drawn.Drawn[len(drawn.Drawn)-1]
	case !f.seeded:
		f.seed = rand.Uint64N(1_000_000_000)
	}
	picks := lot.Pick(f.size, plan.Sample.Value, f.seed)
	a := answerer{out: bufio.NewWriter(m.out), print: words.New("en", act.Imperial), json: f.json}
	defer a.out.Flush()
	if f.json {
		return a.indented(map[string]any{"plan": plan, "seed": f.seed, "picks": picks, "drawn": drawn.Drawn})
	}
	a.draw(plan, f.seed, picks)
	if draws := drawn.Draws(); draws.Key != "" {
		fmt.Fprintf(a.out, "\n%s\n", a.print.Say(draws))
	}
	return nil
}

func (a answerer) draw(plan lot.Plan, seed uint64, picks []int) {
	say := func(format string, args ...any) { fmt.Fprintf(a.out, format+"\n", args...) }
	say("Measure %d of %d packages: %s", plan.Sample.Value, plan.LotSize, a.print.Numbers(picks))
	say("")
	say("%s", a.print.PlanName(plan))
	say("Seed                            %d", seed)
	say("Sample correction factor        %s", a.print.Factor(plan.Factor))
	say("May be over an individual limit %d", plan.Allowed.Value)
	if plan.Factor == nil {
		say("A lot of one package can't be judged on the average.")
	}
	a.section("How this is known", []string{a.print.Mark(plan.Sample.Known), a.print.Repeat()})
}

// lot judges the lot in a file.
func (m machine) lot(cmd *cobra.Command, args []string, f lotFlags) error {
	if err := exactArgs("FILE")(cmd, args); err != nil {
		return err
	}
	units, paper := act.Units(f.units), orders.Paper(f.paper)
	switch {
	case f.seeded:
		return refuse("--seed belongs to --size; the seed of a measured lot is in its file")
	case units != act.Imperial && units != act.Metric:
		return refuse("--units: read %q; accepted: imperial, metric", f.units)
	case paper != orders.Letter && paper != orders.A4:
		return refuse("--paper: read %q; accepted: letter, a4", f.paper)
	}
	set, err := f.ruleSet()
	if err != nil {
		return err
	}
	a := answerer{out: bufio.NewWriter(m.out), print: words.New("en", units).Under(set), json: f.json}
	defer a.out.Flush()
	l, v, err := m.judgeFile(set, args[0])
	var exit *exitError
	switch {
	case errors.As(err, &exit):
		return err
	case err != nil && f.json:
		a.line(map[string]any{"error": a.faults(err)})
		return errRefused
	case err != nil:
		return refuse("the lot was refused:\n%s", a.sentences(err))
	}
	if f.out != "" {
		if err := m.lotReport(set, l, v, paper, units, f.out); err != nil {
			return err
		}
	}
	if f.json {
		return a.indented(a.print.Lot(l, v))
	}
	a.lot(l, v)
	return nil
}

// judgeFile reads a lot as JSON where the file begins with a bracket, else as CSV.
func (m machine) judgeFile(under rules.Set, name string) (lot.Lot, lot.Verdict, error) {
	in, err := m.open(name)
	if err != nil {
		return lot.Lot{}, lot.Verdict{}, refuse("%w", err)
	}
	defer in.Close()
	doc, err := io.ReadAll(io.LimitReader(in, lot.MaxBytes+1))
	if err != nil {
		return lot.Lot{}, lot.Verdict{}, &exitError{exitFailed, fmt.Errorf("%s: %w", name, err)}
	}
	var l lot.Lot
	if start := bytes.TrimSpace(doc); len(start) > 0 && (start[0] == '{' || start[0] == '[') {
		l, err = lot.ParseJSON(doc)
	} else {
		l, err = lot.ParseCSV(bytes.NewReader(doc))
	}
	if err != nil {
		return lot.Lot{}, lot.Verdict{}, err
	}
	v, err := lot.Judge(under, l)
	return l, v, err
}

// lotReport writes the report to a file that is not there yet.
func (m machine) lotReport(under rules.Set, l lot.Lot, v lot.Verdict, paper orders.Paper, units act.Units, out string) error {
	painter, err := receipts.New()
	if err != nil {
		return err
	}
	pdf, err := painter.Lot("en", under, l, v, paper, units, m.clock())
	if err != nil {
		return err
	}
	if err := writeNew(out, pdf); err != nil {
		return err
	}
	fmt.Fprintf(m.err, "Wrote the report to %s.\n", out)
	return nil
}

// lot prints a verdict to be read: the finding first, then the figures, then what
// it rests on.
func (a answerer) lot(l lot.Lot, v lot.Verdict) {
	say := func(format string, args ...any) { fmt.Fprintf(a.out, format+"\n", args...) }
	say("%s", a.print.LotFinding(v))
	for _, why := range v.Why {
		say("%s", a.print.Say(why.Text))
	}
	say("")
	say("%s", a.print.PlanName(v.Plan))
	say("Labelled              %s", a.print.Package(l.Labelled))
	say("Average error         %s", a.print.PackageError(v.Mean))
	say("Standard deviation s  %s", a.print.PackageOr(v.Spread))
	say("Factor for %-11s%s", fmt.Sprint(len(v.Packages)), a.print.Factor(v.Factor))
	say("Sample error limit    %s", a.print.PackageOr(v.Limit))
	if limit := a.print.IndividualLimit(l, v); limit != "" {
		say("%s", limit)
	}
	if l.Seed != nil {
		say("%s", a.print.Drawn(*l.Seed, v.Picks))
	}
	if draws := l.Draws(); draws.Key != "" {
		say("%s", a.print.Say(draws))
	}
	packages := make([]string, len(v.Packages))
	for i, e := range v.Packages {
		packages[i] = fmt.Sprintf("%7d  %-6s %12s  %14s", e.Number, a.print.HowPicked(e), a.print.Package(e.Volume), a.print.ErrorOf(e))
	}
	if star := a.print.Star(v); star != "" {
		packages = append(packages, star)
	}
	a.section("Packages: number, drawn or typed, measured, error", packages)
	grounds := make([]string, len(v.Grounds))
	for i, g := range v.Grounds {
		grounds[i] = a.print.Ground(g)
	}
	a.section("What this rests on, and how it is known", grounds)
	var notes []string
	for _, n := range v.Notes {
		notes = append(notes, a.print.Say(n.Text))
	}
	a.section("Notes", append(notes, a.print.Volunteer()))
}
