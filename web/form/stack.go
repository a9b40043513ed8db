package form

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/forms"
	"wellstowed/measure/stack"
)

// A Stack is the measuring form of one kind of stack, drawn from what the kind
// declares: every reading still text as typed, by its path in the tally document.
type Stack struct {
	Kind string
	Unit Unit
	// Apart is empty (not answered), "not known", "none" or "some"; ApartSome is how much.
	Apart, ApartSome, ReadBy string

	form   forms.Form
	shape  *node
	mine   map[string]bool // paths of the fields it writes; nil: all
	values map[string]string
	places map[string]int    // by path of a list: how many places it shows
	ways   map[string]string // by set: the way chosen
}

// NewStack is the form of a kind before anything is typed; false where the kind is
// not known.
func NewStack(kind string, unit Unit, by stack.Party) (*Stack, bool) {
	s := empty(kind)
	if s == nil {
		return nil, false
	}
	s.Unit = unit
	s.values["by"], s.values["tape"] = string(by), unit.mark()
	s.open(s.shape, "")
	return s, true
}

func empty(kind string) *Stack {
	for _, f := range forms.All() {
		if f.Kind == kind {
			return &Stack{Kind: kind, Unit: Inches, form: f, shape: shapeOf(f),
				values: map[string]string{}, places: map[string]int{}, ways: map[string]string{}}
		}
	}
	return nil
}

// Fill puts readings into the form by their names, as if they had been typed.
func (s *Stack) Fill(readings map[string]string) {
	for _, name := range slices.Sorted(maps.Keys(readings)) {
		if readings[name] != "" {
			s.set(name, readings[name])
		}
	}
}

// ReadStack reads the form of a kind from every field sent; false where the kind is
// not known. Places past the limit of a list are kept to one more than allowed, so
// that measuring names the limit.
func ReadStack(kind string, each func(field func(name, value string))) (*Stack, bool) {
	s := empty(kind)
	if s == nil {
		return nil, false
	}
	each(s.set)
	s.confirm(s.Confirmed())
	s.Unit = s.Unit.known()
	return s, true
}

// Confirmed are the keys of questions that were answered.
func (s *Stack) Confirmed() []string {
	var keys []string
	for i := range s.places[confirmedPath] {
		if key := s.values[entry(confirmedPath, i)]; key != "" {
			keys = append(keys, key)
		}
	}
	return keys
}

const confirmedPath = "confirmed"

// confirm closes the places that boxes left unticked leave among the keys.
func (s *Stack) confirm(keys []string) {
	for i := range s.places[confirmedPath] {
		delete(s.values, entry(confirmedPath, i))
	}
	s.places[confirmedPath] = len(keys)
	for i, key := range keys {
		s.values[entry(confirmedPath, i)] = key
	}
}

// Knows tells whether the form has a field of that name, whoever writes it.
func (s *Stack) Knows(name string) bool {
	switch name {
	case "unit", "apart", "apart_some", "read_by":
		return true
	}
	if _, way := strings.CutPrefix(name, "way."); way {
		return true
	}
	n := s.shape.find(name)
	return n != nil && n.field != nil || s.Kind == rowsKind && ofPhoto(name)
}

func (s *Stack) set(name, value string) {
	switch name {
	case "unit":
		s.Unit = Unit(value)
	case "apart":
		s.Apart = value
	case "apart_some":
		s.ApartSome = value
	case "read_by":
		s.ReadBy = value
	default:
		if set, found := strings.CutPrefix(name, "way."); found {
			s.ways[set] = value
		} else if n := s.shape.find(name); n != nil && n.field != nil {
			s.values[name] = value
			s.make(name)
		}
	}
}

// make makes the places in lists that a path goes through.
func (s *Stack) make(path string) {
	for i, r := range path {
		if r == '[' {
			n := 0
			for _, d := range path[i+1 : i+1+strings.IndexByte(path[i+1:], ']')] {
				n = n*10 + int(d-'0')
			}
			s.places[path[:i]] = max(s.places[path[:i]], n+1)
		}
	}
}

// open makes the places that an empty form shows.
func (s *Stack) open(n *node, path string) {
	if n.item == nil {
		for _, m := range n.members {
			s.open(m, child(path, m.name))
		}
		return
	}
	s.places[path] = max(s.places[path], n.blank())
	for i := range s.places[path] {
		s.open(n.item, entry(path, i))
	}
}

