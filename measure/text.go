package measure

import (
	"encoding/json"
	"fmt"
)

// A Text is something to be said to a person: English in place as the key, with
// fmt verbs, and the arguments that fill it. Measure never words a number for a
// reader: the printer at the edge turns the key into the reader's language and
// each Length, Volume, Quantity or Text among the arguments into the reader's
// units. The zero Text says nothing.
type Text struct {
	Key  string
	Args []any
}

// Say makes a Text. Arguments may be string, int, float64, Length, Volume,
// Quantity and Text; nothing else survives being stored.
func Say(key string, args ...any) Text { return Text{Key: key, Args: args} }

// String gives the English text with exact quantities, for logs and tests.
func (t Text) String() string {
	if len(t.Args) == 0 {
		return t.Key
	}
	return fmt.Sprintf(t.Key, t.Args...)
}

// storedArg is one argument as stored: exactly one field is set.
type storedArg struct {
	String   *string   `json:"string,omitempty"`
	Int      *int      `json:"int,omitempty"`
	Ratio    *float64  `json:"ratio,omitempty"`
	Length   *int64    `json:"nanometres,omitempty"`
	Volume   *int64    `json:"nanolitres,omitempty"`
	Quantity *Quantity `json:"quantity,omitempty"`
	Text     *Text     `json:"text,omitempty"`
}

type storedText struct {
	Key  string      `json:"key"`
	Args []storedArg `json:"args,omitempty"`
}

// MarshalJSON stores the key and the typed arguments.
func (t Text) MarshalJSON() ([]byte, error) {
	s := storedText{Key: t.Key}
	for _, arg := range t.Args {
		stored, err := storeArg(arg)
		if err != nil {
			return nil, fmt.Errorf("text %q: %w", t.Key, err)
		}
		s.Args = append(s.Args, stored)
	}
	return json.Marshal(s)
}

func storeArg(arg any) (storedArg, error) {
	switch v := arg.(type) {
	case string:
		return storedArg{String: &v}, nil
	case int:
		return storedArg{Int: &v}, nil
	case float64:
		return storedArg{Ratio: &v}, nil
	case Length:
		n := int64(v)
		return storedArg{Length: &n}, nil
	case Volume:
		n := int64(v)
		return storedArg{Volume: &n}, nil
	case Quantity:
		return storedArg{Quantity: &v}, nil
	case Text:
		return storedArg{Text: &v}, nil
	}
	return storedArg{}, fmt.Errorf("an argument of type %T cannot be stored", arg)
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (t *Text) UnmarshalJSON(b []byte) error {
	var s storedText
	if err := json.Unmarshal(b, &s); err != nil {
		return err
	}
	*t = Text{Key: s.Key}
	for _, arg := range s.Args {
		t.Args = append(t.Args, arg.value())
	}
	return nil
}

func (a storedArg) value() any {
	switch {
	case a.Int != nil:
		return *a.Int
	case a.Ratio != nil:
		return *a.Ratio
	case a.Length != nil:
		return Length(*a.Length)
	case a.Volume != nil:
		return Volume(*a.Volume)
	case a.Quantity != nil:
		return *a.Quantity
	case a.Text != nil:
		return *a.Text
	case a.String != nil:
		return *a.String
	}
	return ""
}
