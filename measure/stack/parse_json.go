package stack

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"wellstowed/measure"
)

// item gives the path of element i.
func item(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }

// member gives the path of a member of the object at path.
func member(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

var (
	readingType = reflect.TypeFor[Reading]()
	rawType     = reflect.TypeFor[json.RawMessage]()
)

// decodeStrict decodes raw, which is valid JSON, into the struct that into points
// at, and notes every field whose name is unknown or stands twice and every value
// of another type than its field's. Names are held to the letter.
func decodeStrict(raw json.RawMessage, into any, path string, errs *measure.InputErrors) {
	before := len(*errs)
	checkShape(raw, reflect.TypeOf(into).Elem(), path, errs)
	if err := json.Unmarshal(raw, into); err != nil && len(*errs) == before {
		errs.Add(path, "wrong-type", "", measure.Say("this does not fit here: %s", err.Error()), measure.Text{})
	}
}

// checkShape notes what of raw does not fit type t.
func checkShape(raw json.RawMessage, t reflect.Type, path string, errs *measure.InputErrors) {
	switch {
	case t == rawType:
	case t == readingType:
		if raw[0] != '"' && !isNumber(raw) { // a bare number is refused by its parser
			wrongType(raw, path, measure.Say("text in quotes"), errs)
		}
	case t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Struct:
		checkObject(raw, t.Elem(), path, errs)
	case t.Kind() == reflect.Struct:
		checkObject(raw, t, path, errs)
	case t.Kind() == reflect.Slice:
		elements, ok := elementsOf(raw)
		if !ok {
			wrongType(raw, path, measure.Say("a list in square brackets"), errs)
		}
		for i, element := range elements {
			checkShape(element, t.Elem(), item(path, i), errs)
		}
	case t.Kind() == reflect.String && raw[0] != '"':
		wrongType(raw, path, measure.Say("text in quotes"), errs)
	case wholeOf(t) && !isWholeNumber(raw):
		wrongType(raw, path, measure.Say("a whole number without quotes"), errs)
	case t.Kind() == reflect.Pointer && !isNumber(raw):
		wrongType(raw, path, measure.Say("a number without quotes"), errs)
	}
}

// wholeOf tells whether t is an int, or points at one.
func wholeOf(t reflect.Type) bool {
	return t.Kind() == reflect.Int || t.Kind() == reflect.Int64 || t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Int
}

func isNumber(raw json.RawMessage) bool { return raw[0] == '-' || '0' <= raw[0] && raw[0] <= '9' }

func isWholeNumber(raw json.RawMessage) bool {
	_, err := strconv.ParseInt(string(raw), 10, 64)
	return err == nil
}

func wrongType(raw json.RawMessage, path string, accepts measure.Text, errs *measure.InputErrors) {
	errs.Add(path, "wrong-type", string(raw), measure.Say("this is another kind of value than belongs here"), accepts)
}

func checkObject(raw json.RawMessage, t reflect.Type, path string, errs *measure.InputErrors) {
	members, ok := membersOf(raw)
	if !ok {
		wrongType(raw, path, measure.Say("an object in curly brackets"), errs)
	}
	told := map[string]bool{}
	for _, m := range members {
		at := member(path, m.name)
		field, known := fieldNamed(t, m.name)
		switch {
		case told[m.name]:
			errs.Add(at, "duplicate-field", "", measure.Say("the field “%s” is here twice", measure.Seen(m.name)), measure.Say("each field once"))
		case !known:
			errs.Add(at, "unknown-field", "", measure.Say("“%s” isn’t a field here", measure.Seen(m.name)), measure.Say("%s", strings.Join(fieldNames(t), ", ")))
		default:
			checkShape(m.value, field.Type, at, errs)
		}
		told[m.name] = true
	}
}

func jsonName(field reflect.StructField) string {
	name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
	return name
}

func fieldNamed(t reflect.Type, name string) (reflect.StructField, bool) {
	for _, field := range jsonFields(t) {
		if jsonName(field) == name {
			return field, true
		}
	}
	return reflect.StructField{}, false
}

// jsonFields are the fields of a struct, those of a struct embedded in it among them.
func jsonFields(t reflect.Type) []reflect.StructField {
	return slices.DeleteFunc(reflect.VisibleFields(t), func(f reflect.StructField) bool { return f.Anonymous })
}

func fieldNames(t reflect.Type) []string {
	var names []string
	for _, field := range jsonFields(t) {
		names = append(names, jsonName(field))
	}
	return names
}

// A jsonMember is one member of a JSON object, in the order written.
type jsonMember struct {
	name  string
	value json.RawMessage
}

// membersOf takes an object apart; false where raw, valid JSON, is none.
func membersOf(raw json.RawMessage) ([]jsonMember, bool) {
	d := json.NewDecoder(bytes.NewReader(raw))
	if open, err := d.Token(); err != nil || open != json.Delim('{') {
		return nil, false
	}
	var members []jsonMember
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return nil, false
		}
		m := jsonMember{name: name.(string)}
		if err := d.Decode(&m.value); err != nil {
			return nil, false
		}
		members = append(members, m)
	}
	return members, true
}

// elementsOf takes a list apart; false where raw, valid JSON, is none.
func elementsOf(raw json.RawMessage) ([]json.RawMessage, bool) {
	var elements []json.RawMessage
	if raw[0] != '[' || json.Unmarshal(raw, &elements) != nil {
		return nil, false
	}
	return elements, true
}

// sortAsWritten puts faults in the order in which their places stand in doc; a
// place that is not there counts as the nearest one around it that is.
func sortAsWritten(es measure.InputErrors, doc []byte) {
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
	if members, ok := membersOf(raw); ok {
		for _, m := range members {
			notePlaces(m.value, member(path, m.name), places)
		}
		return
	}
	elements, _ := elementsOf(raw)
	for i, element := range elements {
		notePlaces(element, item(path, i), places)
	}
}
