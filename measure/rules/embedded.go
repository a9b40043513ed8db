package rules

import (
	"embed"
	"fmt"
	"io/fs"
	"strings"
	"sync"
)

//go:embed *-law.json *-moving.json
var files embed.FS

// BuiltIn gives every set built in, in the order of their codes. An error means
// that a file built in is faulty, and names it.
func BuiltIn() (Book, error) { return builtIn() }

// builtIn reads them once: most of the program asks for them, and none can change them.
var builtIn = sync.OnceValues(readBuiltIn)

func readBuiltIn() (Book, error) {
	names, err := fs.Glob(files, "*-law.json")
	if err != nil {
		return Book{}, err
	}
	sets := make([]Set, len(names))
	for i, name := range names {
		b, err := files.ReadFile(name)
		if err != nil {
			return Book{}, err
		}
		if sets[i], err = Parse(b); err != nil {
			return Book{}, fmt.Errorf("rule set %s: %w", name, err)
		}
		if sets[i].Code != codeOf(name) {
			return Book{}, fmt.Errorf("rule set %s: its code is %q", name, sets[i].Code)
		}
		if sets[i], err = sets[i].withNation(); err != nil {
			return Book{}, err
		}
	}
	return Book{sets}, nil
}

// codeOf is the code a file's name gives: us-model for us-model-law.json.
func codeOf(name string) string { return strings.TrimSuffix(name, "-law.json") }
