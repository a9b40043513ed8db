package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// A table reads tallies from CSV (RFC 4180), one a line. Its first line names for
// each column a place in the tally document, such as sold or stack.rows[0].length;
// with [] behind it the cells hold several readings with semicolons between them,
// and with a unit in brackets, "stack.rows[0].heights[] (in)", bare numbers in the
// column are in that unit. Empty cells are not said.
type table struct {
	columns []column
	names   []string
}

type column struct {
	steps  []string // of the path: names, and indices as digits
	list   bool
	number bool // the document has a number there, not a reading
	unit   string
}

// numbers are the places where the tally document has a number.
var numbers = regexp.MustCompile(`(^|\.)(format|look|share|percent|highest|basic_gravity|degrees|count)$|^(moisture|gaps)\.pieces$|\bwindow\.pieces$`)

var heading = regexp.MustCompile(`^([a-z_]+(?:\[\d{1,3}\])?(?:\.[a-z_]+(?:\[\d{1,3}\])?)*)(\[\])?(?: \(([a-z]+)\))?$`)

// readHeading reads a table's first line.
func readHeading(line []byte) (*table, error) {
	cells, err := cellsOf(line)
	if err != nil {
		return nil, refuse("line 1: %w", err)
	}
	t := &table{names: cells}
	for i, cell := range cells {
		m := heading.FindStringSubmatch(strings.TrimSpace(cell))
		if m == nil {
			return nil, refuse("line 1, column %d: read %q; accepted: a place in the tally document, such as sold, "+
				"stack.pieces[] (in), stack.rows[0].length or stack.rows[0].heights[] (in)", i+1, cell)
		}
		t.columns = append(t.columns, column{
			steps: strings.FieldsFunc(m[1], func(r rune) bool { return strings.ContainsRune(".[]", r) }),
			list:  m[2] != "", unit: m[3], number: numbers.MatchString(m[1]),
		})
	}
	return t, nil
}

func cellsOf(line []byte) ([]string, error) {
	if len(line) > stack.MaxTallyBytes {
		return nil, fmt.Errorf("the line is longer than %d bytes, the most a tally may have", stack.MaxTallyBytes)
	}
	line = bytes.TrimPrefix(line, []byte("\ufeff"))
	if len(bytes.TrimSpace(line)) == 0 {
		return nil, errors.New("the line is empty")
	}
	return csv.NewReader(bytes.NewReader(line)).Read()
}

// document makes the tally document of one line.
func (t *table) document(line []byte) ([]byte, error) {
	cells, err := cellsOf(line)
	if err != nil {
		return nil, lineFault("bad-csv", measure.Say("the line is not CSV: %s", err.Error()), measure.Say("one tally a line, cells with commas between them"))
	}
	if len(cells) != len(t.columns) {
		return nil, lineFault("mismatch", measure.Say("the line has %d cells and the first line %d", len(cells), len(t.columns)),
			measure.Say("a cell, which may be empty, for each column"))
	}
	doc := map[string]any{"format": stack.TallyFormat, "stack": map[string]any{"kind": "rows"}}
	for i, c := range t.columns {
		if cell := strings.TrimSpace(cells[i]); cell != "" {
			place(doc, c.steps, c.value(cell))
		}
	}
	return json.Marshal(doc)
}

func lineFault(code string, reason, accepts measure.Text) error {
	return &measure.InputError{Code: code, Reason: reason, Accepts: accepts}
}

func (c column) value(cell string) any {
	if c.number && json.Valid([]byte(cell)) {
		return json.RawMessage(cell)
	}
	if !c.list {
		return c.reading(cell)
	}
	var readings []stack.Reading
	for _, part := range strings.Split(cell, ";") {
		readings = append(readings, c.reading(strings.TrimSpace(part)))
	}
	return readings
}

func (c column) reading(text string) stack.Reading {
	if c.unit == "" {
		return stack.Reading(text)
	}
	return stack.WithUnit(text, c.unit)
}

// place puts a value at a path, making what is missing on the way, and gives the
// node it was put in.
func place(node any, steps []string, value any) any {
	if len(steps) == 0 {
		return value
	}
	if i, err := strconv.Atoi(steps[0]); err == nil {
		list, _ := node.([]any)
		list = slices.Concat(list, make([]any, max(0, i+1-len(list))))
		list[i] = place(list[i], steps[1:], value)
		return list
	}
	fields, ok := node.(map[string]any)
	if !ok {
		fields = map[string]any{}
	}
	fields[steps[0]] = place(fields[steps[0]], steps[1:], value)
	return fields
}
