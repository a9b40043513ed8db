package measure

import "encoding/json"

// A Document is a tally as data, format 1, every reading still text as typed.
// It is what is stored, sent by the page and read by the command line.
type Document struct {
	Format    int             `json:"format"`
	Sold      Reading         `json:"sold,omitempty"`
	By        Reading         `json:"by,omitempty"`
	Apart     Reading         `json:"apart,omitempty"`
	Look      int             `json:"look,omitempty"`
	Tape      Reading         `json:"tape,omitempty"`
	Top       Reading         `json:"top,omitempty"`
	Stowed    Reading         `json:"stowed,omitempty"`
	Raised    Reading         `json:"raised,omitempty"`
	Condition Reading         `json:"condition,omitempty"`
	Stack     json.RawMessage `json:"stack"`
}

// A RowsDocument is the "stack" of a document whose kind is "rows".
type RowsDocument struct {
	Kind    string        `json:"kind"`
	Pieces  []Reading     `json:"pieces,omitempty"`
	Nominal Reading       `json:"nominal,omitempty"`
	Rows    []RowDocument `json:"rows"`
}

// A RowDocument is one row of a RowsDocument.
type RowDocument struct {
	Length    Reading        `json:"length"`
	Heights   []Reading      `json:"heights"`
	Positions []Reading      `json:"positions,omitempty"`
	Ends      []EndDocument  `json:"ends,omitempty"`
	Voids     []VoidDocument `json:"voids,omitempty"`
	Pieces    []Reading      `json:"pieces,omitempty"`
	Nominal   Reading        `json:"nominal,omitempty"`
}

// An EndDocument is one end of a row.
type EndDocument struct {
	Kind  string   `json:"kind"`
	Over  Reading  `json:"over,omitempty"`
	Drop  Reading  `json:"drop,omitempty"`
	Share *float64 `json:"share,omitempty"` // a ratio, 0 to 1
}

// A VoidDocument is one void of a row.
type VoidDocument struct {
	Width  Reading `json:"width"`
	Height Reading `json:"height"`
}

// A Reading is text as typed. A bare JSON number is kept as its digits, so that
// parsing can refuse it by name.
type Reading string

// UnmarshalJSON keeps a string's text, and any other token as it stands.
func (r *Reading) UnmarshalJSON(b []byte) error {
	if len(b) > 0 && b[0] == '"' {
		var s string
		if err := json.Unmarshal(b, &s); err != nil {
			return err
		}
		*r = Reading(s)
		return nil
	}
	*r = Reading(b)
	return nil
}
