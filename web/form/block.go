package form

import (
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/forms"
)

// A Block is what stands together on a form: one reading, a list of readings, or a
// list of parts that have blocks of their own.
type Block struct {
	Path  string       // of the reading or of the list
	Field *forms.Field // of the reading or of the list's readings; nil of a list of parts
	Value string       // of a reading
	Cells []Cell       // of a list of readings
	Parts [][]Block    // of a list of parts
	List  bool
	Grow  int // places that one press adds to the list; 0: no more goes in
	// When and Ways are what all fields of it hang on.
	When   forms.When
	Either string
	Ways   []string
}

// A Cell is one reading of a list.
type Cell struct{ Path, Value string }

// Groups are the groups of the form.
func (s *Stack) Groups() []forms.Group { return s.form.Groups }

// Field gives a field of the form by its declared path.
func (s *Stack) Field(path string) (forms.Field, bool) {
	for _, g := range s.form.Groups {
		for _, f := range g.Fields {
			if f.Path == path {
				return f, true
			}
		}
	}
	return forms.Field{}, false
}

// Single tells whether no two fields of the form have a label.
func (s *Stack) Single(label measure.Text) bool {
	count := 0
	for _, g := range s.form.Groups {
		for _, f := range g.Fields {
			if f.Label.Key == label.Key {
				count++
			}
		}
	}
	return count < 2
}

// Blocks are the blocks of some fields, in the place that path names: of the whole
// document, or of one part of a list.
func (s *Stack) Blocks(fields []forms.Field, path string) []Block {
	all := make([]*forms.Field, len(fields))
	for i := range fields {
		all[i] = &fields[i]
	}
	return s.blocks(all, path, len(steps(path)))
}

// blocks are those of fields whose first steps lead to path.
func (s *Stack) blocks(fields []*forms.Field, path string, used int) []Block {
	var all []Block
	for len(fields) > 0 {
		declared := steps(fields[0].Path)
		next := slices.Index(declared[used:], item)
		var b Block
		n := 1
		switch list := used + next; {
		case next < 0:
			b = Block{Path: below(path, declared[used:]), Field: fields[0]}
			b.Value = s.values[b.Path]
		case list == len(declared)-1:
			b = s.cells(fields[0], below(path, declared[used:list]))
		default:
			n = alike(fields, list+1)
			b = s.parts(fields[:n], below(path, declared[used:list]), list+1)
		}
		b.hang(fields[:n])
		all, fields = append(all, b), fields[n:]
	}
	return all
}

func below(path string, names []string) string {
	for _, name := range names {
		path = child(path, name)
	}
	return path
}

// alike counts the fields at the front whose first steps are one.
func alike(fields []*forms.Field, n int) int {
	first := steps(fields[0].Path)[:n]
	count := 0
	for _, f := range fields {
		if declared := steps(f.Path); len(declared) < n || !slices.Equal(declared[:n], first) {
			break
		}
		count++
	}
	return count
}

func (s *Stack) cells(f *forms.Field, path string) Block {
	b := Block{Path: path, Field: f, List: true, Grow: s.grow(path)}
	for i := range s.places[path] {
		at := entry(path, i)
		b.Cells = append(b.Cells, Cell{at, s.values[at]})
	}
	return b
}

func (s *Stack) parts(fields []*forms.Field, path string, used int) Block {
	b := Block{Path: path, List: true, Grow: s.grow(path)}
	for i := range s.places[path] {
		at := entry(path, i)
		if steps(fields[0].Path)[used] == item { // a line of a list of lists
			b.Parts = append(b.Parts, []Block{s.cells(fields[0], at)})
			continue
		}
		b.Parts = append(b.Parts, s.blocks(fields, at, used))
	}
	return b
}

func (s *Stack) grow(path string) int {
	n := s.shape.find(path)
	return max(min(n.more(), n.repeat.Max-s.places[path]), 0)
}

// hang takes over what all fields hang on.
func (b *Block) hang(fields []*forms.Field) {
	when, either := Common(fields)
	b.When = when
	if either != nil {
		b.Either, b.Ways = either.Either, either.Ways
	}
}

// Common is what all of some fields hang on: one choice, and a field that belongs to
// the same ways as all others; nil where there is none.
func Common(fields []*forms.Field) (forms.When, *forms.Field) {
	when, either := fields[0].When, fields[0]
	for _, f := range fields {
		if f.When.Path != when.Path || !slices.Equal(f.When.Is, when.Is) {
			when = forms.When{}
		}
		if either != nil && (f.Either != either.Either || !slices.Equal(f.Ways, either.Ways)) {
			either = nil
		}
	}
	if either != nil && either.Either == "" {
		either = nil
	}
	return when, either
}

// OfTally tells whether a field is of the tally, not of the stack.
func OfTally(f forms.Field) bool { return !strings.HasPrefix(f.Path, "stack.") }
