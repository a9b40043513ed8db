package main

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"wellstowed/measure/forms"
	"wellstowed/measure/rules"
	"wellstowed/measure/stack"
	"wellstowed/orders/act"
	"wellstowed/receipts"
	"wellstowed/receipts/words"
)

type measureFlags struct {
	json      bool
	lines     bool
	csv       bool
	schema    bool
	units     string
	under     string
	procedure string
}

func (m machine) measureCommand() *cobra.Command {
	var f measureFlags
	cmd := &cobra.Command{
		Use:   "measure FILE|- [FILE ...]",
		Short: "Measure a stack from a tally of its readings",
		Long: "Reads a tally (a JSON document, format 2 or 1; - reads standard input) and prints the\n" +
			"volume, its doubt and, where a quantity was sold, the finding. Where the first\n" +
			"line is a whole document, each line is one tally and each answer one line; a bad\n" +
			"line is reported in its place and the rest go on. So it is with CSV, whose first\n" +
			"line names each column's place in the document: sold, stack.rows[0].length,\n" +
			"stack.rows[0].heights[] (in) for several readings in inches, 48; 47 1/2; 49.\n" +
			"A measurement sheet's PDF is measured by the tally that is inside it.\n" +
			"Several files are tallies of one stack by several people, and are combined.\n" +
			"Exit code: 0 when every tally was measured, whatever the finding; 2 when any\n" +
			"input was refused.",
		Example: "  wellstowed measure testdata/example-short.json\n  wellstowed measure testdata/example-short.json --json\n  wellstowed measure testdata/stacks.csv\n  wellstowed measure testdata/example-short.json --under us-model\n  wellstowed measure testdata/example-short.json testdata/example-short-second.json\n  wellstowed measure testdata/example-photo.json\n  wellstowed measure --schema",
		Args: func(cmd *cobra.Command, args []string) error {
			if f.schema {
				return exactArgs()(cmd, args)
			}
			if len(args) > 1 {
				return nil
			}
			return exactArgs("FILE")(cmd, args)
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if f.schema {
				_, err := m.out.Write(append(forms.Schema(), '\n'))
				return err
			}
			return m.measure(args, f)
		},
	}
	cmd.Flags().BoolVar(&f.json, "json", false, "print the answer as JSON")
	cmd.Flags().BoolVar(&f.lines, "lines", false, "take each line as one tally, whatever the first line holds")
	cmd.Flags().BoolVar(&f.csv, "csv", false, "read CSV; a file whose name ends in .csv is read so anyway")
	cmd.Flags().BoolVar(&f.schema, "schema", false, "print the JSON Schema of a tally, and measure nothing")
	cmd.Flags().StringVar(&f.under, "under", "", "code of the rules of sale, such as massachusetts: the answer for people is in their units, and arithmetic after a handbook's pattern stands beside the model's")
	procedureFlag(cmd, &f.procedure)
	cmd.Flags().StringVar(&f.units, "units", string(act.Imperial), "units of the answer for people: imperial or metric")
	return cmd
}

func (m machine) measure(names []string, f measureFlags) error {
	units := act.Units(f.units)
	if units != act.Imperial && units != act.Metric {
		return refuse("--units: read %q; accepted: imperial, metric", f.units)
	}
	office, err := procedureFile(f.procedure)
	if err != nil {
		return err
	}
	set, print, err := under(f.under, units)
	if err != nil {
		return err
	}
	a := answerer{out: bufio.NewWriter(m.out), print: print, set: set, office: office, json: f.json, progress: m.progress()}
	defer a.out.Flush()
	switch {
	case len(names) == 1:
		return m.measureOne(names[0], f, a)
	case f.lines || f.csv:
		return refuse("--lines and --csv are for one file; several files are combined, each one tally")
	}
	return m.combine(names, a)
}

