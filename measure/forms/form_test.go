package forms

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/measure/stack"
	"wellstowed/measure/strict"
)

// A filling is what is chosen on a form: a way of each set, a word of each choice.
type filling map[string]string

func fieldsOf(form Form) (fields []Field) {
	for _, g := range form.Groups {
		fields = append(fields, g.Fields...)
	}
	return fields
}

// fillings gives the first of everything, and then everything else by itself.
func fillings(form Form) []filling {
	first := filling{}
	others := []filling{}
	add := func(name, value string) {
		if _, ok := first[name]; !ok {
			first[name] = value
			return
		}
		others = append(others, filling{name: value})
	}
	for _, f := range fieldsOf(form) {
		for _, o := range f.Options {
			add(f.Path, string(o.Value))
		}
		for _, way := range f.Ways {
			add("either "+f.Either, way)
		}
	}
	all := []filling{first}
	for _, other := range others {
		for name, value := range first {
			if _, ok := other[name]; !ok {
				other[name] = value
			}
		}
		all = append(all, other)
	}
	return all
}

func (c filling) shows(f Field) bool {
	if f.Either != "" && !slices.Contains(f.Ways, c["either "+f.Either]) {
		return false
	}
	return f.When.Path == "" || slices.Contains(f.When.Is, stack.Reading(c[f.When.Path]))
}

// document fills every field that shows with its example.
func (c filling) document(form Form) map[string]any {
	doc := map[string]any{"format": stack.TallyFormat, "stack": map[string]any{"kind": form.Kind}}
	for _, f := range fieldsOf(form) {
		if c.shows(f) {
			put(doc, strings.Split(f.Path, "."), f.Repeats, c.value(f))
		}
	}
	return doc
}

func (c filling) value(f Field) any {
	switch {
	case f.Type == CountField || f.Type == NumberField:
		return json.Number(f.Example)
	case len(f.Options) > 0:
		return c[f.Path]
	}
	return f.Example
}

// put sets a value in an object, lists as long as they have to be.
func put(into map[string]any, path []string, repeats []Repeat, value any) {
	name := strings.TrimRight(path[0], "[]")
	lists := strings.Count(path[0], "[]")
	into[name] = filled(into[name], lists, path[1:], repeats, value)
}

func filled(old any, lists int, rest []string, repeats []Repeat, value any) any {
	if lists > 0 {
		list, _ := old.([]any)
		for len(list) < max(repeats[0].Min, 1) {
			list = append(list, nil)
		}
		for i := range list {
			list[i] = filled(list[i], lists-1, rest, repeats[1:], value)
		}
		return list
	}
	if len(rest) == 0 {
		return value
	}
	object, _ := old.(map[string]any)
	if object == nil {
		object = map[string]any{}
	}
	put(object, rest, repeats, value)
	return object
}

// A document filled from a form's fields is read and measured, whatever is chosen.
func TestFormsAreRead(t *testing.T) {
	for _, form := range All() {
		for _, chosen := range fillings(form) {
			doc, err := json.Marshal(chosen.document(form))
			require.NoError(t, err)
			tally, err := stack.ParseTally(doc)
			require.NoError(t, err, "%s\n%v\n%s", form.Kind, chosen, doc)
			assert.Equal(t, form.Kind, tally.Stack.Kind())
			tally.Sold = nil // a cord, whatever the basis
			r, err := stack.Measure(tally)
			require.NoError(t, err, "%s\n%s", form.Kind, doc)
			assert.Positive(t, r.Quantity.Volume)
			assert.Positive(t, r.Expanded)
			texts := r.Notes
			for _, a := range r.Next {
				texts = append(texts, a.Text)
			}
			for _, text := range texts {
				assert.NotContains(t, text.String(), "%!", text.Key)
			}
		}
	}
}

// Nothing that has to be there can be left out.
func TestFormsKnowWhatIsRequired(t *testing.T) {
	for _, form := range All() {
		first := fillings(form)[0]
		for _, left := range fieldsOf(form) {
			if !left.Required || !first.shows(left) {
				continue
			}
			without, beside := form, false
			without.Groups = []Group{{}}
			parent := left.Path[:strings.LastIndex(left.Path, ".")+1]
			for _, f := range fieldsOf(form) {
				if f.Path != left.Path {
					beside = beside || first.shows(f) && strings.HasPrefix(f.Path, parent)
					without.Groups[0].Fields = append(without.Groups[0].Fields, f)
				}
			}
			if !beside {
				continue // the whole of its parent is left out, which may be
			}
			doc, err := json.Marshal(first.document(without))
			require.NoError(t, err)
			_, err = stack.ParseTally(doc)
			assert.Error(t, err, "%s without %s", form.Kind, left.Path)
		}
	}
}

func TestFormsSayWhatTheyAskFor(t *testing.T) {
	for _, form := range All() {
		assert.NotEmpty(t, form.Title.Key)
		for _, f := range fieldsOf(form) {
			assert.NotEmpty(t, f.Label.Key, f.Path)
			assert.NotEmpty(t, f.Example, f.Path)
			assert.Equal(t, strings.Count(f.Path, "[]"), len(f.Repeats), f.Path)
			assert.Equal(t, f.Type == ChoiceField, len(f.Options) > 0, f.Path)
		}
	}
}

