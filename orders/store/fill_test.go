package store_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"wellstowed/measure"
	"wellstowed/measure/stack"
	"wellstowed/orders"
	"wellstowed/orders/act"
	"wellstowed/orders/audits"
	"wellstowed/orders/cases"
	"wellstowed/orders/people"
	"wellstowed/orders/prices"
	"wellstowed/orders/yard"
	"wellstowed/testdata/fill"
)

// newFiller fills what the database takes.
func newFiller(t *testing.T) *fill.Filler {
	f := fill.New(t)
	f.Choices, f.Shape = choices, shape
	return f
}

// choices are what a type may hold where the database holds it to a list.
func choices(t reflect.Type) []string {
	switch t {
	case reflect.TypeFor[measure.Basis]():
		return []string{"ranked", "loose"}
	case reflect.TypeFor[yard.Seasoning]():
		return []string{"green", "seasoned", "kiln-dried"}
	case reflect.TypeFor[orders.Paper]():
		return []string{"a4"}
	case reflect.TypeFor[act.Units]():
		return []string{"metric"}
	case reflect.TypeFor[orders.PaymentMethod]():
		return []string{"cheque", "voucher"}
	case reflect.TypeFor[orders.SettleBy]():
		return []string{"money", "wood"}
	case reflect.TypeFor[orders.AgreedHow]():
		return []string{"writing", "word"}
	case reflect.TypeFor[yard.BatchEntryKind]():
		return []string{"recounted", "corrected", "used up"}
	case reflect.TypeFor[cases.EntryKind]():
		return []string{"reply", "claim", "answer", "office"}
	case reflect.TypeFor[stack.Party]():
		return []string{"seller", "buyer"}
	case reflect.TypeFor[cases.Remedy]():
		return []string{"together", "wood", "money", "disagree"}
	case reflect.TypeFor[cases.YesNo]():
		return []string{"no", "yes"}
	case reflect.TypeFor[audits.EntryKind]():
		return []string{"plan", "notice", "attendance", "hold", "item", "note"}
	case reflect.TypeFor[orders.ReceiptKind]():
		return []string{"settlement", "correction"}
	case reflect.TypeFor[prices.Kind]():
		return []string{"wood"}
	case reflect.TypeFor[people.State]():
		return []string{"in", "out"}
	case reflect.TypeFor[act.Role]():
		return []string{"owner", "driver", "auditor"}
	case reflect.TypeFor[people.Purpose]():
		return []string{"phone"}
	}
	return nil
}

// shape is a text of the shape that the database asks for, by the field's name.
func shape(f *fill.Filler, path string) string {
	switch name := path[strings.LastIndex(path, ".")+1:]; {
	case strings.HasSuffix(name, "Hash"), name == "Chain", name == "SHA256", name == "Previous":
		return fmt.Sprintf("%064x", f.Next())
	case name == "ID", strings.HasSuffix(name, "ID"), name == "Replaces", name == "Reverses", name == "SetAside", name == "Batch":
		return newID()
	case name == "Currency":
		return "CAD" // one on an order
	case name == "Seal":
		return fmt.Sprintf("%014d", f.Next())
	}
	return ""
}