// Change makes more room in the list that "more PATH" names. It tells whether it
// knew the list.
func (s *Stack) Change(do string) bool {
	path, found := strings.CutPrefix(do, "more ")
	if !found {
		return false
	}
	n := s.shape.find(path)
	if n == nil || n.item == nil {
		return false
	}
	before := s.places[path]
	s.places[path] = max(before, min(before+n.more(), n.repeat.Max))
	for i := before; i < s.places[path]; i++ {
		s.open(n.item, entry(path, i))
	}
	return true
}

// Started tells whether any reading of the stack has been typed or chosen.
func (s *Stack) Started() bool {
	for path, value := range s.values {
		if strings.HasPrefix(path, "stack.") && strings.TrimSpace(value) != "" {
			return true
		}
	}
	return false
}

// Value is what was typed at a path.
func (s *Stack) Value(path string) string { return s.values[path] }

// Document is the form as a tally document: bare numbers get the page's units; what
// is empty, and what belongs to another choice than the one taken, is left out. The
// faults are of choices not made, and of numbers that are none, whose places in the
// document are empty.
func (s *Stack) Document() ([]byte, measure.InputErrors) {
	var faults measure.InputErrors
	body := s.write(s.shape, "", &faults)
	head := fmt.Appendf(nil, `{"format":%d`, stack.TallyFormat)
	if elsewhere := apart(s.Apart, s.ApartSome); elsewhere != "" {
		head = append(append(head, `,"apart":`...), quoted(elsewhere)...)
	}
	if len(body) > 0 {
		head = append(append(head, ','), body[1:]...)
	} else {
		head = append(head, '}')
	}
	return head, faults
}

// write is a part of the document as JSON, nil where nothing of it was typed. The
// stack itself is always there, and says its kind.
func (s *Stack) write(n *node, path string, faults *measure.InputErrors) []byte {
	switch {
	case n.field != nil:
		return s.writeField(n, path, faults)
	case n.item != nil:
		return s.writeList(n, path, faults)
	}
	var out []byte
	if path == "stack" {
		out = append([]byte(`,"kind":`), quoted(s.Kind)...)
	}
	for _, m := range n.members {
		if value := s.write(m, child(path, m.name), faults); value != nil {
			out = append(append(append(append(out, ','), quoted(m.name)...), ':'), value...)
		}
	}
	if out == nil {
		return nil
	}
	out[0] = '{'
	return append(out, '}')
}

// writeList leaves out what is empty at the end of a list; what is empty before
// that stays, for measuring to name it.
func (s *Stack) writeList(n *node, path string, faults *measure.InputErrors) []byte {
	nothing := []byte(`""`)
	switch {
	case n.item.item != nil:
		nothing = []byte(`[]`)
	case n.item.field == nil:
		nothing = []byte(`{}`)
	}
	var items [][]byte
	filled := 0
	for i := range s.places[path] {
		value := s.write(n.item, entry(path, i), faults)
		if value == nil {
			items = append(items, nothing)
			continue
		}
		items = append(items, value)
		filled = len(items)
	}
	if filled == 0 {
		return nil
	}
	return append(append([]byte{'['}, bytes.Join(items[:filled], []byte{','})...), ']')
}

// plainNumber is how a number or a count is typed.
var plainNumber = regexp.MustCompile(`^\d{1,9}(\.\d{1,9})?$`)

func (s *Stack) writeField(n *node, path string, faults *measure.InputErrors) []byte {
	f, value := n.field, strings.TrimSpace(s.values[path])
	if value == "" && s.mine == nil && s.asked(f) && s.applies(f, path) {
		*faults = append(*faults, notChosen(f, path))
	}
	if value == "" || f.Path == "apart" || s.mine != nil && !s.mine[f.Path] || !s.applies(f, path) {
		return nil
	}
	switch f.Type {
	case forms.LengthField:
		return quoted(string(s.Unit.with(value)))
	case forms.NumberField, forms.CountField:
		if !plainNumber.MatchString(value) || f.Type == forms.CountField && strings.Contains(value, ".") {
			*faults = append(*faults, notNumber(f, path, value))
			return nil
		}
		number := strings.TrimLeft(value, "0")
		if number == "" || number[0] == '.' {
			number = "0" + number
		}
		return []byte(number)
	}
	return quoted(value)
}

