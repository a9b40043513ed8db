package forms

import (
	"encoding/json"
	"fmt"
	"strings"

	"wellstowed/measure"
	"wellstowed/measure/stack"
)

// Schema gives the JSON Schema (2020-12) of a tally of format 2, made of the forms
// and their limits. It says what may stand where; what goes with what, and how a
// reading is worded, ParseTally alone decides.
func Schema() []byte {
	root := newNode()
	root.child("format").leaf = map[string]any{"enum": []int{stack.FirstFormat, stack.TallyFormat}}
	var stacks []any
	for _, form := range All() {
		node := newNode()
		node.child("kind").leaf = map[string]any{"const": form.Kind}
		node.needs("kind")
		for _, group := range form.Groups {
			for _, f := range group.Fields {
				if path, ok := strings.CutPrefix(f.Path, "stack."); ok {
					node.addField(path, &f)
				} else {
					root.addField(f.Path, &f)
				}
			}
		}
		if form.Kind == (stack.Rows{}).Kind() {
			node.addPhoto()
		}
		schema := node.schema()
		schema["title"] = form.Title.Key
		stacks = append(stacks, schema)
	}
	root.child("stack").leaf = map[string]any{"oneOf": stacks}
	root.needs("format")
	root.needs("stack")
	schema := root.schema()
	schema["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	schema["title"] = fmt.Sprintf("Tally, format %d", stack.TallyFormat)
	b, err := json.MarshalIndent(schema, "", " ")
	if err != nil {
		panic(err) // maps, text and numbers only
	}
	return b
}

// addPhoto puts in what may stand in place of a row's length and heights.
func (n *node) addPhoto() {
	for _, f := range photoFields() {
		n.addField(strings.TrimPrefix(f.Path, "stack."), &f)
	}
	row := n.child("rows").item
	row.anyOf = [][]string{row.required, {"photo"}}
	row.required = nil
}

// A node is a part of the schema: an object, a list, or a leaf.
type node struct {
	members  map[string]*node
	required []string
	anyOf    [][]string // sets of members of which one is required; empty: none
	item     *node
	repeat   Repeat
	leaf     map[string]any
}

func newNode() *node { return &node{members: map[string]*node{}} }

func (n *node) child(name string) *node {
	if n.members[name] == nil {
		n.members[name] = newNode()
	}
	return n.members[name]
}

// needs makes a member required.
func (n *node) needs(name string) {
	for _, r := range n.required {
		if r == name {
			return
		}
	}
	n.required = append(n.required, name)
}

// addField puts a field at its path below n.
func (n *node) addField(path string, f *Field) {
	always := f.Either == "" && f.When.Path == ""
	repeats := f.Repeats
	at := n
	names := strings.Split(path, ".")
	for i, name := range names {
		plain := strings.TrimRight(name, "[]")
		lists := strings.Count(name, "[]")
		if always && (i == len(names)-1 && lists == 0 && f.Required || lists > 0 && repeats[0].Min > 0 && f.Required) {
			at.needs(plain)
		}
		at = at.child(plain)
		for range lists {
			at.repeat = repeats[0]
			repeats = repeats[1:]
			if at.item == nil {
				at.item = newNode()
			}
			at = at.item
		}
	}
	at.leaf = f.schema()
}

// schema is that of a single value.
func (f *Field) schema() map[string]any {
	s := map[string]any{"type": "string", "maxLength": measure.MaxText, "title": f.Label.Key}
	if f.Hint.Key != "" {
		s["description"] = f.Hint.Key
	}
	switch f.Type {
	case CountField:
		s["type"] = "integer"
		delete(s, "maxLength")
	case NumberField:
		s["type"] = "number"
		delete(s, "maxLength")
	case ChoiceField:
		var words []stack.Reading
		for _, o := range f.Options {
			words = append(words, o.Value)
		}
		s["enum"] = words
		delete(s, "maxLength")
	case DateField:
		s["format"] = "date"
	}
	if f.Example != "" && f.Type != CountField && f.Type != NumberField {
		s["examples"] = []stack.Reading{f.Example}
	}
	return s
}

func (n *node) schema() map[string]any {
	switch {
	case n.leaf != nil:
		return n.leaf
	case n.item != nil:
		s := map[string]any{"type": "array", "items": n.item.schema(), "maxItems": n.repeat.Max}
		if n.repeat.Min > 0 {
			s["minItems"] = n.repeat.Min
		}
		return s
	}
	members := map[string]any{}
	for name, m := range n.members {
		members[name] = m.schema()
	}
	s := map[string]any{"type": "object", "properties": members, "additionalProperties": false}
	if len(n.required) > 0 {
		s["required"] = n.required
	}
	var either []any
	for _, names := range n.anyOf {
		either = append(either, map[string]any{"required": names})
	}
	if either != nil {
		s["anyOf"] = either
	}
	return s
}
