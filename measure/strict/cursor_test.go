package strict

import (
	"bytes"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/require"
)

// requireTakenApart holds a text taken apart against what the library makes of it.
func requireTakenApart(t *testing.T, doc []byte) {
	members, isObject := FieldsOf(doc)
	var object map[string]json.RawMessage
	require.Equal(t, json.Unmarshal(doc, &object) == nil && object != nil, isObject, "%s", doc)
	last := map[string]json.RawMessage{}
	for _, m := range members {
		last[m.Name] = m.Value
		requireTakenApart(t, m.Value)
	}
	require.Len(t, last, len(object), "%s", doc)
	for name, value := range object {
		require.Equal(t, string(value), string(last[name]), "%q of %s", name, doc)
	}
	elements := elementsOf(doc)
	var list []json.RawMessage
	if json.Unmarshal(doc, &list) == nil {
		require.Len(t, elements, len(list), "%s", doc)
	} else {
		require.Empty(t, elements, "%s", doc)
	}
	for i, e := range elements {
		require.Equal(t, string(list[i]), string(e), "%s", doc)
		requireTakenApart(t, e)
	}
	c := cursor{doc: doc}
	require.Equal(t, string(bytes.Trim(doc, " \t\r\n")), string(c.value()), "%s", doc)
	require.Zero(t, c.next(), "%s", doc)
}

// Whatever is valid JSON is taken apart into the same members, elements and values.
func FuzzCursor(f *testing.F) {
	for _, seed := range []string{
		`{"format": 2, "stack": {"kind": "rows", "rows": [{"length": "8 ft", "heights": ["4 ft", "3 ft"]}]}}`,
		` [ 1 , -2.5e3,true ,null,"a\"b\\", {} ,[ ] ] `, `{"a":1,"a":2,"\u0061":3,"é":"}","b\/":"]"}`, `"x"`, `7`, ` true `, "{\"\xff\": 1}",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, doc []byte) {
		if json.Valid(doc) {
			requireTakenApart(t, doc)
		}
	})
}
