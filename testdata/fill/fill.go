// Package fill gives tests values of which every field holds something of its own. It
// is imported by tests alone.
package fill

import (
	"encoding/json"
	"fmt"
	"reflect"
	"testing"
	"time"

	"wellstowed/measure"
	"wellstowed/measure/wood"
	"wellstowed/orders/act"
	"wellstowed/orders/privacy"
)

// A Filler gives every field of a value something of its own, found by reflection, so
// that a field which is added later is filled as well. Texts are words that occur
// nowhere else, and it remembers where each stands.
type Filler struct {
	T     testing.TB
	Texts map[string]string // path of a field by the word it holds
	// Fates is what the field at a path declares of names in it; empty where neither it nor
	// what it is part of does.
	Fates map[string]privacy.Fate
	// Choices are what a type may hold that is not any text; nil for any.
	Choices func(reflect.Type) []string
	// Shape is a text of the shape that the field at a path asks for; empty for any.
	Shape func(f *Filler, path string) string
	// Number is what a field of a type holds for the n-th number; nil: n.
	Number func(t reflect.Type, n int64) int64

	n int64
}

// New is a filler that knows no shapes and no choices.
func New(t testing.TB) *Filler {
	return &Filler{
		T: t, Texts: map[string]string{}, Fates: map[string]privacy.Fate{}, Choices: func(reflect.Type) []string { return nil },
		Shape: func(*Filler, string) string { return "" }, Number: func(_ reflect.Type, n int64) int64 { return n },
	}
}

// Next is a number that was not given before.
func (f *Filler) Next() int64 { f.n++; return f.n }

// Word is a text that is found nowhere else.
func (f *Filler) Word(path string) string {
	w := fmt.Sprintf("kz%05dq", f.Next())
	f.Texts[w] = path
	return w
}

// Value is a value of a type with all its fields filled, then changed by fix.
func Value[T any](f *Filler, fix ...func(*T)) T {
	f.T.Helper()
	var v T
	f.fill(reflect.ValueOf(&v).Elem(), reflect.TypeFor[T]().Name(), "")
	for _, change := range fix {
		change(&v)
	}
	return v
}

func (f *Filler) fill(v reflect.Value, path string, fate privacy.Fate) {
	f.Fates[path] = fate
	if v.CanInterface() && f.known(v) {
		return
	}
	switch v.Kind() {
	case reflect.String:
		if list := f.Choices(v.Type()); list != nil {
			v.SetString(list[int(f.Next())%len(list)])
			return
		}
		if v.Type() != reflect.TypeFor[string]() { // a code, or a reading
			v.SetString(fmt.Sprintf("code%05d", f.Next()))
			return
		}
		v.SetString(f.text(path))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		v.SetInt(f.Number(v.Type(), f.Next()%100_000))
	case reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uint:
		v.SetUint(uint64(f.Next() % 250))
	case reflect.Float64:
		v.SetFloat(float64(f.Next()) + 0.25)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem(), path, fate)
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			v.SetBytes([]byte(`"` + f.text(path) + `"`)) // JSON, where that is asked for
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			f.fill(v.Index(i), path, fate)
		}
	case reflect.Array:
		for i := range v.Len() {
			f.fill(v.Index(i), path, fate)
		}
	case reflect.Struct:
		if exported(v.Type()) == 0 {
			f.T.Fatalf("%s of %s has nothing that can be filled", path, v.Type())
		}
		for i := range v.NumField() {
			if field := v.Type().Field(i); field.IsExported() {
				name := path + "." + field.Name
				if field.Anonymous {
					name = path
				}
				f.fill(v.Field(i), name, privacy.Declared(field, fate))
			}
		}
	default:
		f.T.Fatalf("%s of %s can't be filled", path, v.Type())
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

// text is a word, or of the shape that is asked for.
func (f *Filler) text(path string) string {
	if text := f.Shape(f, path); text != "" {
		return text
	}
	return f.Word(path)
}

// known fills what is no plain sum of its fields.
func (f *Filler) known(v reflect.Value) bool {
	switch to := v.Addr().Interface().(type) {
	case *time.Time:
		*to = time.UnixMicro(1_700_000_000_000_000 + f.Next()*90_061_001_003).UTC()
	case *act.Date:
		*to = act.DateOf(time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, int(f.Next()%20_000)))
	case *measure.Text:
		key, args := v.Type().String()+".Key", v.Type().String()+".Args"
		f.Fates[key], f.Fates[args] = privacy.Written, privacy.Written
		*to = measure.Say("%s "+f.Word(key), f.Word(args))
	case *wood.Moisture:
		if err := json.Unmarshal(fmt.Appendf(nil, `{"percent":%d.125,"basis":"dry"}`, f.Next()%300), to); err != nil {
			f.T.Fatal(err)
		}
	default:
		return false
	}
	return true
}
