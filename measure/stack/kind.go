package stack

import (
	"encoding/json"

	"wellstowed/measure"
)

// A kindEntry is one way wood may stand: its name in the document and the reader of
// its "stack" object.
type kindEntry struct {
	name   string
	decode func(raw json.RawMessage, path string, errs *measure.InputErrors) Stack
}

// kinds lists every way wood may stand. A new kind is one file and one line here.
func kinds() []kindEntry {
	return []kindEntry{
		{"rows", decodeRows},
		{"load", decodeLoad},
		{"heap", decodeHeap},
		{"bin", decodeBin},
		{"round", decodeRound},
		{"packaged", decodePackaged},
	}
}

// Kinds are the names of every way wood may stand, in the order they are offered.
func Kinds() []string {
	var names []string
	for _, k := range kinds() {
		names = append(names, k.name)
	}
	return names
}
