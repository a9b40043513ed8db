package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"wellstowed/measure"
	"wellstowed/measure/series"
	"wellstowed/orders/act"
	"wellstowed/receipts/words"
)

func (m machine) seriesCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "series FILE [FILE ...]",
		Short: "What several audits of one seller show together",
		Long: "Reads a tally of each delivery of one seller, a file each or one a line, and prints\n" +
			"the mean error against what was sold, its spread and its 95 % interval, and how many\n" +
			"were found short or full. Fewer than five are listed, with no mean and no interval:\n" +
			"they are too few to say what is usual.\n" +
			"Exit code: 0 when it was worked out; 2 when any input was refused.",
		Example: "  wellstowed series testdata/example-short.json testdata/example-not-settled.json\n  wellstowed series testdata/example-short.json testdata/example-not-settled.json --json",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 1 {
				return nil
			}
			return exactArgs("FILE")(cmd, args)
		},
		RunE: func(_ *cobra.Command, args []string) error { return m.series(args, asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print the answer as JSON")
	return cmd
}

func (m machine) series(names []string, asJSON bool) error {
	a := answerer{out: bufio.NewWriter(m.out), print: words.New("en", act.Imperial), json: asJSON}
	defer a.out.Flush()
	var audits []series.Audited
	for _, name := range names {
		docs, err := m.documents(name)
		if err != nil {
			return err
		}
		for _, doc := range docs {
			one, err := a.audited(doc)
			if err != nil {
				return a.refused(name, err, asJSON)
			}
			audits = append(audits, one)
		}
	}
	s, err := series.Of(audits)
	if err != nil {
		return a.refused("series", err, asJSON)
	}
	if asJSON {
		return a.indented(s)
	}
	fmt.Fprintln(a.out, a.print.SeriesLead(s))
	for _, line := range a.print.Series(s) {
		fmt.Fprintf(a.out, "  %s\n", line)
	}
	return nil
}

// mostSeries is as much of a file as series reads.
const mostSeries = 64 << 20

// documents reads a file as one tally, or where its first line is a whole document as
// one a line.
func (m machine) documents(name string) ([][]byte, error) {
	in, err := m.open(name)
	if err != nil {
		return nil, refuse("%w", err)
	}
	defer in.Close()
	all, err := io.ReadAll(io.LimitReader(in, mostSeries+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: %w", name, err)
	case len(all) > mostSeries:
		return nil, refuse("%s is over the limit of %d bytes", name, mostSeries)
	}
	lines := bytes.Split(bytes.TrimSpace(all), []byte("\n"))
	if !json.Valid(lines[0]) {
		return [][]byte{all}, nil
	}
	return slices.DeleteFunc(lines, func(line []byte) bool { return len(bytes.TrimSpace(line)) == 0 }), nil
}

// audited measures one tally of a delivery; it is refused where it is held against no
// sale on its own basis.
func (a answerer) audited(doc []byte) (series.Audited, error) {
	_, r, err := a.measured(doc)
	if err != nil {
		return series.Audited{}, err
	}
	f := r.Finding
	if f == nil || f.Expectation() {
		return series.Audited{}, &measure.InputError{Field: "sold", Code: "missing",
			Reason:  measure.Say("nothing was sold that these readings can be held against"),
			Accepts: measure.Say("what was sold, in the measure that was read")}
	}
	return series.Audited{Volume: r.Quantity.Volume, Standard: r.Standard, Sold: f.Due, Word: f.Word}, nil
}
