package receipts

import (
	"errors"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// textsOf are the texts in a value that somebody may have typed, by their places.
func textsOf(path string, v reflect.Value, found map[string]reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			textsOf(path, v.Elem(), found)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() {
				textsOf(path+"."+f.Name, v.Field(i), found)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			textsOf(path+"["+strconv.Itoa(i)+"]", v.Index(i), found)
		}
	case reflect.String:
		if v.Type() == reflect.TypeFor[string]() && v.String() != "" {
			found[path] = v
		}
	}
}

// Letters that a receipt lacks are never left out in silence: each text with some is
// refused, with what it says and a field, or it is one that the paper doesn't carry.
func TestNoLetterIsLeftOutInSilence(t *testing.T) {
	p := plainPainter(t)
	underSome(t, 0, func(t *testing.T, set orders.RuleSet, units act.Units, paper orders.Paper) {
		for _, kind := range []orders.ReceiptKind{orders.DeliveryReceipt, orders.CorrectionReceipt, orders.SettlementReceipt} {
			r := filledReceipt(t, kind, set, units, paper)
			paint := func() ([]byte, error) { return p.Receipt(r, sealText) }
			requireRefused(t, p, reflect.ValueOf(&r), paint, 25)
		}
	})
}

func requireRefused(t *testing.T, p *Painter, of reflect.Value, paint func() ([]byte, error), least int) {
	t.Helper()
	whole, err := paint()
	require.NoError(t, err)
	want := asPainted(readPDF(t, p, whole))
	texts := map[string]reflect.Value{}
	textsOf("", of, texts)
	refused := 0
	for path, text := range texts {
		if strings.HasSuffix(path, ".Zone") || strings.HasSuffix(path, ".Language") {
			continue // the program's own: one it doesn't know is another
		}
		was := text.String()
		text.SetString("木村")
		pdf, err := paint()
		text.SetString(was)
		if err == nil {
			require.Equal(t, want, asPainted(readPDF(t, p, pdf)), "%s is not refused, and the paper says something else", path)
			continue
		}
		var invalid *act.Error
		if !errors.As(err, &invalid) || len(invalid.Fields) == 0 || invalid.Fields[0].Code != "unprintable" {
			continue // a code that nothing knows
		}
		refused++
		require.Contains(t, invalid.Fields[0].Got, "木村", path)
		require.NotEmpty(t, invalid.Fields[0].Field, path)
	}
	require.GreaterOrEqual(t, refused, least)
}

// So it is on every other paper that carries what people typed: refused by the field's
// name, or not on that paper at all.
func TestNoLetterIsLeftOutOfOtherPapers(t *testing.T) {
	p := plainPainter(t)
	f := sampleCase(t, "us-model", act.Imperial)
	paint := func() ([]byte, error) { return p.Case(f, orders.Letter, printedAt) }
	a := &f.Case.Account
	requireRefused(t, p, reflect.ValueOf(&a.Seller), paint, 3)
	requireRefused(t, p, reflect.ValueOf(&a.Buyer), paint, 2)
	requireRefused(t, p, reflect.ValueOf(&f.Case.Entries[0]), paint, 1)
	s := sampleSheet(t, orders.Letter, shortTally)
	requireRefused(t, p, reflect.ValueOf(&s), func() ([]byte, error) { return p.Sheet(s) }, 8)
	h, shop := samplePayments(), orders.Shop{Name: "Hollow Road Firewood", Address: "18 Hollow Road", Phone: "802 555 0142", Paper: orders.Letter, Units: act.Imperial, Language: "en", RuleSet: "us-model"}
	requireRefused(t, p, reflect.ValueOf(&h.Order.Customer), func() ([]byte, error) { return p.Payments(h, shop, h.Payments[0].On) }, 2)
	requireRefused(t, p, reflect.ValueOf(&shop), func() ([]byte, error) { return p.Payments(h, shop, h.Payments[0].On) }, 3)
}