// asked tells whether a choice of the stack itself has to be made.
func (s *Stack) asked(f *forms.Field) bool {
	return f.Type == forms.ChoiceField && f.Required && len(steps(f.Path)) == 2 && !OfTally(*f)
}

func notChosen(f *forms.Field, path string) *measure.InputError {
	labels := make([]string, len(f.Options))
	for i, o := range f.Options {
		labels[i] = strings.ToLower(o.Label.Key)
	}
	return &measure.InputError{Field: path, Code: "missing", Reason: measure.Say("nothing is chosen"),
		Accepts: measure.Say("one of: %s", strings.Join(labels, ", "))}
}

func notNumber(f *forms.Field, path, value string) *measure.InputError {
	e := &measure.InputError{Field: path, Code: "not-a-number", Got: value,
		Reason: measure.Say("this is not a number"), Accepts: measure.Say("a number such as %s", f.Example)}
	if f.Type == forms.CountField {
		e.Reason = measure.Say("this is not a whole number")
	}
	return e
}

// In changes the unit of the form: what was typed without a unit gets the one it was
// meant in, so that no reading changes.
func (s *Stack) In(unit Unit) {
	for path, typed := range s.values {
		if s.shape.find(path).field.Type == forms.LengthField {
			s.values[path] = string(s.Unit.with(typed))
		}
	}
	s.Unit = unit.known()
}

// applies tells whether a field goes with what was chosen.
func (s *Stack) applies(f *forms.Field, path string) bool {
	if f.When.Path != "" {
		chosen := s.values[placed(f.When.Path, path)]
		if chosen != "" && !slices.Contains(f.When.Is, stack.Reading(chosen)) {
			return false
		}
	}
	if f.Either == "" {
		return true
	}
	way := s.Way(f.Either, path)
	return way == "" || slices.Contains(f.Ways, way)
}

// placed puts the indexes of a path into the lists of a declared one.
func placed(declared, path string) string {
	for _, step := range steps(path) {
		if step[0] == '[' && strings.Contains(declared, item) {
			declared = strings.Replace(declared, item, step, 1)
		}
	}
	return declared
}

// Way is the way of a set that was chosen. Where none was, it is the one that most of
// what was typed belongs to, the first of equals; where there is no choosing, the
// first of which anything was typed beside path. It is empty where nothing was.
func (s *Stack) Way(set, path string) string {
	if way := s.ways[set]; slices.Contains(s.Ways(set), way) {
		return way
	}
	best, most := "", 0
	for _, way := range s.Ways(set) {
		if n := s.typed(set, way, path); n > most {
			if best, most = way, n; !s.Chosen(set) {
				break
			}
		}
	}
	return best
}

// typed counts what was typed of one way of a set, in the part that path is in.
func (s *Stack) typed(set, way, path string) int {
	count := 0
	for at, value := range s.values {
		f := s.shape.find(at).field
		if f.Either == set && slices.Contains(f.Ways, way) && strings.TrimSpace(value) != "" && beside(at, path) {
			count++
		}
	}
	return count
}

// beside tells whether two readings stand in the same part: no index above the last
// step tells them from each other.
func beside(a, b string) bool {
	as, bs := outside(a), outside(b)
	for i := range min(len(as), len(bs)) {
		if as[i] != bs[i] {
			return as[i][0] != '['
		}
	}
	return true
}

// outside are the steps to a reading, without its index in a list of readings.
func outside(path string) []string {
	all := steps(path)
	if strings.HasSuffix(path, "]") {
		return all[:len(all)-1]
	}
	return all
}

// Ways are the ways of a set, in the order of the form.
func (s *Stack) Ways(set string) []string {
	var ways []string
	for _, g := range s.form.Groups {
		for _, f := range g.Fields {
			if f.Either != set {
				continue
			}
			for _, way := range f.Ways {
				if !slices.Contains(ways, way) {
					ways = append(ways, way)
				}
			}
		}
	}
	return ways
}

// Chosen tells whether the way of a set is asked for by a choice of its own: where
// some field belongs to several ways.
func (s *Stack) Chosen(set string) bool {
	for _, g := range s.form.Groups {
		for _, f := range g.Fields {
			if f.Either == set && len(f.Ways) > 1 {
				return true
			}
		}
	}
	return false
}

func quoted(text string) []byte {
	b, err := json.Marshal(text)
	if err != nil {
		return []byte(`""`) // text always encodes
	}
	return b
}
