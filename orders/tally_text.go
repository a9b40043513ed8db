package orders

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"

	"wellstowed/measure/rules"
)

// barredInTally notes barred terms in the texts of a tally's document, which its sheet
// prints: none may stand where a text speaks of the wood, those of several words
// nowhere (a body may be called after a Rick).
func (f *fields) barredInTally(set rules.Set, document []byte) error {
	var doc any
	if err := json.Unmarshal(document, &doc); err != nil {
		return err
	}
	f.barredInside(set, "", doc)
	return nil
}

func (f *fields) barredInside(set rules.Set, path string, v any) {
	switch v := v.(type) {
	case string:
		if slices.Contains([]string{"condition", "moisture.method"}, path) {
			f.barred(set, path, v)
			return
		}
		f.barredInName(set, path, v)
	case []any:
		for i, inner := range v {
			f.barredInside(set, path+"["+strconv.Itoa(i)+"]", inner)
		}
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			at, inner := name, v[name]
			if path != "" {
				at = path + "." + name
			}
			f.barredInside(set, at, inner)
		}
	}
}
