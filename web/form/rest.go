package form

import (
	"encoding/json"
	"slices"
	"strings"

	"wellstowed/measure"
)

// Rest is the form of rows for what Tally leaves to it: it writes those fields only.
func (s *Stack) Rest() *Stack {
	s.mine = map[string]bool{}
	for _, g := range s.form.Groups {
		for _, f := range g.Fields {
			s.mine[f.Path] = ofRest(f.Path)
		}
	}
	return s
}

// ofRest tells whether a field of rows is left to the declared form.
func ofRest(path string) bool {
	plain := []string{"stack.rows[].back[]", "stack.rows[].lengths[]", "stack.rows[].ends[].share", "condition", "sold_condition",
		"rounded", "tape_made", "stacked", "stacked_by", "confirmed[]"}
	return slices.Contains(plain, path) || strings.HasPrefix(path, "stack.rows[].slope.") || strings.HasPrefix(path, "stack.window.") ||
		strings.HasPrefix(path, "gaps.") || strings.HasPrefix(path, "moisture.") || strings.HasPrefix(path, "shrinkage.")
}

// Into puts what the form writes into a document that says the rest.
func (s *Stack) Into(doc []byte) ([]byte, measure.InputErrors, error) {
	own, faults := s.Document()
	if !s.writes() {
		return doc, faults, nil
	}
	var a, b any
	for _, read := range []struct {
		from []byte
		to   *any
	}{{doc, &a}, {own, &b}} {
		if err := json.Unmarshal(read.from, read.to); err != nil {
			return nil, nil, err
		}
	}
	both, err := json.Marshal(merged(a, b))
	return both, faults, err
}

// writes tells whether any field of its own was typed.
func (s *Stack) writes() bool {
	for path, value := range s.values {
		if f := s.shape.find(path).field; s.mine[f.Path] && strings.TrimSpace(value) != "" {
			return true
		}
	}
	return false
}

// merged is b on top of a: objects by their members, lists by their places.
func merged(a, b any) any {
	switch top := b.(type) {
	case map[string]any:
		under, ok := a.(map[string]any)
		if !ok {
			return b
		}
		for name, value := range top {
			under[name] = merged(under[name], value)
		}
		return under
	case []any:
		under, ok := a.([]any)
		if !ok {
			return b
		}
		for i, value := range top {
			if i == len(under) {
				under = append(under, nil)
			}
			under[i] = merged(under[i], value)
		}
		return under
	}
	if b == nil || b == "" && a != nil {
		return a
	}
	return b
}