// documentTypes are the "stack" objects by kind.
func documentTypes() map[string]reflect.Type {
	return map[string]reflect.Type{
		"rows": reflect.TypeFor[stack.RowsDocument](), "load": reflect.TypeFor[stack.LoadDocument](), "heap": reflect.TypeFor[stack.HeapDocument](),
		"bin": reflect.TypeFor[stack.BinDocument](), "round": reflect.TypeFor[stack.RoundDocument](), "packaged": reflect.TypeFor[stack.PackagedDocument](),
	}
}

// pathsOf lists the leaves of a document type.
func pathsOf(t reflect.Type, path string) []string {
	switch {
	case t.Kind() == reflect.Pointer && t.Elem().Kind() == reflect.Struct:
		return pathsOf(t.Elem(), path)
	case t.Kind() == reflect.Slice && t != strict.RawType:
		return pathsOf(t.Elem(), path+"[]")
	case t.Kind() != reflect.Struct:
		return []string{path}
	}
	var paths []string
	for i := range t.NumField() {
		paths = append(paths, pathsOf(t.Field(i).Type, strict.Member(path, tagName(t.Field(i))))...)
	}
	return paths
}

// documentPaths are all leaves of a tally of one kind.
func documentPaths(kind string) []string {
	paths := pathsOf(reflect.TypeFor[stack.Document](), "")
	paths = slices.DeleteFunc(paths, func(p string) bool { return p == "stack" })
	return append(paths, pathsOf(documentTypes()[kind], "stack")...)
}

// The forms ask for every field that the documents have, and no other.
func TestFormsCoverTheDocuments(t *testing.T) {
	require.Len(t, documentTypes(), len(stack.Kinds()))
	for _, form := range All() {
		asked := []string{"format", "stack.kind"}
		for _, f := range fieldsOf(form) {
			asked = append(asked, f.Path)
		}
		if form.Kind == "packaged" {
			asked = append(asked, "raised") // refused there
		}
		for _, f := range photoFields() { // tapped in a picture, and asked for by no form
			if form.Kind == "rows" {
				asked = append(asked, f.Path)
			}
		}
		assert.ElementsMatch(t, documentPaths(form.Kind), asked, form.Kind)
	}
}

// schemaPaths lists the leaves of a schema, and fails on an object that takes
// unknown fields.
func schemaPaths(t *testing.T, s map[string]any, path string) []string {
	t.Helper()
	switch {
	case s["items"] != nil:
		assert.Positive(t, s["maxItems"], path)
		return schemaPaths(t, s["items"].(map[string]any), path+"[]")
	case s["properties"] == nil:
		return []string{path}
	}
	assert.Equal(t, false, s["additionalProperties"], path)
	var paths []string
	for name, child := range s["properties"].(map[string]any) {
		paths = append(paths, schemaPaths(t, child.(map[string]any), strict.Member(path, name))...)
	}
	return paths
}

// The schema has every field of the documents, and no other.
func TestSchemaCoversTheDocuments(t *testing.T) {
	var schema map[string]any
	require.NoError(t, json.Unmarshal(Schema(), &schema))
	assert.Equal(t, "https://json-schema.org/draft/2020-12/schema", schema["$schema"])
	assert.ElementsMatch(t, []any{"format", "stack"}, schema["required"])
	assert.ElementsMatch(t, pathsOf(reflect.TypeFor[stack.Document](), ""), schemaPaths(t, schema, ""))
	stacks := schema["properties"].(map[string]any)["stack"].(map[string]any)["oneOf"].([]any)
	require.Len(t, stacks, len(stack.Kinds()))
	for _, stack := range stacks {
		s := stack.(map[string]any)
		kind := s["properties"].(map[string]any)["kind"].(map[string]any)["const"].(string)
		assert.Contains(t, s["required"], "kind")
		assert.ElementsMatch(t, pathsOf(documentTypes()[kind], "stack"), schemaPaths(t, s, "stack"), kind)
	}
	assert.Equal(t, Schema(), Schema(), "the same every time")
}

// What the schema requires, ParseTally does.
func TestSchemaRequiresWhatIsRequired(t *testing.T) {
	var schema struct {
		Properties struct {
			Stack struct {
				OneOf []struct {
					Required []string
				} `json:"oneOf"`
			}
		}
	}
	require.NoError(t, json.Unmarshal(Schema(), &schema))
	assert.ElementsMatch(t, []string{"kind", "rows"}, schema.Properties.Stack.OneOf[0].Required)
	assert.ElementsMatch(t, []string{"kind", "length", "width", "height"}, schema.Properties.Stack.OneOf[2].Required)
	assert.ElementsMatch(t, []string{"kind", "method"}, schema.Properties.Stack.OneOf[5].Required)
}

// tagName is a field's name in JSON.
func tagName(field reflect.StructField) string {
	name, _, _ := strings.Cut(field.Tag.Get("json"), ",")
	return name
}
