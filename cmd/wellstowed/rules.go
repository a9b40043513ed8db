package main

import (
	"bufio"
	"fmt"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"wellstowed/measure/rules"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

// rulesFlag adds the flag that names a rule set file of the shop's own.
func rulesFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVar(to, "rules", "", "JSON file of a rule set of the shop's own, beside or in place of those built in")
}

// procedureFlag adds the flag that names the file of an office's procedure.
func procedureFlag(cmd *cobra.Command, to *string) {
	cmd.Flags().StringVar(to, "procedure", "", "JSON file of an office's own procedure for checking stacked wood, in place of arithmetic after a handbook's pattern")
}

// procedureFile gives the procedure of a file; nil where none is named.
func procedureFile(name string) (*rules.Procedure, error) {
	if name == "" {
		return nil, nil
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, refuse("--procedure: %w", err)
	}
	p, err := rules.ParseProcedure(text)
	if err != nil {
		return nil, refuse("--procedure: %s: %w", name, err)
	}
	return &p, nil
}

// ruleBook gives the rule sets built in and the one of a file, where one is named.
func ruleBook(name string) (rules.Book, error) {
	book, err := rules.BuiltIn()
	if err != nil || name == "" {
		return book, err
	}
	text, err := os.ReadFile(name)
	if err != nil {
		return rules.Book{}, refuse("--rules: %w", err)
	}
	if book, err = book.With(text); err != nil {
		return rules.Book{}, refuse("--rules: %s: %w", name, err)
	}
	return book, nil
}

// under is the built-in rule set of a code, nil without one, and a printer that words
// answers in the units it sells by; without a code, in those of the system.
func under(code string, units act.Units) (*rules.Set, *words.Printer, error) {
	print := words.New("en", units)
	if code == "" {
		return nil, print, nil
	}
	book, err := rules.BuiltIn()
	if err != nil {
		return nil, nil, err
	}
	set, err := book.Get(code)
	if err != nil {
		return nil, nil, refuse("--under: %w", err)
	}
	return &set, print.Under(set), nil
}

func (m machine) rulesCommand() *cobra.Command {
	var file, check, units string
	var asJSON, table bool
	cmd := &cobra.Command{
		Use:   "rules [CODE]",
		Short: "Show the rules of sale of a jurisdiction, with their sources",
		Long: "Lists the rule sets there are, or shows one: what wood is sold by, what a receipt\n" +
			"holds, which terms are no quantity. Each rule says where it comes from and whether\n" +
			"that was read, is second-hand, or is from memory. With --rules it checks a file of\n" +
			"the shop's own; a file may start from a set with \"extends\" and its code.\n" +
			"A reading of the law, not legal advice.",
		Example: "  wellstowed rules\n  wellstowed rules maine\n  wellstowed rules us-model --json",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			system := act.Units(units)
			if system != act.Imperial && system != act.Metric {
				return refuse("--units: read %q; accepted: imperial, metric", units)
			}
			book, err := ruleBook(file)
			if err != nil {
				return err
			}
			if check != "" {
				return m.checkRules(book, check)
			}
			a := answerer{out: bufio.NewWriter(m.out), print: words.New("en", system), json: asJSON}
			defer a.out.Flush()
			switch {
			case table:
				return a.ruleTable(book)
			case len(args) == 0:
				return a.ruleSets(book)
			}
			set, err := book.Get(args[0])
			if err != nil {
				return refuse("rules: %w", err)
			}
			return a.ruleSet(set)
		},
	}
	rulesFlag(cmd, &file)
	cmd.Flags().StringVar(&check, "check", "", "JSON file of a rule set to check: every item that is missing, wrong or without a source, each with its line")
	cmd.Flags().BoolVar(&table, "table", false, "all sets side by side")
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the rule set as JSON, as a file of one's own would hold it")
	cmd.Flags().StringVar(&units, "units", string(act.Imperial), "units of the answer for people: imperial or metric")
	return cmd
}

// checkRules prints every fault of a rule set file, which is refused where there is any;
// where there is none, how its items are known and what it does not hold.
func (m machine) checkRules(book rules.Book, name string) error {
	text, err := os.ReadFile(name)
	if err != nil {
		return refuse("--check: %w", err)
	}
	set, faults := book.Check(text)
	for _, f := range faults {
		fmt.Fprintf(m.out, "%s: %s\n", name, f.Error())
	}
	if len(faults) > 0 {
		return refuse("--check: %s: faults found: %d", name, len(faults))
	}
	print := words.New("en", act.Imperial)
	fmt.Fprintf(m.out, "%s: no fault was found\n%s\nWhat it does not hold\n", name, print.Unread(set))
	for _, gap := range print.Gaps(set) {
		fmt.Fprintf(m.out, "  %s\n", gap)
	}
	return nil
}

// ruleTable prints all sets side by side, a line each, parted by tabs.
func (a answerer) ruleTable(book rules.Book) error {
	if a.json {
		return a.indented(a.print.RuleTable(book.All()))
	}
	w := tabwriter.NewWriter(a.out, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, strings.Join(a.print.RuleColumns(), "\t"))
	for _, row := range a.print.RuleTable(book.All()) {
		fmt.Fprintln(w, strings.Join(append([]string{row.Code}, row.Cells...), "\t"))
	}
	return w.Flush()
}

// ruleSets lists the rule sets, one a line.
func (a answerer) ruleSets(book rules.Book) error {
	if a.json {
		return a.indented(book.All())
	}
	for _, s := range book.All() {
		fmt.Fprintf(a.out, "%-14s %s\n", s.Code, s.Name)
	}
	return nil
}

// ruleSet shows one rule set in plain words.
func (a answerer) ruleSet(set rules.Set) error {
	if a.json {
		return a.indented(set)
	}
	fmt.Fprintf(a.out, "%s\nEdition %s, read on %s.\n%s\n", set.Name, set.Edition, a.print.ReadOn(set), a.print.NotAdvice(set))
	fmt.Fprintln(a.out, a.print.Unread(set))
	for _, c := range a.print.Chapters(set) {
		fmt.Fprintf(a.out, "\n%s\n", c.Heading)
		for _, r := range c.Rules {
			fmt.Fprintf(a.out, "  %s\n      %s\n", r.Words, r.Source)
		}
	}
	fmt.Fprintf(a.out, "\nWhat it does not hold\n")
	for _, gap := range a.print.Gaps(set) {
		fmt.Fprintf(a.out, "  %s\n", gap)
	}
	fmt.Fprintf(a.out, "\nWhere it all comes from\n  %s\n", a.print.Mark(set.Known))
	return nil
}
