package api

import (
	"encoding"
	"encoding/json"
	"path"
	"reflect"
	"strings"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/measure/wood"
)

// node is a part of a JSON document.
type node = map[string]any

// schemas are the JSON Schemas (2020-12) of what operations take and give, made of the Go
// types as encoding/json writes them: named ones by name, each once.
type schemas struct {
	named map[string]node
	names map[reflect.Type]string
}

func newSchemas() *schemas {
	return &schemas{named: map[string]node{}, names: map[reflect.Type]string{}}
}

// Types whose JSON isn't what their fields say.
var written = map[reflect.Type]node{
	reflect.TypeFor[time.Time](): {"type": "string", "format": "date-time"},
	reflect.TypeFor[measure.Text](): {"type": "object", "description": "a sentence by its key, with its arguments", "required": []string{"key"},
		"properties": node{"key": node{"type": "string"}, "args": node{"type": "array", "items": node{"type": "object"}}}},
	reflect.TypeFor[wood.Moisture](): {"type": "object", "required": []string{"percent", "basis"},
		"properties": node{"percent": node{"type": "number"}, "basis": node{"type": "string"}}},
	reflect.TypeFor[stack.Degrees]():   {"type": []string{"number", "null"}, "description": "null: without end"},
	reflect.TypeFor[json.RawMessage](): {},
}

var texts = reflect.TypeFor[encoding.TextMarshaler]()

// of is the schema of a type: a reference where it is a struct.
func (s *schemas) of(t reflect.Type) node {
	if known, ok := written[t]; ok {
		return known
	}
	if t.Implements(texts) {
		return node{"type": "string"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return s.of(t.Elem())
	case reflect.Struct:
		return node{"$ref": "#/components/schemas/" + s.name(t)}
	case reflect.Slice, reflect.Array:
		if t.Elem().Kind() == reflect.Uint8 {
			return node{"type": "string", "contentEncoding": "base64"}
		}
		return node{"type": "array", "items": s.of(t.Elem())}
	case reflect.Map:
		return node{"type": "object", "additionalProperties": s.of(t.Elem())}
	case reflect.Bool:
		return node{"type": "boolean"}
	case reflect.String:
		return node{"type": "string"}
	case reflect.Float32, reflect.Float64:
		return node{"type": "number"}
	case reflect.Interface:
		return node{}
	}
	return node{"type": "integer", "format": "int64"}
}

// name gives a struct its name, with its package where another has it, and its schema.
func (s *schemas) name(t reflect.Type) string {
	if name, known := s.names[t]; known {
		return name
	}
	name := strings.ToUpper(t.Name()[:1]) + t.Name()[1:]
	if s.named[name] != nil {
		of := path.Base(t.PkgPath())
		name = strings.ToUpper(of[:1]) + of[1:] + name
	}
	s.names[t] = name
	s.named[name] = node{} // it may hold itself
	properties, required := node{}, []string{}
	s.fields(t, properties, &required)
	made := node{"type": "object", "properties": properties}
	if len(required) > 0 {
		made["required"] = required
	}
	s.named[name] = made
	return name
}

// fields adds those of a struct, and of what it embeds, as encoding/json flattens them.
func (s *schemas) fields(t reflect.Type, properties node, required *[]string) {
	for i := range t.NumField() {
		f := t.Field(i)
		tag, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case f.Anonymous && tag == "" && indirect(f.Type).Kind() == reflect.Struct && !indirect(f.Type).Implements(texts):
			s.fields(indirect(f.Type), properties, required)
			continue
		case !f.IsExported() || tag == "-":
			continue
		case tag == "":
			tag = f.Name
		}
		if _, outer := properties[tag]; outer {
			continue // a field outside hides one of what is embedded
		}
		missing := strings.Contains(options, "omitempty") || strings.Contains(options, "omitzero")
		properties[tag] = s.field(f.Type, missing)
		if !missing {
			*required = append(*required, tag)
		}
	}
}

// field is the schema of a field: nothing in it is written as null where it isn't left out.
func (s *schemas) field(t reflect.Type, missing bool) node {
	made := s.of(t)
	if missing {
		return made
	}
	switch t.Kind() {
	case reflect.Pointer:
		return node{"anyOf": []node{made, {"type": "null"}}}
	case reflect.Slice, reflect.Map:
		if kind, plain := made["type"].(string); plain {
			null := node{}
			for name, value := range made {
				null[name] = value
			}
			null["type"] = []string{kind, "null"}
			return null
		}
	}
	return made
}

func indirect(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Pointer {
		return t.Elem()
	}
	return t
}

// typed is the schema of what a person types: the fields of a form, each of which may be
// left out, and no other.
func (s *schemas) typed(t reflect.Type) node {
	made := s.of(t)
	s.open(t, map[reflect.Type]bool{})
	return made
}

// open lets the fields of a type, and of what it holds, be left out.
func (s *schemas) open(t reflect.Type, seen map[reflect.Type]bool) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || seen[t] || s.names[t] == "" {
		return
	}
	seen[t] = true
	schema := s.named[s.names[t]]
	delete(schema, "required")
	schema["additionalProperties"] = false
	for i := range t.NumField() {
		s.open(t.Field(i).Type, seen)
	}
}
