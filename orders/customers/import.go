package customers

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"wellstowed/measure"
	"wellstowed/orders/act"
)

// MaxImport is the largest list that is read, in bytes; MostImported its most lines.
const (
	MaxImport    = 1 << 20
	MostImported = 10_000
)

// An Import is what came, or would come, of a list of customers.
type Import struct {
	New   []Record `json:"new"`   // to be added
	Known []Line   `json:"known"` // kept already, or twice in the list; nothing of it is changed
	Wrong []Line   `json:"wrong"` // not understood
	// Unused are the headings of columns that nothing is taken from.
	Unused []string `json:"unused,omitempty"`
}

// A Line is one line of a list, with what there is to say of it.
type Line struct {
	Number int          `json:"number"` // the first line of the list is 1
	Name   string       `json:"name"`
	Says   measure.Text `json:"-"`
}

// DryRun tells what would come of a list, and keeps nothing. The list is CSV (RFC 4180, in
// UTF-8; commas, semicolons or tabs) whose first line names its columns: name, address or
// street and town, phone, how to get in, stacking, place.
func (s *Service) DryRun(ctx context.Context, who act.Actor, list []byte) (out Import, err error) {
	if err := act.Allow(who, act.ToManage); err != nil {
		return Import{}, err
	}
	err = s.acts.Store.Read(ctx, func(tx Tx) error {
		out, err = plan(tx, list)
		return err
	})
	return out, act.Fail(err)
}

// An ImportRequest is a list to be kept.
type ImportRequest struct {
	List string `json:"list"`
}

// Import keeps the customers of a list that aren't kept yet. It is Invalid where a line was
// not understood: then none is kept.
func (s *Service) Import(ctx context.Context, by act.Act, q ImportRequest) (out Import, err error) {
	_, err = act.Do(ctx, s.acts, by, act.Write{Verb: Imported, May: act.ToManage, Content: q}, func(tx Tx) (string, error) {
		if out, err = plan(tx, []byte(q.List)); err != nil {
			return "", err
		}
		if len(out.Wrong) > 0 {
			l := out.Wrong[0]
			return "", act.NewInvalid("list", "not-understood", l.Name, measure.Say("line %d: %s", l.Number, l.Says), measure.Say("a list without such lines"))
		}
		for _, r := range out.New {
			if _, err := s.add(tx, r); err != nil {
				return "", err
			}
		}
		return "", nil
	}, act.Nothing)
	return out, err
}

// plan reads a list against what is kept.
func plan(tx Tx, list []byte) (out Import, err error) {
	kept, err := tx.CustomerRecords()
	if err != nil {
		return out, err
	}
	lines, columns, err := readList(list)
	if err != nil {
		return out, err
	}
	out.Unused = columns.unused
	for _, l := range lines {
		r, err := read(Record{}, columns.request(l.fields))
		line := Line{Number: l.number, Name: r.Name}
		var e *act.Error
		switch {
		case errors.As(err, &e) && len(e.Fields) > 0:
			line.Says = measure.Say("%s: %s", measure.Say(labels[e.Fields[0].Field]), e.Fields[0].Reason)
			out.Wrong = append(out.Wrong, line)
			continue
		case err != nil:
			return out, err
		}
		if slices.ContainsFunc(out.New, func(o Record) bool { return o.Same(r.Name, r.Address, r.Phone) }) {
			line.Says = measure.Say("twice in the list")
		} else if slices.ContainsFunc(kept, func(o Record) bool { return o.Same(r.Name, r.Address, r.Phone) }) {
			line.Says = measure.Say("kept already")
		} else {
			out.New = append(out.New, r)
			continue
		}
		out.Known = append(out.Known, line)
	}
	return out, nil
}

// labels are what the fields are called where a line is told.
var labels = map[string]string{
	"name": "name", "address": "address", "phone": "phone", "access": "how to get in", "stacking": "stacking", "place": "place",
}

