package stack

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/strict"
)

// wholeDocuments are whole documents of every kind, between them with every field.
func wholeDocuments() map[string]string {
	all := kindTallies()
	all["rows"] = `{"format": 2, "sold": "1 cord", "by": "buyer", "apart": "12 cu ft", "look": 1, "tape": "1/4 in", "tape_made": "steel", "rounded": "down",
		"top": "straightedge", "stowed": "counted", "gaps": {"count": 2, "pieces": 60}, "raised": "4 in", "condition": "seasoned", "stack": {"kind": "rows",
		"pieces": ["16 in", "15 1/2 in", "16 1/4 in", "15 3/4 in", "16 in"], "rows": [{"length": "96 in", "lengths": ["95 in", "97 in"],
		"heights": ["48 in", "47 in", "48 1/2 in"], "back": ["47 in", "48 in", "47 in"], "positions": ["1 ft", "4 ft", "7 ft"],
		"ends": [{"kind": "shouldered", "drop": "8 in", "over": "10 in"}, {"kind": "cribbed", "over": "18 in", "share": 0.7}],
		"voids": [{"width": "12 in", "height": "6 in"}], "pieces": ["16 in", "16 1/2 in"]}, {"length": "8 ft", "heights": ["4 ft"], "nominal": "15 in",
		"ends": [{"kind": "tapered", "over": "20 in"}, {"kind": "upright"}]}]}}`
	return all
}

// leaves are the paths of all that is neither a list nor an object, with what stands there.
func leaves(path string, part any, found map[string]any) {
	switch v := part.(type) {
	case map[string]any:
		for name, p := range v {
			leaves(strict.Member(path, name), p, found)
		}
	case []any:
		for i, p := range v {
			leaves(strict.Item(path, i), p, found)
		}
	default:
		found[path] = v
	}
}

// withAt is a document with something else at a path.
func withAt(t *testing.T, document, path string, value any) []byte {
	t.Helper()
	var whole any
	require.NoError(t, json.Unmarshal([]byte(document), &whole))
	at := &whole
	steps := strings.FieldsFunc(path, func(r rune) bool { return strings.ContainsRune(".[]", r) })
	for i, step := range steps {
		switch v := (*at).(type) {
		case map[string]any:
			if i == len(steps)-1 {
				v[step] = value
			} else {
				next := v[step]
				at = &next
			}
		case []any:
			n, err := strconv.Atoi(step)
			require.NoError(t, err)
			if i == len(steps)-1 {
				v[n] = value
			} else {
				next := v[n]
				at = &next
			}
		}
	}
	changed, err := json.Marshal(whole)
	require.NoError(t, err)
	return changed
}

// free are fields that may hold any words.
func free(path string) bool {
	return slices.Contains([]string{"stack.calibrated.by", "stack.calibrated.line", "moisture.method", "condition"}, path)
}

// Whatever in a document is not understood is refused at its own place, and the fault says what was read and what would be accepted. Nothing nonsensical
// is measured.
func TestEveryReadingIsRefusedAtItsPlace(t *testing.T) {
	documents := wholeDocuments()
	for _, name := range slices.Sorted(maps.Keys(documents)) {
		var whole any
		require.NoError(t, json.Unmarshal([]byte(documents[name]), &whole))
		found := map[string]any{}
		leaves("", whole, found)
		for _, path := range slices.Sorted(maps.Keys(found)) {
			if free(path) {
				continue
			}
			nonsense := []any{"twelvish", "-5 in", "999999 ft", map[string]any{"a": 1}, "0.4 parsec"}
			if _, number := found[path].(float64); number {
				nonsense = []any{-5.0, 1e9, "twelvish", map[string]any{"a": 1}, []any{}}
			}
			for _, value := range nonsense {
				document := withAt(t, documents[name], path, value)
				_, err := ParseTally(document)
				var faults measure.InputErrors
				require.ErrorAs(t, err, &faults, "%s: %v at %s", name, value, path)
				place := slices.IndexFunc(faults, func(f *measure.InputError) bool {
					return f.Field == path || path == "stack.kind" || !isText(value) && strings.HasPrefix(path, f.Field)
				})
				require.GreaterOrEqual(t, place, 0, "%s: %v at %s: %v", name, value, path, err)
				fault := faults[place]
				require.NotEmpty(t, fault.Reason.Key, "%s at %s", name, path)
				require.NotEmpty(t, fault.Accepts.Key, "%s: %v at %s", name, value, path)
				if text, ok := value.(string); ok && isText(found[path]) {
					require.Equal(t, text, fault.Got, "%s: what was read at %s", name, path)
				}
			}
		}
	}
}

func isText(v any) bool { _, ok := v.(string); return ok }

