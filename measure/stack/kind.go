package stack

import (
	"encoding/json"

	"wellstowed/measure"
)

// A kindEntry is one way wood may stand: its name in the document, the reader of
// its "stack" object and the form that asks for it.
type kindEntry struct {
	name   string
	decode func(raw json.RawMessage, path string, errs *measure.InputErrors) Stack
	form   func() Form
}

// kinds lists every way wood may stand. A new kind is one file and one line here.
func kinds() []kindEntry {
	return []kindEntry{
		{"rows", decodeRows, rowsForm},
		{"load", decodeLoad, loadForm},
		{"heap", decodeHeap, heapForm},
		{"bin", decodeBin, binForm},
		{"round", decodeRound, roundForm},
		{"packaged", decodePackaged, packagedForm},
	}
}
