package form

import (
	"strconv"
	"strings"

	"wellstowed/measure/forms"
)

// A node is one part of the document that a form asks for: a reading, a list or an
// object. The root is the document itself.
type node struct {
	name    string // of a member of an object; empty for the root and for items
	field   *forms.Field
	repeat  forms.Repeat // of a list
	item    *node        // of a list
	members []*node      // of an object, in the order of the form
}

// shapeOf is the tree of a form's fields.
func shapeOf(f forms.Form) *node {
	root := &node{}
	for g := range f.Groups {
		for i := range f.Groups[g].Fields {
			field := &f.Groups[g].Fields[i]
			at := root
			repeats := field.Repeats
			for _, step := range steps(field.Path) {
				if step != item {
					at = at.member(step)
					continue
				}
				if at.item == nil {
					at.item = &node{}
					at.repeat, repeats = repeats[0], repeats[1:]
				} else {
					repeats = repeats[1:]
				}
				at = at.item
			}
			at.field = field
		}
	}
	return root
}

func (n *node) member(name string) *node {
	for _, m := range n.members {
		if m.name == name {
			return m
		}
	}
	m := &node{name: name}
	n.members = append(n.members, m)
	return m
}

const item = "[]" // the step from a list into its items

// steps takes a path apart: "stack.grid[0][2]" is stack, grid, [0], [2].
func steps(path string) []string {
	return strings.FieldsFunc(strings.ReplaceAll(path, "[", ".["), func(r rune) bool { return r == '.' })
}

// find gives the part that a path of a document leads to, indexes at most one past
// the limit of their list; nil where there is none.
func (n *node) find(path string) *node {
	for _, step := range steps(path) {
		index, isItem := strings.CutPrefix(step, "[")
		switch {
		case !isItem:
			if n = n.known(step); n == nil {
				return nil
			}
		case n.item == nil:
			return nil
		default:
			i, err := strconv.Atoi(strings.TrimSuffix(index, "]"))
			if err != nil || i < 0 || i > n.repeat.Max || len(index) > 6 || strconv.Itoa(i)+"]" != index {
				return nil
			}
			n = n.item
		}
	}
	return n
}

func (n *node) known(name string) *node {
	for _, m := range n.members {
		if m.name == name {
			return m
		}
	}
	return nil
}

// blank is how many places of a list an empty form shows.
func (n *node) blank() int {
	switch {
	case n.name == "pieces" && n.item.field != nil && n.repeat.Min == 0:
		return 5
	case n.item.field != nil && n.repeat.Min == 1:
		return 4
	case n.item.item != nil: // a line of a list of lists
		return max(n.repeat.Min, 3)
	case n.name == "" && n.repeat.Min > 0: // the readings of such a line
		return max(n.repeat.Min, 4)
	}
	return n.repeat.Min
}

// more is how many places a press of its button adds to a list.
func (n *node) more() int {
	switch {
	case n.name == "pieces":
		return 5
	case n.item.field != nil:
		return 2
	}
	return 1
}

func child(path, name string) string {
	if path == "" {
		return name
	}
	return path + "." + name
}

func entry(path string, i int) string { return path + "[" + strconv.Itoa(i) + "]" }
