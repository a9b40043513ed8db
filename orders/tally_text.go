package orders

import (
	"encoding/json"
	"maps"
	"slices"
	"strconv"

	"wellstowed/measure/rules"
	"wellstowed/orders/act"
)

// barredInTally notes barred terms in the texts of a tally's document, which its sheet
// prints: none may stand where a text speaks of the wood, those of several words
// nowhere (a body may be called after a Rick).
func BarredInTally(f *act.Fields, set rules.Set, document []byte) error {
	var doc any
	if err := json.Unmarshal(document, &doc); err != nil {
		return err
	}
	barredInside(f, set, "", doc)
	return nil
}

func barredInside(f *act.Fields, set rules.Set, path string, v any) {
	switch v := v.(type) {
	case string:
		if slices.Contains([]string{"condition", "moisture.method"}, path) {
			f.Barred(set, path, v)
			return
		}
		f.BarredInName(set, path, v)
	case []any:
		for i, inner := range v {
			barredInside(f, set, path+"["+strconv.Itoa(i)+"]", inner)
		}
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(v)) {
			at, inner := name, v[name]
			if path != "" {
				at = path + "." + name
			}
			barredInside(f, set, at, inner)
		}
	}
}
