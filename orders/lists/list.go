// Package lists reads lists that people bring in: CSV (RFC 4180, in UTF-8; commas,
// semicolons or tabs) whose first line names its columns.
package lists

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// MaxBytes is the largest list that is read, and MostLines its most lines.
const (
	MaxBytes  = 1 << 20
	MostLines = 10_000
)

// A List is what was read of one.
type List struct {
	Lines  []Line
	Names  []string // of its columns, as the first line has them
	Unused []string // those of columns that nothing is taken from
	at     map[string]int
}

// A Line is one line of a list; empty lines are left out.
type Line struct {
	Number int // the first line of the list is 1
	fields []string
	at     map[string]int
}

// Has tells whether a column of a field is in the list.
func (l List) Has(field string) bool {
	_, has := l.at[field]
	return has
}

// Of is what a line says in the column of a field, empty where there is none.
func (l Line) Of(field string) string {
	if i, ok := l.at[field]; ok && i < len(l.fields) {
		return strings.TrimSpace(l.fields[i])
	}
	return ""
}

// Read reads a list. The headings name a field for each name a column may have, in small
// letters; accepts says which are asked for. The error is Invalid, of the field "list".
func Read(list []byte, headings map[string]string, accepts measure.Text) (out List, err error) {
	list = bytes.TrimPrefix(list, []byte("\uFEFF"))
	switch {
	case len(list) > MaxBytes:
		return out, act.NewInvalid("list", "too-large", "", measure.Say("the list is larger than 1 MB"), measure.Say("a part of it at a time"))
	case !utf8.Valid(list):
		return out, act.NewInvalid("list", "bad-text", "", measure.Say("the list is not text in UTF-8"), measure.Say("the list saved as CSV UTF-8"))
	}
	lines, err := split(list)
	switch {
	case err != nil:
		return out, err
	case len(lines) == 0:
		return out, act.NewInvalid("list", "missing", "", measure.Say("the list is empty"), accepts)
	}
	out.head(lines[0].fields, headings)
	for _, l := range lines[1:] {
		l.at = out.at
		out.Lines = append(out.Lines, l)
	}
	return out, nil
}

func split(list []byte) (lines []Line, err error) {
	r := csv.NewReader(bytes.NewReader(list))
	r.Comma, r.FieldsPerRecord = separator(list), -1
	for {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			return lines, nil
		}
		if err != nil {
			var fault *csv.ParseError
			at := 1
			if errors.As(err, &fault) {
				at = fault.Line
			}
			return nil, act.NewInvalid("list", "not-understood", "", measure.Say("line %d: its quotes don’t close as CSV asks", at), measure.Say("a list saved as CSV"))
		}
		number, _ := r.FieldPos(0)
		if len(Said(slices.Clone(fields)...)) > 0 {
			lines = append(lines, Line{Number: number, fields: fields})
		}
		if len(lines) > MostLines {
			return nil, act.NewInvalid("list", "too-large", "", measure.Say("the list has more than %d lines", MostLines), measure.Say("a part of it at a time"))
		}
	}
}

func (l *List) head(fields []string, headings map[string]string) {
	l.at, l.Names = map[string]int{}, fields
	for i, f := range fields {
		name, ok := headings[act.Fold(f)]
		if _, twice := l.at[name]; !ok || twice {
			l.Unused = append(l.Unused, Said(strings.TrimSpace(f))...)
			continue
		}
		l.at[name] = i
	}
}

// Fault says what is wrong with a line, of the error of reading it: its first field, as the labels
// call that, and why. It is false where the error is about no field.
func Fault(err error, labels map[string]string) (says measure.Text, typed bool) {
	var e *act.Error
	if !errors.As(err, &e) || len(e.Fields) == 0 {
		return measure.Text{}, false
	}
	return measure.Say("%s: %s", measure.Say(labels[e.Fields[0].Field]), e.Fields[0].Reason), true
}

// Refusal refuses a list for a line that was not understood, and says what Fault said of it.
func Refusal(line int, name string, says measure.Text) error {
	return act.NewInvalid("list", "not-understood", name, measure.Say("line %d: %s", line, says), measure.Say("a list without such lines"))
}

// Said are the texts that aren't empty.
func Said(texts ...string) []string {
	return slices.DeleteFunc(texts, func(t string) bool { return t == "" })
}

// separator is what the first line has most of.
func separator(list []byte) rune {
	first, _, _ := bytes.Cut(list, []byte("\n"))
	best, most := ',', 0
	for _, r := range ",;\t" {
		if n := bytes.Count(first, []byte(string(r))); n > most {
			best, most = r, n
		}
	}
	return best
}
