package rules

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
)

//go:embed *-law.json
var files embed.FS

// All gives every set built in, in the order of their codes. An error means that
// a file built in is faulty, and names it.
func All() ([]Set, error) {
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		return nil, err
	}
	sets := make([]Set, len(names))
	for i, name := range names {
		b, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		if sets[i], err = Parse(b); err != nil {
			return nil, fmt.Errorf("rule set %s: %w", name, err)
		}
		if sets[i].Code != codeOf(name) {
			return nil, fmt.Errorf("rule set %s: its code is %q", name, sets[i].Code)
		}
	}
	return sets, nil
}

// codeOf is the code a file's name gives: us-model for us-model-law.json.
func codeOf(name string) string { return strings.TrimSuffix(name, "-law.json") }

// Get gives the set of a code; the error lists the codes there are.
func Get(code string) (Set, error) {
	sets, err := All()
	if err != nil {
		return Set{}, err
	}
	var codes []string
	for _, s := range sets {
		if s.Code == code {
			return s, nil
		}
		codes = append(codes, s.Code)
	}
	return Set{}, fmt.Errorf("read “%s”: there is no such rule set; accepted: %s", code, strings.Join(codes, ", "))
}
