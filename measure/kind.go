package measure

import "encoding/json"

// A kindEntry is one way wood may stand: its name in the document and the
// reader of its "stack" object.
type kindEntry struct {
	name   string
	decode func(raw json.RawMessage, path string, errs *InputErrors) Stack
}

// kinds lists every way wood may stand. A new kind is one file and one line here.
func kinds() []kindEntry {
	return []kindEntry{
		{"rows", decodeRows},
	}
}