// lengths, volumes and counts of a tally, each with how to set it.
func figuresOf(path string, v reflect.Value, found map[string]reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			figuresOf(path+"."+v.Type().Field(i).Name, v.Field(i), found)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			figuresOf(fmt.Sprintf("%s[%d]", path, i), v.Index(i), found)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			figuresOf(path, v.Elem(), found)
		}
	case reflect.Int, reflect.Int64, reflect.Float64, reflect.String:
		found[path] = v
	}
}

// parsed is a document's tally with its stack where it can be set.
func parsed(t *testing.T, document string) (tally Tally, stack reflect.Value) {
	t.Helper()
	tally, err := ParseTally([]byte(document))
	require.NoError(t, err)
	stack = reflect.New(reflect.TypeOf(tally.Stack)).Elem()
	stack.Set(reflect.ValueOf(tally.Stack))
	return tally, stack
}

// A tally that a program made and that holds a figure below 0 or a word nobody knows is
// refused with its place, or is measured to the same volume as without; what can't be is
// never measured.
func TestImpossibleTalliesAreNotMeasured(t *testing.T) {
	documents := wholeDocuments()
	for _, name := range slices.Sorted(maps.Keys(documents)) {
		tally, stack := parsed(t, documents[name])
		found := map[string]reflect.Value{}
		figuresOf("stack", stack, found)
		want := measured(t, tally).Quantity.Volume
		for _, path := range slices.Sorted(maps.Keys(found)) {
			figure := found[path]
			was := reflect.ValueOf(figure.Interface())
			for _, bad := range []int64{-1, -1_000_000_000} {
				switch figure.Kind() {
				case reflect.String:
					figure.SetString("nobody’s word")
				case reflect.Float64:
					figure.SetFloat(float64(bad))
				default:
					figure.SetInt(bad)
				}
				tally.Stack = stack.Interface().(Stack)
				r, err := Measure(tally)
				var fault *measure.InputError
				switch {
				case errors.As(err, &fault):
					require.NotEmpty(t, fault.Field)
					require.NotEmpty(t, fault.Reason.Key)
					require.NotEmpty(t, fault.Accepts.Key)
				default:
					require.NoError(t, err)
					if math.Abs(float64(r.Quantity.Volume-want)) > 2 {
						t.Errorf("%s: measured with %s = %v", name, path, figure)
					}
				}
				figure.Set(was)
			}
		}
	}
}

// What a text is filled with can be stored, or storing it says so.
func TestATextKeepsWhatFillsIt(t *testing.T) {
	whole := measure.Say("%s %s %d %.3g %s %s %s", "oak", 16*measure.Inch, 3, 0.25, measure.Cord, measure.Quantity{Volume: measure.Cord, Basis: measure.Ranked}, measure.Say("%d more", 2))
	stored, err := json.Marshal(whole)
	require.NoError(t, err)
	var got measure.Text
	require.NoError(t, json.Unmarshal(stored, &got))
	require.Equal(t, whole, got)
	_, err = json.Marshal(measure.Say("%v", []int{1}))
	require.ErrorContains(t, err, "cannot be stored")
}

// Bytes that aren't text are refused as such, with what would be read, wherever an amount
// is typed.
func TestBytesThatAreNoTextAreRefused(t *testing.T) {
	for name, read := range map[string]func(string) error{
		"length":   func(s string) error { _, err := measure.ParseLength(s); return err },
		"volume":   func(s string) error { _, err := measure.ParseVolume(s); return err },
		"quantity": func(s string) error { _, err := measure.ParseQuantity(s); return err },
	} {
		for _, typed := range []string{"8 ft\xff", "\xc3", "8\u200b ft"} {
			err := read(typed)
			var fault *measure.InputError
			require.ErrorAs(t, err, &fault, "%s: %q", name, typed)
			require.Equal(t, "bad-text", fault.Code, "%s: %q", name, typed)
			require.NotEmpty(t, fault.Accepts.Key, "%s: %q", name, typed)
		}
	}
}

// A quantity is written with its basis, and less than nothing with its sign.
func TestQuantitiesAreWrittenWithTheirBasis(t *testing.T) {
	for want, q := range map[string]measure.Quantity{
		"1 1/3 cords": {Volume: measure.Cord / 3 * 4, Basis: measure.Ranked}, "-1 cord": {Volume: -measure.Cord, Basis: measure.Ranked},
		"180 cu ft loose": {Volume: 180 * measure.CubicFoot, Basis: measure.Loose}, "-180 cu ft loose": {Volume: -180 * measure.CubicFoot, Basis: measure.Loose},
		"20 cu ft in a container": {Volume: 20 * measure.CubicFoot, Basis: measure.Container}, "20 cu ft": {Volume: 20 * measure.CubicFoot},
		"58.5 cu ft stacked": {Volume: 58*measure.CubicFoot + measure.CubicFoot/2, Basis: measure.Ranked},
	} {
		require.Equal(t, want, q.String())
	}
}
