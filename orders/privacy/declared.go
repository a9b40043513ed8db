package privacy

import (
	"reflect"
	"strings"
	"unicode"
)

// A Fate is what becomes of a text when names are erased. Each text that is stored declares its own
// beside itself, by the tag "names" of its field; what a field declares holds for all in it.
type Fate string

// The fates: it is taken out, or why it stays.
const (
	IsErased Fate = "erased"
	OfShop   Fate = "shop"    // the shop's own
	OfSeller Fate = "seller"  // the seller that was audited; named on the page of erasing
	OfStaff  Fate = "staff"   // who worked with the program; named there
	OfYard   Fate = "yard"    // wood, trucks and trailers; named there
	IsSealed Fate = "sealed"  // under a receipt's seal; named there
	OfSale   Fate = "sale"    // what was sold and measured, no words about a person
	Written  Fate = "program" // chosen or made by the program
)

// Fates are all there are.
func Fates() []Fate {
	return []Fate{IsErased, OfShop, OfSeller, OfStaff, OfYard, IsSealed, OfSale, Written}
}

// Declared is what a field declares, or the one that it is in; empty where neither does.
func Declared(f reflect.StructField, in Fate) Fate {
	if in != "" {
		return in
	}
	return Fate(f.Tag.Get("names"))
}

// Columns are the columns that hold the texts of a type that are erased: the names of its fields in
// lower case, words apart.
func Columns[T any]() (names []string) {
	return erased(reflect.TypeFor[T](), func(f reflect.StructField) string {
		if f.Type.Kind() != reflect.String {
			return ""
		}
		return lowered(f.Name)
	})
}

// Members are the members of a type as JSON that are erased.
func Members[T any]() []string {
	return erased(reflect.TypeFor[T](), func(f reflect.StructField) string {
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		return strings.TrimPrefix(name, "-")
	})
}

func erased(t reflect.Type, named func(reflect.StructField) string) (names []string) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			names = append(names, erased(f.Type, named)...)
		} else if name := named(f); name != "" && Declared(f, "") == IsErased {
			names = append(names, name)
		}
	}
	return names
}

func lowered(name string) string {
	var b strings.Builder
	for i, r := range name {
		if unicode.IsUpper(r) && i > 0 {
			b.WriteByte('_')
		}
		b.WriteRune(unicode.ToLower(r))
	}
	return b.String()
}
