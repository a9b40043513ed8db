package store_test

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders"
)

// A filler gives every field of a value something of its own, found by reflection, so
// that a field which is added later is filled as well. Texts are words that occur
// nowhere else, and it remembers where each stands.
type filler struct {
	t     *testing.T
	n     int64
	texts map[string]string // path of a field by the word it holds
}

func newFiller(t *testing.T) *filler { return &filler{t: t, texts: map[string]string{}} }

func (f *filler) next() int64 { f.n++; return f.n }

// word is a text that is found nowhere else.
func (f *filler) word(path string) string {
	w := fmt.Sprintf("kz%05dq", f.next())
	f.texts[w] = path
	return w
}

// filled is a value of a type with all its fields filled, then changed by fix.
func filled[T any](f *filler, fix ...func(*T)) T {
	var v T
	f.fill(reflect.ValueOf(&v).Elem(), reflect.TypeFor[T]().Name())
	for _, change := range fix {
		change(&v)
	}
	return v
}

// choices are what a type may hold where the database holds it to a list.
func choices(t reflect.Type) []string {
	switch t {
	case reflect.TypeFor[measure.Basis]():
		return []string{"ranked", "loose"}
	case reflect.TypeFor[orders.Seasoning]():
		return []string{"green", "seasoned", "kiln-dried"}
	case reflect.TypeFor[orders.Paper]():
		return []string{"a4"}
	case reflect.TypeFor[orders.Units]():
		return []string{"metric"}
	case reflect.TypeFor[orders.Payment]():
		return []string{"cheque", "voucher"}
	case reflect.TypeFor[orders.SettleBy]():
		return []string{"money", "wood"}
	case reflect.TypeFor[orders.AgreedHow]():
		return []string{"writing", "word"}
	case reflect.TypeFor[orders.BatchEntryKind]():
		return []string{"recounted", "corrected", "used up"}
	case reflect.TypeFor[orders.EntryKind]():
		return []string{"reply", "claim", "answer", "office"}
	case reflect.TypeFor[measure.Party]():
		return []string{"seller", "buyer"}
	case reflect.TypeFor[orders.Remedy]():
		return []string{"together", "wood", "money", "disagree"}
	case reflect.TypeFor[orders.YesNo]():
		return []string{"no", "yes"}
	case reflect.TypeFor[orders.AuditEntryKind]():
		return []string{"plan", "notice", "attendance", "hold", "item", "note"}
	case reflect.TypeFor[orders.ReceiptKind]():
		return []string{"settlement", "correction"}
	}
	return nil
}

func (f *filler) fill(v reflect.Value, path string) {
	if v.CanInterface() && f.known(v) {
		return
	}
	switch v.Kind() {
	case reflect.String:
		if list := choices(v.Type()); list != nil {
			v.SetString(list[int(f.next())%len(list)])
			return
		}
		if v.Type() != reflect.TypeFor[string]() { // a code, or a reading
			v.SetString(fmt.Sprintf("code%05d", f.next()))
			return
		}
		v.SetString(f.text(path))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(f.next() % 100_000)
	case reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uint:
		v.SetUint(uint64(f.next() % 250))
	case reflect.Float64:
		v.SetFloat(float64(f.next()) + 0.25)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem(), path)
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			v.SetBytes([]byte(`"` + f.text(path) + `"`)) // JSON, where that is asked for
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			f.fill(v.Index(i), path)
		}
	case reflect.Array:
		for i := range v.Len() {
			f.fill(v.Index(i), path)
		}
	case reflect.Struct:
		require.NotZero(f.t, exported(v.Type()), "%s of %s has nothing that can be filled", path, v.Type())
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				name := path + "." + field.Name
				if field.Anonymous {
					name = path
				}
				f.fill(v.Field(i), name)
			}
		}
	default:
		require.Failf(f.t, "not fillable", "%s of %s", path, v.Type())
	}
}

func exported(t reflect.Type) (n int) {
	for i := range t.NumField() {
		if t.Field(i).IsExported() {
			n++
		}
	}
	return n
}

// text is a word, or what goes by the field's name where the database asks for a shape.
func (f *filler) text(path string) string {
	switch name := path[strings.LastIndex(path, ".")+1:]; {
	case strings.HasSuffix(name, "Hash"), name == "Chain", name == "SHA256", name == "Previous":
		return fmt.Sprintf("%064x", f.next())
	case name == "ID", strings.HasSuffix(name, "ID"), name == "Replaces", name == "Reverses", name == "Batch":
		return newID()
	case name == "Currency":
		return "CAD" // one on an order
	case name == "Seal":
		return fmt.Sprintf("%014d", f.next())
	}
	return f.word(path)
}

// known fills what is no plain sum of its fields.
func (f *filler) known(v reflect.Value) bool {
	switch to := v.Addr().Interface().(type) {
	case *time.Time:
		*to = time.UnixMicro(1_700_000_000_000_000 + f.next()*1_000_003).UTC()
	case *orders.Date:
		*to = orders.DateOf(time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(f.next()%20_000)))
	case *measure.Text:
		*to = measure.Say("%s "+f.word(v.Type().String()+".Key"), f.word(v.Type().String()+".Args"))
	case *wood.Moisture:
		require.NoError(f.t, json.Unmarshal(fmt.Appendf(nil, `{"percent":%d.125,"basis":"dry"}`, f.next()%300), to))
	default:
		return false
	}
	return true
}
