package receipts

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"wellstowed/orders"
	"wellstowed/orders/act"
)

// Papers are set in four sizes of type, besides one number or verdict in a larger one with
// what is to pay beside it, and nothing is smaller than 8.5 points.
func TestPapersAreSetInFewSizes(t *testing.T) {
	p := plainPainter(t)
	text := []float64{8.5, 10.5, 12.5, 15}
	for title, pdf := range everyPaper(t, p) {
		large := map[float64]int{}
		for _, a := range readPDF(t, p, pdf) {
			if slices.Contains(text, a.size) {
				continue
			}
			require.True(t, a.size >= 24 && a.size <= 44, "%s: “%s” in %v points", title, a.text, a.size)
			large[a.size]++
		}
		require.LessOrEqual(t, len(large), 2, title)
	}
}

// Whoever copies the text of a receipt gets it in the order that it is read in.
func TestAReceiptIsCopiedInReadingOrder(t *testing.T) {
	pdf, err := newPainter(t).Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	for how, text := range map[string]string{"raw": inOrder(t, pdf), "layout": textOf(t, pdf)} {
		from := 0
		for _, next := range []string{
			"Hollow Road Firewood", "Delivered: 9 March 2026", "Ida Thornquist", "(128 ft³)", "Sugar maple", "Price is for", "PRICE",
			"Delivery", "Total", "LOOKS LIKE", "From the front", "Room needed", "CHECK IT YOURSELF", "Printed name", "Signature", "A stack can topple", sealText,
		} {
			at := strings.Index(text[from:], next)
			require.GreaterOrEqual(t, at, 0, "%s: “%s” isn’t after what is read before it in: %s", how, next, text)
			from += at
		}
	}
}

// On a receipt alone, without a word around it, stand how much wood it is and what is to pay,
// larger than all else, and no figure is parted from its unit at the end of a line.
func TestAReceiptSaysHowMuchFirst(t *testing.T) {
	p := plainPainter(t)
	pdf, err := p.Receipt(sampleReceipt(orders.Letter), sealText)
	require.NoError(t, err)
	texts := readPDF(t, p, pdf)
	slices.SortStableFunc(texts, func(a, b painted) int { return int(b.size - a.size) })
	assert.Equal(t, []string{"1 cord", "$325.00"}, []string{texts[0].text, texts[1].text})
	for _, text := range texts {
		assert.NotContains(t, []string{"EDT", "EST", "cord", "in"}, text.text)
	}
}

// A buyer’s case is the same paper all day.
func TestACaseIsTheSamePaperAllDay(t *testing.T) {
	p := newPainter(t)
	at := time.Date(2026, 3, 12, 15, 0, 0, 0, time.UTC)
	paint := func(at time.Time) []byte {
		pdf, err := p.Case(sampleCase(t, "us-model", act.Imperial), orders.Letter, at)
		require.NoError(t, err)
		return pdf
	}
	require.Equal(t, paint(at), paint(at.Add(5*time.Hour)))
	require.NotEqual(t, paint(at), paint(at.Add(24*time.Hour)))
}

// What belongs to a figure stays on its line.
func TestUnitsStayWithTheirFigures(t *testing.T) {
	w := blankPaper(t, newPainter(t))
	for text, want := range map[string][]string{
		"Issued 9 March 2026, 15:05 EDT":    {"Issued 9 March 2026,", "15:05 EDT"},
		"Delivered 1 1/3 cords (171 ft³)":   {"Delivered", "1 1/3 cords (171 ft³)"},
		"about 48 1/2 in":                   {"about", "48 1/2 in"},
		"of 9 March 2026, seal " + sealText: {"of 9 March 2026,", "seal " + sealText},
		"sealed 1D3P-JFQN-7XHJ.":            {"sealed 1D3P-JFQN-7XHJ."},
	} {
		longest := 0.0
		for _, line := range want {
			longest = max(longest, w.measure(mainFace(), line))
		}
		require.Equal(t, want, w.wrap(mainFace(), text, longest+0.1), text)
	}
}

// The seller's tax number stands under the address, as it was typed.
func TestATaxNumberStandsUnderTheAddress(t *testing.T) {
	p := plainPainter(t)
	r := sampleReceipt(orders.Letter)
	r.Facts.VendorTax = "GB 123 4567 89"
	pdf, err := p.Receipt(r, sealText)
	require.NoError(t, err)
	texts := readPDF(t, p, pdf)
	number, address := matching(texts, `^Tax number: GB 123 4567 89$`), matching(texts, `^18 Hollow Road`)
	require.Len(t, number, 1)
	require.Less(t, number[0].y, address[0].y)
	require.InDelta(t, address[0].x, number[0].x, 0.1)
}
