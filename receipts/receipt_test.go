package receipts

import (
	"bytes"
	"errors"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"wellstowed/measure"
	"wellstowed/orders"
	"wellstowed/orders/act"
)

func TestReceiptHoldsWhatTheLawAndTheBuyerNeed(t *testing.T) {
	for _, paper := range []orders.Paper{orders.Letter, orders.A4} {
		t.Run(string(paper), func(t *testing.T) {
			pdf, err := newPainter(t).Receipt(sampleReceipt(paper), sealText)
			require.NoError(t, err)
			sound(t, pdf)
			require.Equal(t, "1", pages(t, pdf))
			text := textOf(t, pdf)
			for _, want := range []string{
				"Delivery receipt 12", "Hollow Road Firewood", "18 Hollow Road", "Northfield, VT 05663",
				"Ida Thornquist", "4 Mill Lane", "Delivered: 9 March 2026", "Order: 31", "15:05 EDT",
				"1 1/3 cords (171 ft³)", "1 cord (128 ft³)", "16 in", "not measured",
				"$320.00", "$45.00", "$60.00", "$425.00", "$100.00", "$325.00",
				"From above", "From the front", "A stack can topple",
				"Model method-of-sale regulation, edition 2016", "not legal advice", sealText,
				"Printed name", "Signature",
			} {
				require.Contains(t, text, want)
			}
			require.NotContains(t, text, "±")
			require.NotContains(t, text, "P =")
		})
	}
}

func TestReceiptNeedsNoStorageAndNoTally(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Storage = nil
	pdf, err := newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	text := textOf(t, pdf)
	require.NotContains(t, text, "SUGGESTED STORAGE")
	require.NotContains(t, text, "Measured")
	require.Contains(t, text, "local fire code")
}

func TestReceiptShowsAMeasuredVolume(t *testing.T) {
	r := sampleReceipt(orders.A4)
	r.Facts.Units = act.Metric
	measured := ranked(3_700 * measure.Litre)
	r.Facts.Measured = &measured
	pdf, err := newPainter(t).Receipt(r, sealText)
	require.NoError(t, err)
	text := textOf(t, pdf)
	require.Contains(t, text, "Measured before delivery")
	require.Contains(t, text, "3.7 m³ stacked")
	require.Equal(t, "1", pages(t, pdf))
}

// The PDF that is stored must be the one that would be painted again.
func TestSameDataSameBytes(t *testing.T) {
	p := newPainter(t)
	want, err := p.Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	wantSheet, err := p.Sheet(sampleSheet(t, orders.A4, unsettledTally))
	require.NoError(t, err)
	sheet := sampleSheet(t, orders.A4, unsettledTally)
	var all sync.WaitGroup
	for range 6 {
		all.Go(func() {
			got, err := p.Receipt(sampleReceipt(orders.Letter), sealText)
			if err != nil || !bytes.Equal(want, got) {
				t.Errorf("a receipt painted beside others differs (%v)", err)
			}
			got, err = p.Sheet(sheet)
			if err != nil || !bytes.Equal(wantSheet, got) {
				t.Errorf("a sheet painted beside others differs (%v)", err)
			}
		})
	}
	all.Wait()
}

func TestLongTextsWrapAndStayOnThePage(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Vendor.Name = strings.Repeat("Firewood and Kindling of Long Hollow ", 6)
	r.Facts.Vendor.Address = strings.Repeat("Unbroken", 60)
	r.Purchaser.Address = strings.Repeat("a line of an address\n", 25)
	r.Facts.Species = strings.Repeat("hornbeam ", 55)
	r.Facts.Price.Fees = append(r.Facts.Price.Fees, orders.PriceLine{
		Kind: orders.OtherLine, Words: strings.Repeat("carrying it up the steps ", 18), Amount: usd(1200),
	})
	p := newPainter(t)
	p.plain = true
	pdf, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	sound(t, pdf)
	text := textOf(t, pdf)
	require.Equal(t, 55, strings.Count(text, "hornbeam"))
	require.Equal(t, 18, strings.Count(text, "carrying"))
	require.Contains(t, text, "page 2 of")
	insidePage(t, pdf, 612, 792)
}

// insidePage reads where each text begins: no text starts off the page.
func insidePage(t *testing.T, pdf []byte, width, height float64) {
	t.Helper()
	places := textPlaces(t, pdf)
	require.NotEmpty(t, places)
	for _, at := range places {
		require.True(t, at[0] >= 18 && at[0] < width-30, "a text begins at x = %v pt", at[0])
		require.True(t, at[1] >= 18 && at[1] < height-18, "a text begins at y = %v pt", at[1])
	}
}

func TestOtherAlphabetsPrint(t *testing.T) {
	for _, name := range []string{"Łukasz Żółć", "Ελένη Παππά", "Ольга Щукина", "Zoë O’Neill", "Jose\u0301 Nuñez"} {
		r := sampleReceipt(orders.Letter)
		r.Purchaser.Name = name
		p := newPainter(t)
		require.Empty(t, p.Printable(name), name)
		pdf, err := p.Receipt(r, sealText)
		require.NoError(t, err, name)
		require.Contains(t, textOf(t, pdf), tidy(name))
	}
}