// measureOne measures what one file holds: a tally, or one a line.
func (m machine) measureOne(name string, f measureFlags, a answerer) error {
	in, err := m.open(name)
	if err != nil {
		return refuse("%w", err)
	}
	defer in.Close()
	reader := bufio.NewReaderSize(in, stack.MaxTallyBytes+1)
	if f.csv || strings.HasSuffix(strings.ToLower(name), ".csv") {
		return a.everyRow(reader)
	}
	first, err := reader.Peek(stack.MaxTallyBytes + 1)
	if err != nil && err != io.EOF {
		return fmt.Errorf("%s: %w", name, err)
	}
	if receipts.IsPDF(first) {
		doc, err := tallyInside(name, reader)
		if err != nil {
			return err
		}
		return a.one(doc)
	}
	line, rest, whole := bytes.Cut(first, []byte("\n"))
	lone := err == io.EOF && len(bytes.TrimSpace(rest)) == 0
	if f.lines || (whole && json.Valid(line) && (f.json || !lone)) {
		return a.everyLine(reader, 0, asItStands)
	}
	return a.one(first)
}

// tallyInside reads a PDF and gives the tally that is inside it.
func tallyInside(name string, in io.Reader) ([]byte, error) {
	pdf, err := io.ReadAll(io.LimitReader(in, receipts.MaxSheetBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	doc, err := receipts.TallyIn(pdf)
	if err != nil {
		return nil, refuse("%s: %w", name, err)
	}
	return doc, nil
}

func (m machine) open(name string) (io.ReadCloser, error) {
	if name == "-" {
		return io.NopCloser(m.in), nil
	}
	return os.Open(name)
}

// An answerer measures tallies and prints what they come to.
type answerer struct {
	out      *bufio.Writer
	print    *words.Printer
	set      *rules.Set       // whose procedure stands beside the answer; nil: none
	office   *rules.Procedure // that goes before the set's; nil: none was named
	json     bool
	progress progress
}

// errRefused ends with the code for refused input where the answer itself has
// already said what was wrong.
var errRefused = &exitError{code: exitRefused}

// one measures a whole file as one tally.
func (a answerer) one(doc []byte) error {
	tally, result, err := a.measured(doc)
	switch {
	case err != nil && a.json:
		a.line(map[string]any{"error": a.faults(err)})
		return errRefused
	case err != nil:
		return refuse("the tally was refused:\n%s", a.sentences(err))
	case a.json:
		return a.indented(a.answer(tally, result))
	}
	a.people(tally, result)
	return nil
}

// everyRow measures each line of a CSV table as one tally.
func (a answerer) everyRow(in *bufio.Reader) error {
	line, err := readLine(in)
	if err != nil && err != io.EOF {
		return err
	}
	t, err := readHeading(line)
	if err != nil {
		return err
	}
	return a.everyLine(in, 1, t.document)
}

func asItStands(line []byte) ([]byte, error) { return line, nil }

func (a answerer) oneLine(n int, line []byte, document func([]byte) ([]byte, error)) error {
	doc, err := document(line)
	if err != nil {
		return err
	}
	tally, result, err := a.measured(doc)
	if err != nil {
		return err
	}
	if a.json {
		a.line(a.answer(tally, result))
		return nil
	}
	fmt.Fprintf(a.out, "line %d: %s\n", n, a.print.Finding(result))
	return nil
}

// readLine reads one line of any length but keeps no more of it than tells that
// it is too long for a tally.
func readLine(in *bufio.Reader) ([]byte, error) {
	line, err := in.ReadSlice('\n')
	kept := bytes.Clone(line)
	for err == bufio.ErrBufferFull {
		_, err = in.ReadSlice('\n')
	}
	if err == io.EOF && len(kept) > 0 {
		err = nil
	}
	return kept, err
}

// parse reads a tally, under the rules of sale where any were named.
func (a answerer) parse(doc []byte) (stack.Tally, error) {
	if a.set == nil {
		return stack.ParseTally(doc)
	}
	return a.set.ParseTally(doc)
}

func (a answerer) measured(doc []byte) (stack.Tally, stack.Result, error) {
	tally, err := a.parse(doc)
	if err != nil {
		return stack.Tally{}, stack.Result{}, err
	}
	result, err := stack.Measure(tally)
	return tally, result, err
}

func (a answerer) badLine(n int, err error) {
	if a.json {
		a.line(map[string]any{"line": n, "error": a.faults(err)})
		return
	}
	fmt.Fprintf(a.out, "line %d: refused: %s\n", n, a.sentences(err))
}

func (a answerer) line(v any) {
	enc := json.NewEncoder(a.out)
	enc.SetEscapeHTML(false)
	// Writes to a bufio.Writer fail only at Flush; the values always encode.
	_ = enc.Encode(v)
}

func (a answerer) indented(v any) error {
	enc := json.NewEncoder(a.out)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}
