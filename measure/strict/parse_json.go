package strict

import (
	"bytes"
	"encoding"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"wellstowed/measure"
)

// Item gives the path of element i.
func Item(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// Member gives the path of a member of the object at path.
func Member(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

// A NumberKeeper is a text that keeps a bare number as its digits, so that its parser can
// refuse it by name.
type NumberKeeper interface{ KeepsNumbers() }

var (
	keeperType = reflect.TypeFor[NumberKeeper]()
	RawType    = reflect.TypeFor[json.RawMessage]()
)

func keepsNumbers(t reflect.Type) bool { return t.Kind() == reflect.String && t.Implements(keeperType) }

// Into decodes raw, which is valid JSON, into the struct that into points
// at, and notes every field whose name is unknown or stands twice and every value
// of another type than its field's. Names are held to the letter.
func Into(raw json.RawMessage, into any, path string, errs *measure.InputErrors) {
	c := cursor{doc: raw}
	c.decode(reflect.ValueOf(into).Elem(), &spot{name: path}, errs)
}

// A spot is a place in a document; its path is written only where it is told.
type spot struct {
	in   *spot
	name string // of a member; "" in a list
	i    int    // in a list
}

func (s *spot) String() string {
	switch {
	case s.in == nil:
		return s.name
	case s.name == "":
		return Item(s.in.String(), s.i)
	}
	return Member(s.in.String(), s.name)
}

// decode goes past one value and puts it where it belongs, or notes that it does not fit.
func (c *cursor) decode(into reflect.Value, path *spot, errs *measure.InputErrors) {
	t, first := into.Type(), c.next()
	switch {
	case t == RawType:
		into.SetBytes(bytes.Clone(c.value()))
	case first != '"' && keepsNumbers(t): // kept, so that it doesn't count as missing
		raw := c.value()
		into.SetString(string(raw))
		if !isNumber(first) { // a bare number is refused by its parser
			WrongType(raw, path.String(), measure.Say("text in quotes"), errs)
		}
	case t.Kind() == reflect.String && first != '"':
		c.wrongType(path, measure.Say("text in quotes"), errs)
	case t.Kind() == reflect.Slice && first != '[':
		c.wrongType(path, measure.Say("a list in square brackets"), errs)
	case wholeOf(t):
		if raw := c.value(); isWholeNumber(raw) {
			fit(raw, into, path, errs)
		} else {
			WrongType(raw, path.String(), measure.Say("a whole number without quotes"), errs)
		}
	case t.Kind() == reflect.String && !readsItself(t) || keepsNumbers(t):
		into.SetString(string(unquoted(c.value())))
	case t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Struct:
		into.Set(reflect.New(t.Elem()))
		c.decodeObject(into.Elem(), path, errs)
	case t.Kind() == reflect.Struct:
		c.decodeObject(into, path, errs)
	case t.Kind() == reflect.Slice && !readsItself(t):
		c.decodeList(into, path, errs)
	case t.Kind() == reflect.Pointer && !isNumber(first):
		c.wrongType(path, measure.Say("a number without quotes"), errs)
	default:
		fit(c.value(), into, path, errs)
	}
}

func (c *cursor) decodeList(into reflect.Value, path *spot, errs *measure.InputErrors) {
	into.Set(reflect.MakeSlice(into.Type(), 0, 0))
	c.at++
	for i := 0; c.more(']'); i++ {
		if i == into.Cap() {
			into.Grow(1)
		}
		into.SetLen(i + 1)
		c.decode(into.Index(i), &spot{in: path, i: i}, errs)
	}
}

// fit puts a value where it belongs by the library's rules, and notes where it can't.
func fit(raw json.RawMessage, into reflect.Value, path *spot, errs *measure.InputErrors) {
	if err := json.Unmarshal(raw, into.Addr().Interface()); err != nil {
		errs.Add(path.String(), "wrong-type", string(raw), measure.Say("this does not fit here: %s", err.Error()), measure.Text{})
	}
}

var (
	unmarshalerType = reflect.TypeFor[json.Unmarshaler]()
	textType        = reflect.TypeFor[encoding.TextUnmarshaler]()
)

// readsItself tells whether a type has its own way to be read from JSON.
func readsItself(t reflect.Type) bool {
	p := reflect.PointerTo(t)
	return p.Implements(unmarshalerType) || p.Implements(textType)
}

// wrongType goes past one value and notes that it is of another kind than belongs here.
func (c *cursor) wrongType(path *spot, accepts measure.Text, errs *measure.InputErrors) {
	WrongType(c.value(), path.String(), accepts, errs)
}

// wholeOf tells whether t is an int, or points at one.
func wholeOf(t reflect.Type) bool {
	return t.Kind() == reflect.Int || t.Kind() == reflect.Int64 || t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Int
}

// isNumber tells by its first byte whether a value is a number.
func isNumber(first byte) bool { return first == '-' || '0' <= first && first <= '9' }

func isWholeNumber(raw json.RawMessage) bool {
	_, err := strconv.ParseInt(string(raw), 10, 64)
	return err == nil
}

// WrongType notes a value of another kind than belongs at the path.
func WrongType(raw json.RawMessage, path string, accepts measure.Text, errs *measure.InputErrors) {
	errs.Add(path, "wrong-type", string(raw), measure.Say("this is another kind of value than belongs here"), accepts)
}

// decodeObject goes past one value and puts its members into a struct.
func (c *cursor) decodeObject(into reflect.Value, path *spot, errs *measure.InputErrors) {
	if c.next() != '{' {
		c.wrongType(path, measure.Say("an object in curly brackets"), errs)
		return
	}
	c.at++
	fields := jsonFieldsOf(into.Type())
	var told uint64     // the fields met, by their places
	var others []string // names met that are no field's
	for c.more('}') {
		name := c.name()
		i, known := fields.places[string(name)]
		switch {
		case known && told&(1<<i) != 0 || !known && slices.Contains(others, string(name)):
			errs.Add(Member(path.String(), string(name)), "duplicate-field", "", measure.Say("the field “%s” is here twice", measure.Seen(string(name))), measure.Say("each field once"))
			c.value()
		case known:
			told |= 1 << i
			c.decode(into.FieldByIndex(fields.at[i]), &spot{in: path, name: fields.names[i]}, errs)
		default:
			others = append(others, string(name))
			errs.Add(Member(path.String(), string(name)), "unknown-field", "", measure.Say("“%s” isn’t a field here", measure.Seen(string(name))), measure.Say("%s", strings.Join(fields.names, ", ")))
			c.value()
		}
	}
}

// structFields are the fields of a struct as JSON has them, those of a struct embedded in
// it among them; 64 at most.
type structFields struct {
	names  []string
	at     [][]int        // in the struct
	places map[string]int // by name
}

// knownFields keeps structFields by reflect.Type: finding them out takes longer than
// reading a document.
var knownFields sync.Map

func jsonFieldsOf(t reflect.Type) *structFields {
	if known, ok := knownFields.Load(t); ok {
		return known.(*structFields)
	}
	fields := &structFields{places: map[string]int{}}
	for _, f := range reflect.VisibleFields(t) {
		if f.Anonymous {
			continue
		}
		name := jsonName(f)
		fields.places[name] = len(fields.names)
		fields.names, fields.at = append(fields.names, name), append(fields.at, f.Index)
	}
	knownFields.Store(t, fields)
	return fields
}

func jsonName(field reflect.StructField) string {
	name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
	return name
}

// A cursor goes through a text that is valid JSON.
type cursor struct {
	doc []byte
	at  int
}

// next is the first byte of what comes next, 0 at the end.
func (c *cursor) next() byte {
	for ; c.at < len(c.doc); c.at++ {
		switch b := c.doc[c.at]; b {
		case ' ', '\t', '\r', '\n':
		default:
			return b
		}
	}
	return 0
}

// more tells whether another member or element comes before the closing bracket, and goes
// past what stands between.
func (c *cursor) more(closing byte) bool {
	switch c.next() {
	case closing:
		c.at++
		return false
	case ',':
		c.at++
	}
	return true
}

// name goes past the name of a member and its colon.
func (c *cursor) name() []byte {
	c.next()
	raw := c.value()
	c.next()
	c.at++
	return unquoted(raw)
}

// unquoted is a text without its quotes, as it is meant.
func unquoted(raw json.RawMessage) []byte {
	text := raw[1 : len(raw)-1]
	if bytes.IndexByte(text, '\\') >= 0 || !utf8.Valid(text) {
		var s string
		_ = json.Unmarshal(raw, &s) // it is a text
		return []byte(s)
	}
	return text
}

// value goes past one value and gives it.
func (c *cursor) value() json.RawMessage {
	first := c.next()
	from, depth := c.at, 0
	for c.at < len(c.doc) {
		switch b := c.doc[c.at]; b {
		case '"':
			c.text()
		case '{', '[':
			depth++
			c.at++
		case '}', ']':
			depth--
			c.at++
		default:
			c.at++
		}
		if depth == 0 && (first == '"' || first == '{' || first == '[' || c.delimited()) {
			break
		}
	}
	return c.doc[from:c.at]
}

// delimited tells whether a number or a word ends here.
func (c *cursor) delimited() bool {
	return c.at == len(c.doc) || bytes.IndexByte([]byte(" \t\r\n,]}"), c.doc[c.at]) >= 0
}

// text goes past a text in quotes.
func (c *cursor) text() {
	for c.at++; c.doc[c.at] != '"'; c.at++ {
		if c.doc[c.at] == '\\' {
			c.at++
		}
	}
	c.at++
}

// A Field is one member of a JSON object, in the order written.
type Field struct {
	Name  string
	Value json.RawMessage
}

// FieldsOf takes an object apart; false where raw, valid JSON, is none.
func FieldsOf(raw json.RawMessage) (members []Field, ok bool) {
	c := cursor{doc: raw}
	if c.next() != '{' {
		return nil, false
	}
	for c.at++; c.more('}'); {
		members = append(members, Field{string(c.name()), c.value()})
	}
	return members, true
}

// elementsOf takes a list apart; nil where raw, valid JSON, is none.
func elementsOf(raw json.RawMessage) (elements []json.RawMessage) {
	c := cursor{doc: raw}
	if c.next() != '[' {
		return nil
	}
	for c.at++; c.more(']'); {
		elements = append(elements, c.value())
	}
	return elements
}

// SortAsWritten puts faults in the order in which their places stand in doc; a
// place that is not there counts as the nearest one around it that is.
func SortAsWritten(es measure.InputErrors, doc []byte) {
	places := map[string]int{}
	notePlaces(doc, "", places)
	place := func(path string) int {
		for path != "" {
			if at, ok := places[path]; ok {
				return at
			}
			path = path[:max(0, strings.LastIndexAny(path, ".["))]
		}
		return 0
	}
	slices.SortStableFunc(es, func(a, b *measure.InputError) int { return place(a.Field) - place(b.Field) })
}

// notePlaces numbers the paths in raw in the order written.
func notePlaces(raw json.RawMessage, path string, places map[string]int) {
	places[path] = len(places)
	if members, ok := FieldsOf(raw); ok {
		for _, m := range members {
			notePlaces(m.Value, Member(path, m.Name), places)
		}
		return
	}
	for i, element := range elementsOf(raw) {
		notePlaces(element, Item(path, i), places)
	}
}