// headings are the names a column may have, by field.
var headings = map[string]string{
	"name": "name", "customer": "name", "customer name": "name", "first name": "first", "last name": "last",
	"address": "address", "street": "address", "street address": "address", "town": "town", "city": "town",
	"state": "region", "zip": "code", "postal code": "code", "postcode": "code",
	"phone": "phone", "telephone": "phone", "phone number": "phone", "mobile": "phone", "cell": "phone",
	"access": "access", "how to get in": "access", "directions": "access", "notes": "access", "stacking": "stacking", "place": "place",
}

// columns are where in a line what is.
type columns struct {
	at     map[string]int // by field
	unused []string
}

func (c columns) of(fields []string, name string) string {
	if i, ok := c.at[name]; ok && i < len(fields) {
		return strings.TrimSpace(fields[i])
	}
	return ""
}

// request is a line as a record is typed.
func (c columns) request(fields []string) Request {
	name := c.of(fields, "name")
	if name == "" {
		name = strings.TrimSpace(c.of(fields, "first") + " " + c.of(fields, "last"))
	}
	town := strings.TrimSpace(strings.Join(said(c.of(fields, "town"), strings.TrimSpace(c.of(fields, "region")+" "+c.of(fields, "code"))), ", "))
	return Request{
		Name: name, Address: strings.Join(said(c.of(fields, "address"), town), "\n"), Phone: c.of(fields, "phone"),
		Access: c.of(fields, "access"), Stacking: c.of(fields, "stacking"), Place: c.of(fields, "place"),
	}
}

// said are the texts that aren't empty.
func said(texts ...string) []string {
	return slices.DeleteFunc(texts, func(t string) bool { return t == "" })
}

type listLine struct {
	number int
	fields []string
}

// readList reads a list into its lines; empty lines are left out.
func readList(list []byte) (lines []listLine, c columns, err error) {
	list = bytes.TrimPrefix(list, []byte("\uFEFF"))
	switch {
	case len(list) > MaxImport:
		return nil, c, act.NewInvalid("list", "too-large", "", measure.Say("the list is larger than 1 MB"), measure.Say("a part of it at a time"))
	case !utf8.Valid(list):
		return nil, c, act.NewInvalid("list", "bad-text", "", measure.Say("the list is not text in UTF-8"), measure.Say("the list saved as CSV UTF-8"))
	}
	r := csv.NewReader(bytes.NewReader(list))
	r.Comma, r.FieldsPerRecord = separator(list), -1
	for {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			var fault *csv.ParseError
			at := 1
			if errors.As(err, &fault) {
				at = fault.Line
			}
			return nil, c, act.NewInvalid("list", "not-understood", "", measure.Say("line %d: its quotes don’t close as CSV asks", at), measure.Say("a list saved as CSV"))
		}
		number, _ := r.FieldPos(0)
		if len(said(slices.Clone(fields)...)) > 0 {
			lines = append(lines, listLine{number, fields})
		}
		if len(lines) > MostImported {
			return nil, c, act.NewInvalid("list", "too-large", "", measure.Say("the list has more than %d lines", MostImported), measure.Say("a part of it at a time"))
		}
	}
	if len(lines) == 0 {
		return nil, c, act.NewInvalid("list", "missing", "", measure.Say("the list is empty"), acceptedHeadings())
	}
	c = readHeadings(lines[0].fields)
	_, name := c.at["name"]
	if _, last := c.at["last"]; !name && !last {
		return nil, c, act.NewInvalid("list", "no-name", strings.Join(lines[0].fields, ", "), measure.Say("no column of its first line is called “name”"), acceptedHeadings())
	}
	return lines[1:], c, nil
}

func acceptedHeadings() measure.Text {
	return measure.Say("a first line that names the columns: name, address, phone, how to get in, stacking, place")
}

func readHeadings(fields []string) columns {
	c := columns{at: map[string]int{}}
	for i, f := range fields {
		name, ok := headings[plain(f)]
		if _, twice := c.at[name]; !ok || twice {
			c.unused = append(c.unused, said(strings.TrimSpace(f))...)
			continue
		}
		c.at[name] = i
	}
	return c
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
