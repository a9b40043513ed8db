package main

import (
	"bufio"
	"fmt"
	"io"

	"wellstowed/measure/procedure"
	"wellstowed/measure/stack"
	"wellstowed/receipts"
)

// combine measures several tallies of one stack, a file each, and prints whether they
// agree and what they come to together.
func (m machine) combine(names []string, a answerer) error {
	var tallies []stack.Tally
	for _, name := range names {
		doc, err := m.document(name)
		if err != nil {
			return err
		}
		tally, err := a.parse(doc)
		switch {
		case err != nil && a.json:
			a.line(map[string]any{"file": name, "error": a.faults(err)})
			return errRefused
		case err != nil:
			return refuse("%s was refused:\n%s", name, a.sentences(err))
		}
		tallies = append(tallies, tally)
	}
	c, err := stack.Combine(tallies)
	switch {
	case err != nil && a.json:
		a.line(map[string]any{"error": a.faults(err)})
		return errRefused
	case err != nil:
		return refuse("the tallies were not combined:\n%s", a.sentences(err))
	case a.json:
		out := a.print.Combined(c)
		for i := range out.Each {
			out.Each[i] = a.answer(tallies[i], c.Each[i])
		}
		return a.indented(out)
	}
	a.together(names, tallies, c)
	return nil
}

// document reads a file as one tally, or the one inside a measurement sheet's PDF, and no
// more of it than tells that it is too long.
func (m machine) document(name string) ([]byte, error) {
	in, err := m.open(name)
	if err != nil {
		return nil, refuse("%w", err)
	}
	defer in.Close()
	file := bufio.NewReader(in)
	if begin, _ := file.Peek(5); receipts.IsPDF(begin) {
		return tallyInside(name, file)
	}
	doc, err := io.ReadAll(io.LimitReader(file, stack.MaxTallyBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return doc, nil
}

// together prints the combined answer to be read.
func (a answerer) together(names []string, tallies []stack.Tally, c stack.Combined) {
	fmt.Fprintf(a.out, "%s\n", a.print.Agreement(c))
	for _, pair := range c.Pairs {
		fmt.Fprintf(a.out, "  %s\n", a.print.Apartness(pair, c.Result.Quantity.Basis, names[pair.First-1], names[pair.Second-1]))
	}
	for i, r := range c.Each {
		fmt.Fprintf(a.out, "  %d. %s: %s\n", i+1, names[i], a.print.Finding(r))
		if k, found := a.reckoning(); found {
			p := procedure.Of(tallies[i], k)
			fmt.Fprintf(a.out, "     %s: %s\n", a.print.ProcedureTitle(p.Named != nil), a.print.ProcedureLead(p))
		}
	}
	fmt.Fprintln(a.out, "\nTogether")
	a.people(stack.Tally{}, c.Result)
}
