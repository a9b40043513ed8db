package lot

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// ParseCSV reads a lot as a table, at most MaxBytes. Lines that begin with # stand
// first and hold what is true of the lot; then come the names of the columns and a
// line for each package measured:
//
//	# format: 1
//	# labelled: 0.75 cu ft
//	# lot size: 30
//	# seed: 12345
//	# drawn: 777, 12345
//	# limit: 0.05 cu ft
//	number,volume
//	3,0.74 cu ft
//
// The columns are number,volume or number,length,area; seed, drawn (every seed drawn
// for the lot, in order) and limit may be left out. The error is measure.InputErrors, each with its line, or what reading gave.
func ParseCSV(r io.Reader) (Lot, error) {
	doc, err := io.ReadAll(io.LimitReader(r, MaxBytes+1))
	if err != nil {
		return Lot{}, fmt.Errorf("reading a lot: %w", err)
	}
	doc = bytes.TrimPrefix(doc, []byte("\uFEFF")) // spreadsheets write one
	if fault := checkBytes(doc, headAccepts()); fault != nil {
		return Lot{}, measure.InputErrors{fault}
	}
	var errs faults
	t := table{places: map[string]string{}}
	lines := t.head(string(doc), &errs)
	t.body(lines, &errs)
	t.draft.at = t.at
	l := t.draft.lot(&errs)
	if len(errs) > 0 {
		return Lot{}, errs.listed(t.draft.read)
	}
	return l, nil
}

func headAccepts() measure.Text {
	return measure.Say("lines “# format: 1”, “# labelled: …”, “# lot size: …”, then number,volume and a line for each package")
}

// A table is a lot read line by line.
type table struct {
	draft  draft
	places map[string]string // of the head's values, by field
	lines  []int             // of each package
	above  int               // lines of the head
}

// at names the line a value stands on, or the field where it stands nowhere.
func (t *table) at(i int, field string) string {
	if i < 0 {
		if place, ok := t.places[field]; ok {
			return place
		}
		return field
	}
	if field == "" {
		return line(t.lines[i])
	}
	return line(t.lines[i]) + ", " + field
}

func line(n int) string { return "line " + strconv.Itoa(n) }

// head reads the lines that begin with # and gives the rest.
func (t *table) head(text string, errs *faults) string {
	fields := map[string]**string{
		"format": &t.draft.format, "labelled": &t.draft.labelled, "lot_size": &t.draft.lotSize,
		"seed": &t.draft.seed, "drawn": &t.draft.drawn, "limit": &t.draft.limit,
	}
	for text != "" {
		first, rest, _ := strings.Cut(text, "\n")
		first = strings.TrimSpace(first)
		if first != "" && first[0] != '#' {
			return text
		}
		t.above++
		text = rest
		if first != "" {
			t.headLine(strings.TrimSpace(first[1:]), fields, errs)
		}
	}
	return ""
}

func (t *table) headLine(text string, fields map[string]**string, errs *faults) {
	name, value, colon := strings.Cut(text, ":")
	name = strings.ReplaceAll(strings.ToLower(strings.TrimSpace(name)), " ", "_")
	into := fields[name]
	accepts := measure.Say("one line each of # format, # labelled, # lot size, # seed, # drawn, # limit, each with a colon and its value")
	switch {
	case into == nil || !colon:
		errs.add(line(t.above), "unknown-field", text, measure.Say("this line is not known"), accepts)
	case *into != nil:
		errs.add(line(t.above), "duplicate-field", text, measure.Say("this was said above already"), accepts)
	default:
		value = strings.TrimSpace(value)
		*into = &value
		t.places[name] = line(t.above) + ", " + name
	}
}

// body reads the names of the columns and the packages.
func (t *table) body(text string, errs *faults) {
	reader := csv.NewReader(strings.NewReader(text))
	reader.FieldsPerRecord = -1
	reader.TrimLeadingSpace = true
	var columns []string
	for {
		cells, err := reader.Read()
		switch {
		case err == io.EOF && columns == nil:
			errs.add("columns", "missing", "", measure.Say("the names of the columns are missing"), columnsAccepted())
			return
		case err == io.EOF:
			return
		case err != nil:
			t.badLine(err, errs)
			return
		}
		at, _ := reader.FieldPos(0)
		if columns != nil {
			t.row(at+t.above, columns, cells, errs)
		} else if columns = columnsOf(cells); columns == nil {
			errs.add(line(at+t.above), "unknown-columns", strings.Join(cells, ","), measure.Say("these are not the names of the columns"), columnsAccepted())
			return
		}
	}
}

func columnsAccepted() measure.Text { return measure.Say("number,volume or number,length,area") }

func columnsOf(cells []string) []string {
	for i := range cells {
		cells[i] = strings.TrimSpace(cells[i])
	}
	if slices.Equal(cells, []string{"number", "volume"}) || slices.Equal(cells, []string{"number", "length", "area"}) {
		return cells
	}
	return nil
}

func (t *table) badLine(err error, errs *faults) {
	at, reason := t.above+1, err.Error()
	var parse *csv.ParseError
	if errors.As(err, &parse) {
		at, reason = parse.StartLine+t.above, parse.Err.Error()
	}
	errs.add(line(at), "bad-csv", "", measure.Say("this line can’t be taken apart: %s", reason), measure.Say("cells with commas between them, quotes only around a whole cell"))
}

func (t *table) row(n int, columns, cells []string, errs *faults) {
	if len(cells) != len(columns) {
		errs.add(line(n), "wrong-columns", strings.Join(cells, ","), measure.Say("this line has %d cells, not %d", len(cells), len(columns)), measure.Say("%s", strings.Join(columns, ",")))
		return
	}
	var p draftPackage
	fields := map[string]**string{"number": &p.number, "volume": &p.volume, "length": &p.length, "area": &p.area}
	for i, name := range columns {
		text := strings.TrimSpace(cells[i])
		*fields[name] = &text
	}
	t.draft.packages = append(t.draft.packages, p)
	t.lines = append(t.lines, n)
}
