package form

import (
	"encoding/json"
	"fmt"
	"slices"
)

// Fields gives the fields of a tally document as the measuring form names them: by
// their paths. What a page sets by itself (format, sold, look) is left out. A text that
// is no JSON gives none.
func Fields(doc []byte) func(field func(name, value string)) {
	var root map[string]any
	_ = json.Unmarshal(doc, &root)
	return func(field func(name, value string)) {
		for name, value := range root {
			switch name {
			case "format", "sold", "look":
			case "apart":
				apartFields(fmt.Sprint(value), field)
			default:
				walk(name, value, field)
			}
		}
	}
}

func apartFields(value string, field func(name, value string)) {
	if value == "none" {
		field("apart", value)
		return
	}
	field("apart", "some")
	field("apart_some", value)
}

// walk gives the leaves below a place in the document.
func walk(path string, value any, field func(name, value string)) {
	switch v := value.(type) {
	case map[string]any:
		for name, inner := range v {
			if name == "photo" {
				photoFields(path+"."+name, inner, field)
			} else {
				walk(path+"."+name, inner, field)
			}
		}
	case []any:
		for i, inner := range slices.All(v) {
			walk(fmt.Sprintf("%s[%d]", path, i), inner, field)
		}
	case nil:
	default:
		field(path, fmt.Sprint(v))
	}
}
