package measure

import (
	"errors"
	"reflect"
	"strings"
	"testing"
)

// seedTexts adds the texts of both tables.
func seedTexts(f *testing.F) {
	for _, name := range []string{"good.csv", "bad.csv"} {
		for _, row := range table(f, name) {
			f.Add(row[0])
		}
	}
}

// mustBeInputError fails where err is not an *InputError that says why.
func mustBeInputError(t *testing.T, err error) {
	t.Helper()
	var fault *InputError
	if !errors.As(err, &fault) || fault.Code == "" || fault.Reason.Key == "" || fault.Accepts.Key == "" {
		t.Fatalf("%#v isn't an error a person can act on", err)
	}
}

func FuzzParseLength(f *testing.F) {
	seedTexts(f)
	f.Fuzz(func(t *testing.T, text string) {
		l, err := ParseLength(text)
		if err != nil {
			mustBeInputError(t, err)
			return
		}
		if l < 0 || l > MaxLength {
			t.Fatalf("%q was read as %d nm", text, int64(l))
		}
		if back, err := ParseLength(l.String()); err != nil || back != l {
			t.Fatalf("%q is %q and that is %d, %v", text, l, int64(back), err)
		}
		if in, err := ParseLengthIn(text, Metre); err != nil || in != l {
			t.Fatalf("%q is %q, and %q in a field of metres, %v", text, l, in, err)
		}
	})
}

func FuzzParseVolume(f *testing.F) {
	seedTexts(f)
	f.Fuzz(func(t *testing.T, text string) {
		v, err := ParseVolume(text)
		if err != nil {
			mustBeInputError(t, err)
			return
		}
		if v < 0 || v > MaxVolume {
			t.Fatalf("%q was read as %d nL", text, int64(v))
		}
		if back, err := ParseVolume(v.String()); err != nil || back != v {
			t.Fatalf("%q is %q and that is %d, %v", text, v, int64(back), err)
		}
	})
}

func FuzzParseQuantity(f *testing.F) {
	seedTexts(f)
	f.Fuzz(func(t *testing.T, text string) {
		said, err := ParseQuantity(text)
		if err != nil {
			mustBeInputError(t, err)
			return
		}
		q := said.Quantity
		if q.Volume <= 0 || q.Volume > MaxQuantity || said.Words != text {
			t.Fatalf("%q was read as %+v", text, said)
		}
		if back, err := ParseQuantity(q.String()); err != nil || back.Quantity != q || back.Barred != "" {
			t.Fatalf("%q is %q and that is %+v, %v", text, q, back, err)
		}
	})
}

// What is read where it is refused when unclear is read the same where it is read back.
func FuzzParseQuantityReadBack(f *testing.F) {
	seedTexts(f)
	f.Fuzz(func(t *testing.T, text string) {
		strict, hard := ParseQuantity(text)
		loose, err := Terms{ReadBack: true}.ParseQuantity(text)
		if err != nil {
			mustBeInputError(t, err)
			if hard == nil {
				t.Fatalf("%q is read as %+v, and not where it is read back: %v", text, strict, err)
			}
			return
		}
		if q := loose.Quantity; q.Volume <= 0 || q.Volume > MaxQuantity || loose.Words != text {
			t.Fatalf("%q was read as %+v", text, loose)
		}
		if hard == nil && !reflect.DeepEqual(strict, loose) {
			t.Fatalf("%q is read as %+v, and as %+v where it is read back", text, strict, loose)
		}
		for _, rest := range loose.Rest {
			if !strings.Contains(text, rest) {
				t.Fatalf("%q is not in %q", rest, text)
			}
		}
	})
}

// Where points may part thousands nothing is read that isn't read the same elsewhere.
func FuzzParseWherePointsPart(f *testing.F) {
	seedTexts(f)
	f.Fuzz(func(t *testing.T, text string) {
		points := Terms{Points: true}
		if l, err := points.ParseLength(text, 0); err != nil {
			mustBeInputError(t, err)
		} else if plain, err := ParseLength(text); err != nil || plain != l {
			t.Fatalf("%q is %s, and %s elsewhere, %v", text, l, plain, err)
		}
		if said, err := points.ParseQuantity(text); err != nil {
			mustBeInputError(t, err)
		} else if plain, err := ParseQuantity(text); err != nil || !reflect.DeepEqual(plain, said) {
			t.Fatalf("%q is %+v, and %+v elsewhere, %v", text, said, plain, err)
		}
	})
}
