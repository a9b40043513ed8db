// Package form turns what a browser sends into requests and back. Browser strings
// stay strings here; what they mean is decided by orders and measure.
package form

import (
	"reflect"
	"slices"
	"strconv"

	"wellstowed/measure"
)

// Values reads one field of a form as sent; empty when it was not.
type Values func(name string) string

// Read fills a request from a form whose fields bear its JSON names, those of a struct
// embedded in it too. It gives the faults of fields that are not text; there are few and
// no person types them.
func Read[T any](get Values) (T, []*measure.InputError) {
	var request T
	var faults []*measure.InputError
	v := reflect.ValueOf(&request).Elem()
	for _, f := range fields(v.Type()) {
		name, into := f.Tag.Get("json"), v.FieldByIndex(f.Index)
		text := get(name)
		switch into.Kind() {
		case reflect.String:
			into.SetString(text)
		case reflect.Int64:
			n, err := strconv.ParseInt(text, 10, 64)
			if err != nil && text != "" {
				faults = append(faults, &measure.InputError{
					Field: name, Code: "not-a-number", Got: text,
					Reason:  measure.Say("this is not a whole number"),
					Accepts: measure.Say("a whole number such as 3"),
				})
			}
			into.SetInt(n)
		}
	}
	return request, faults
}

// Names are the names of a request's fields.
func Names[T any]() []string {
	var names []string
	for _, f := range fields(reflect.TypeFor[T]()) {
		names = append(names, f.Tag.Get("json"))
	}
	return names
}

// fields are those of a request, and of a struct embedded in it.
func fields(t reflect.Type) []reflect.StructField {
	return slices.DeleteFunc(reflect.VisibleFields(t), func(f reflect.StructField) bool { return f.Anonymous })
}

// Sent is a field of a form with its value.
type Sent struct{ Name, Value string }

// Filled are the fields of a request that are not empty, as a form sends them.
func Filled[T any](request T) []Sent {
	var sent []Sent
	v := reflect.ValueOf(request)
	for _, f := range fields(v.Type()) {
		from := v.FieldByIndex(f.Index)
		if from.IsZero() {
			continue
		}
		text := from.String()
		if from.Kind() == reflect.Int64 {
			text = strconv.FormatInt(from.Int(), 10)
		}
		sent = append(sent, Sent{f.Tag.Get("json"), text})
	}
	return sent
}

// Differences are the text fields of now that differ from typed, by JSON name:
// what somebody else saved meanwhile.
func Differences[T any](typed, now T) map[string]string {
	a, b := reflect.ValueOf(typed), reflect.ValueOf(now)
	differ := map[string]string{}
	for i := range a.NumField() {
		if a.Field(i).Kind() == reflect.String && a.Field(i).String() != b.Field(i).String() {
			differ[a.Type().Field(i).Tag.Get("json")] = b.Field(i).String()
		}
	}
	return differ
}