func TestWhatCannotBePrintedIsNamed(t *testing.T) {
	for _, row := range []struct {
		name, text string
		missing    []rune
		said       string
	}{
		{"emoji, past U+FFFF", "Ida 🔥 Thorn", []rune{'🔥'}, "U+1F525"},
		{"Chinese, once each", "木木材", []rune{'木', '材'}, "U+6728"},
		{"Arabic", "علي", []rune{'ع', 'ل', 'ي'}, "U+0639"},
		{"no UTF-8", "a\xffb", []rune{'\uFFFD'}, "U+FFFD"},
		{"control character", "a\x07b", []rune{7}, "U+0007"},
	} {
		t.Run(row.name, func(t *testing.T) {
			p := newPainter(t)
			require.Equal(t, row.missing, p.Printable(row.text))
			r := sampleReceipt(orders.Letter)
			r.Purchaser.Name = row.text
			_, err := p.Receipt(r, sealText)
			var e *act.Error
			require.ErrorAs(t, err, &e)
			require.Equal(t, act.Invalid, e.Kind)
			require.Len(t, e.Fields, 1)
			require.Equal(t, "purchaser.name", e.Fields[0].Field)
			require.Contains(t, e.Fields[0].Error(), row.said)
		})
	}
}

func TestTwoCurrenciesAreRefused(t *testing.T) {
	r := sampleReceipt(orders.Letter)
	r.Facts.Deposit.Currency = "CAD"
	_, err := newPainter(t).Receipt(r, sealText)
	require.Equal(t, act.Invalid, act.KindOf(err))
}

// barred are the terms that model law bars from any paper (NIST Handbook 130,
// Method of Sale, section 2.4.4), with the trade's others of their kind.
var barred = regexp.MustCompile(`(?i)\b(face cords?|racks?|ricks?|piles?|truck ?loads?)\b`)

func TestNoPaperPrintsABarredTerm(t *testing.T) {
	p := newPainter(t)
	receipt, err := p.Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	said := strings.Replace(shortTally, `"1 cord"`, `"three face cords of 16 inch"`, 1)
	sheet, err := p.Sheet(sampleSheet(t, orders.Letter, said))
	require.NoError(t, err)
	form, err := p.BlankTally("en", orders.Letter, act.Imperial)
	require.NoError(t, err)
	for _, pdf := range [][]byte{receipt, sheet, form} {
		require.NotRegexp(t, barred, textOf(t, pdf))
	}
}

func TestABarredTermInFreeTextIsRefused(t *testing.T) {
	p := newPainter(t)
	r := sampleReceipt(orders.Letter)
	r.Facts.Species = "oak, a face cord"
	_, err := p.Receipt(r, sealText)
	require.Equal(t, act.Invalid, act.KindOf(err))
	s := sampleSheet(t, orders.Letter, shortTally)
	s.Tally.Condition = "green truckload"
	_, err = p.Sheet(s)
	var e *act.Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, "tally.condition", e.Fields[0].Field)
	r = sampleReceipt(orders.Letter)
	r.Facts.Vendor.Name = "Rack and Rick Firewood" // a firm's name is its own
	_, err = p.Receipt(r, sealText)
	require.NoError(t, err)
}

// paintAnything paints arbitrary texts: they print or are refused by name.
func paintAnything(t interface{ Fatalf(string, ...any) }, p *Painter, name, address, words, currency string) {
	r := sampleReceipt(orders.A4)
	r.Purchaser.Name, r.Purchaser.Address = name, address
	r.Facts.Species, r.Facts.Vendor.Phone = words, words
	r.Facts.Price.Fees = []orders.PriceLine{{Kind: orders.OtherLine, Words: words, Amount: usd(500)}}
	r.Facts.Price.Wood.Currency = currency
	pdf, err := p.Receipt(r, sealText)
	var refused *act.Error
	switch {
	case err == nil && !bytes.HasPrefix(pdf, []byte("%PDF-")):
		t.Fatalf("no PDF and no error")
	case err != nil && (!errors.As(err, &refused) || refused.Kind != act.Invalid || len(refused.Fields) == 0):
		t.Fatalf("refused without naming a field: %v", err)
	}
}

func TestAnyTextPrintsOrIsRefused(t *testing.T) {
	p := newPainter(t)
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringOf(rapid.RuneFrom([]rune("aé жΩ\n\t()\\½\u0301\uFFFF\U00010000"))))
		paintAnything(t, p, text.Draw(t, "name"), text.Draw(t, "address"), text.Draw(t, "words"), "USD")
	})
}

func FuzzRender(f *testing.F) {
	f.Add("Ida Thornquist", "4 Mill Lane\nRoxbury", "oak", "USD")
	f.Add("a\xffb", "\x00\r\n\t", "\U00010000\uFFFF", "")
	f.Add("e\u0301\u0301", strings.Repeat("w", 600), "( \\ )", "no such code")
	p, err := New()
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, name, address, words, currency string) {
		paintAnything(t, p, name, address, words, currency)
	})
}
