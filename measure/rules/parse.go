package rules

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// Limits of a rule set file.
const (
	MaxBytes   = 256_000
	maxNesting = 8
)

// A FileError is a fault of a rule set file: where and what.
type FileError struct {
	Line   int    `json:"line"` // from 1
	Reason string `json:"reason"`
}

// Error gives the line and the reason.
func (e *FileError) Error() string { return "line " + strconv.Itoa(e.Line) + ": " + e.Reason }

// Parse reads a rule set file. Unknown, doubled and missing fields are refused, as
// is any item without its source and status; the error is a *FileError.
func Parse(b []byte) (Set, error) {
	f, s, err := decode(b)
	if err == nil {
		err = f.check(s)
	}
	if err != nil {
		return Set{}, err
	}
	return s, nil
}

// decode reads a file without holding the set against what it must have; the error is a
// *FileError.
func decode(b []byte) (*file, Set, error) {
	if len(b) > MaxBytes {
		return nil, Set{}, &FileError{1, fmt.Sprintf("a file of %d bytes is over the limit of %d", len(b), MaxBytes)}
	}
	f := &file{text: b, lines: map[string]int{}, values: map[string]int{}}
	if err := f.walk(); err != nil {
		return nil, Set{}, err
	}
	var s Set
	if err := strictly(b, &s); err != nil {
		return nil, Set{}, f.fault(err)
	}
	return f, s, nil
}

// Check reads a shop's own file as With does and gives its set, with all of the set that
// it extends, or every fault in the order of its lines: what is missing or wrong, and each
// item without its source or status. What isn't a set at all has one.
func (b Book) Check(text []byte) (Set, []*FileError) {
	f, s, err := decode(text)
	if err == nil {
		faults := f.faultsOf(s)
		slices.SortStableFunc(faults, func(a, b *FileError) int { return a.Line - b.Line })
		if len(faults) > 0 {
			return Set{}, faults
		}
		if b, err = b.With(text); err == nil {
			s, err = b.Get(s.Code)
		}
	}
	var fault *FileError
	if errors.As(err, &fault) {
		return Set{}, []*FileError{fault}
	}
	return s, nil
}

// strictly decodes one value and refuses fields it does not know.
func strictly(b []byte, to any) error {
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	return d.Decode(to)
}

// A file is the text of a set, and the lines where its fields and values stand.
type file struct {
	text   []byte
	lines  map[string]int // by path: "barred[2].source"
	values map[string]int // by text, the first of each
}

// walk notes the line of every field and refuses doubled ones, names that are not
// in small letters, and anything after the set.
func (f *file) walk() error {
	d := json.NewDecoder(bytes.NewReader(f.text))
	if err := f.value(d, "", 0); err != nil {
		return f.fault(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return &FileError{f.line(d.InputOffset()), "there is more after the end of the set"}
	}
	return nil
}

func (f *file) value(d *json.Decoder, path string, depth int) error {
	if depth > maxNesting {
		return &FileError{f.line(d.InputOffset()), "brackets are nested too deep"}
	}
	token, err := d.Token()
	if err != nil {
		return err
	}
	f.lines[path] = f.line(d.InputOffset())
	switch token {
	case json.Delim('{'):
		err = f.fields(d, path, depth)
	case json.Delim('['):
		err = f.items(d, path, depth)
	default:
		if path == "" {
			return &FileError{f.lines[path], "this is not a rule set: it starts with “{”"}
		}
		if text, ok := token.(string); ok && f.values[text] == 0 {
			f.values[text] = f.lines[path]
		}
		return nil
	}
	if err != nil {
		return err
	}
	_, err = d.Token()
	return err
}

func (f *file) fields(d *json.Decoder, path string, depth int) error {
	for d.More() {
		token, err := d.Token()
		if err != nil {
			return err
		}
		name := fmt.Sprint(token)
		at := strings.TrimPrefix(path+"."+name, ".")
		if strings.Trim(name, "abcdefghijklmnopqrstuvwxyz_") != "" {
			return &FileError{f.line(d.InputOffset()), fmt.Sprintf("unknown field %q", name)}
		}
		if _, twice := f.lines[at]; twice {
			return &FileError{f.line(d.InputOffset()), fmt.Sprintf("field %q is there twice", name)}
		}
		if err := f.value(d, at, depth+1); err != nil {
			return err
		}
	}
	return nil
}

func (f *file) items(d *json.Decoder, path string, depth int) error {
	for i := 0; d.More(); i++ {
		if err := f.value(d, path+"["+strconv.Itoa(i)+"]", depth+1); err != nil {
			return err
		}
	}
	return nil
}

// line is the line of an offset.
func (f *file) line(offset int64) int {
	offset = min(max(offset, 0), int64(len(f.text)))
	return 1 + bytes.Count(f.text[:offset], []byte("\n"))
}

// fault gives a decoding error its line.
func (f *file) fault(err error) error {
	var known *FileError
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	var input *measure.InputError
	switch {
	case errors.As(err, &known):
		return known
	case errors.As(err, &syntax):
		return &FileError{f.line(syntax.Offset), "this is not JSON: " + syntax.Error()}
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return &FileError{f.line(int64(len(f.text))), "the file ends too early"}
	case errors.As(err, &kind):
		return &FileError{f.line(kind.Offset), fmt.Sprintf("%s cannot be a %s", kind.Field, kind.Value)}
	case errors.As(err, &input):
		return &FileError{max(f.values[input.Got], 1), input.Error()}
	}
	reason := strings.TrimPrefix(err.Error(), "json: ")
	if name, ok := strings.CutPrefix(reason, "unknown field "); ok {
		return &FileError{f.lineOfName(strings.Trim(name, `"`)), reason}
	}
	return &FileError{max(f.lines[""], 1), reason}
}

// lineOfName is the first line with a field of this name.
func (f *file) lineOfName(name string) int {
	first := 0
	for path, line := range f.lines {
		if (path == name || strings.HasSuffix(path, "."+name)) && (first == 0 || line < first) {
			first = line
		}
	}
	return max(first, 1)
}

// lineOf is the line of a field, or of what should hold it.
func (f *file) lineOf(path string) int {
	for {
		if line, ok := f.lines[path]; ok {
			return line
		}
		cut := strings.LastIndexAny(path, ".[")
		if cut < 0 {
			return max(f.lines[""], 1)
		}
		path = path[:cut]
	}
}

// statuses are the statuses an item may have.
func statuses() []Status { return []Status{Read, SecondHand, FromMemory} }

func validStatus(s Status) bool { return slices.Contains(statuses(), s) }
